"""Networks: against SciPy's root finder, by symmetry, and at their limits."""

from collections.abc import Callable, Sequence
from math import inf
from random import Random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from service.engineering import along_rail, spread_percent
from service.hydraulics import Fluid, Passage, drop_pa, share_flow
from tests.support import network
from tests.support.network import Edge, solve_network

PETROL = Fluid(745, 0.41e-3)
THICK = Fluid(880, 0.05)
M3_S = 1e-3 / 3600


def pipe(bore_mm: float, length_m: float, loss_k: float = 0.0) -> tuple[Passage, ...]:
    return (Passage(bore_mm * 1e-3, length_m, loss_k, 1.5e-6),)


def lost_kpa(edge: Edge, l_h: float) -> float:
    lost = sum(drop_pa(passage, PETROL, abs(l_h) * M3_S) for passage in edge.passages) / 1e3
    return lost if l_h >= 0 else -lost


def by_scipy(edges: Sequence[Edge], held: dict[str, float], drawn: dict[str, float], start: float) -> list[float]:
    """Flows by fsolve: every flow and every free pressure is an unknown, every edge and free node an equation."""
    free = sorted({node for edge in edges for node in (edge.start, edge.end)} - held.keys())

    def unbalanced(unknown: np.ndarray) -> list[float]:
        flows = unknown[: len(edges)]
        kpa = held | dict(zip(free, unknown[len(edges) :], strict=True))
        loops = [kpa[x.start] - kpa[x.end] - lost_kpa(x, q) for x, q in zip(edges, flows, strict=True)]
        nodes = []
        for node in free:
            entering = sum(q for x, q in zip(edges, flows, strict=True) if x.end == node)
            leaving = sum(q for x, q in zip(edges, flows, strict=True) if x.start == node)
            nodes.append((entering - leaving - drawn.get(node, 0.0)) / 100)
        return [*loops, *nodes]

    guess = [start] * len(edges) + [max(held.values())] * len(free)
    found, _, ok, message = fsolve(unbalanced, guess, xtol=1e-12, full_output=True)
    assert ok == 1, message
    return [float(x) for x in found[: len(edges)]]


NETWORKS: dict[str, tuple[list[Edge], dict[str, float], dict[str, float]]] = {
    "two pipes side by side": (
        [Edge("pump", "rail", pipe(8, 2)), Edge("pump", "rail", pipe(6, 3, 5))],
        {"pump": 400.0},
        {"rail": 300.0},
    ),
    "a tee to both banks": (
        [
            Edge("pump", "tee", pipe(9, 3)),
            Edge("tee", "one", pipe(8, 0.6, 2)),
            Edge("tee", "two", pipe(8, 0.9, 2)),
            Edge("one", "two", pipe(6, 0.4)),
        ],
        {"pump": 400.0},
        {"one": 150.0, "two": 220.0},
    ),
    "two rails with a link and two feeds": (
        [
            Edge("pump", "one", pipe(8, 2)),
            Edge("pump", "two", pipe(6, 2)),
            Edge("one", "far one", pipe(15, 0.4)),
            Edge("two", "far two", pipe(15, 0.4)),
            Edge("far one", "far two", pipe(7, 0.5, 3)),
        ],
        {"pump": 450.0},
        {"one": 60.0, "far one": 70.0, "two": 120.0, "far two": 90.0},
    ),
    "two tanks at different pressures": (
        [Edge("high", "rail", pipe(8, 2)), Edge("low", "rail", pipe(8, 2)), Edge("rail", "end", pipe(8, 1))],
        {"high": 400.0, "low": 396.0},
        {"end": 400.0},
    ),
}


@pytest.mark.published
@pytest.mark.parametrize(("edges", "held", "drawn"), NETWORKS.values(), ids=NETWORKS.keys())
def test_scipy_finds_the_same(edges: list[Edge], held: dict[str, float], drawn: dict[str, float]) -> None:
    """Source: `scipy.optimize.fsolve` on every mass and energy balance at once."""
    found = solve_network(edges, held, drawn, PETROL)
    assert found.flows_l_h == pytest.approx(by_scipy(edges, held, drawn, 120.0), rel=1e-5, abs=1e-4)


@pytest.mark.published
def test_parallel_pipes_share_as_told_elsewhere() -> None:
    """Source: the equal drop of parallel pipes, White, section 6.10: `share_flow` solves it by another way."""
    edges, held, drawn = NETWORKS["two pipes side by side"]
    drops = [lambda l_h, edge=edge: lost_kpa(edge, l_h) for edge in edges]
    assert solve_network(edges, held, drawn, PETROL).flows_l_h == pytest.approx(share_flow(drops, 300.0), rel=1e-6)


def test_pipes_one_after_the_other() -> None:
    """The same flow through all, their drops added up."""
    edges = [Edge("a", "b", pipe(8, 2)), Edge("c", "b", pipe(6, 1)), Edge("c", "d", pipe(7, 1))]
    found = solve_network(edges, {"a": 300.0}, {"d": 120.0}, PETROL)
    assert found.flows_l_h == (120.0, -120.0, 120.0)
    assert found.kpa["d"] == pytest.approx(300 - sum(lost_kpa(edge, 120) for edge in edges), abs=1e-6)


def test_pipes_without_loss_share_alike() -> None:
    """Nothing tells them apart."""
    edges = [Edge("a", "b", ()), Edge("a", "b", ()), Edge("a", "b", ())]
    assert solve_network(edges, {"a": 1.0}, {"b": 90.0}, PETROL).flows_l_h == pytest.approx((30.0, 30.0, 30.0))


def test_a_loop_that_cannot_close_stays_at_its_jump() -> None:
    """Between laminar and turbulent no flow has the drop asked for: mass still balances, the gap is the jump's."""
    bore, pipes = 8.0, pipe(8.0, 2)
    edge = 2040 * np.pi / 4 * bore * 1e-3 * PETROL.viscosity_pa_s / PETROL.density_kg_m3 / M3_S
    laminar, turbulent = (lost_kpa(Edge("a", "b", pipes), edge * x) for x in (1 - 1e-9, 1 + 1e-9))
    edges = [Edge("a", "b", pipes), Edge("c", "b", pipes)]
    held = {"a": 100.0 + (laminar + turbulent) / 2, "b": 100.0, "c": 100.0}
    found = solve_network(edges, held, {}, PETROL)
    assert found.flows_l_h[0] == pytest.approx(edge, rel=1e-6)
    assert found.flows_l_h[1] == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: solve_network([Edge("a", "b", ())], {}, {}, PETROL),
        lambda: solve_network([Edge("a", "a", ())], {"a": 1}, {}, PETROL),
        lambda: solve_network([Edge("b", "c", ())], {"a": 1}, {}, PETROL),
        lambda: solve_network([], {"a": 1}, {"b": 2}, PETROL),
        lambda: along_rail(0.015, 0, [], {10.0: 5.0}, PETROL),
        lambda: spread_percent([]),
        lambda: spread_percent([300, 0]),
        lambda: spread_percent([300, inf]),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What is no network is refused."""
    with pytest.raises(ValueError, match=r"must|need"):
        call()


def test_along_a_rail_the_far_injector_has_least() -> None:
    """Fed at one end pressure falls from injector to injector; fed in the middle both halves are alike."""
    drawn = dict.fromkeys((40.0, 120.0, 200.0, 280.0), 60.0)
    at_end = along_rail(0.008, 3e-6, [0.0], drawn, PETROL)
    assert list(at_end.values()) == sorted(at_end.values(), reverse=True)
    middle = along_rail(0.008, 3e-6, [160.0], drawn, PETROL)
    assert middle[40.0] == pytest.approx(middle[280.0])
    assert min(at_end.values()) < min(middle.values()) < 0
    both = along_rail(0.008, 3e-6, [0.0, 320.0], drawn, PETROL)
    assert both[40.0] == pytest.approx(both[280.0], abs=1e-9)
    assert min(both.values()) > min(at_end.values())


def test_a_rail_agrees_with_the_general_network() -> None:
    """On random rails, with several feeds, fuel put in, and places that coincide, to 1e-5 kPa."""
    rng = Random(20261129)
    for _ in range(100):
        places = rng.sample(range(0, 700, 10), 12)
        feeds = [float(x) for x in places[: rng.randint(1, 3)]]
        drawn = {float(x): rng.choice([0.0, 3.0, 40.0, 160.0, -25.0]) for x in places[2 : rng.randint(4, 12)]}
        rail = rng.uniform(5e-3, 2e-2), rng.choice([0.0, 3e-6, 2e-5]), feeds, drawn, rng.choice([PETROL, THICK])
        assert along_rail(*rail) == pytest.approx(network.along_rail(*rail), abs=1e-5, rel=0)


def test_spread() -> None:
    """By hand: sqrt(400) and sqrt(361) are 20 and 19: 1 over 19.5."""
    assert spread_percent([400, 361]) == pytest.approx(100 / 19.5)
    assert spread_percent([300]) == 0


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.floats(4, 12), st.floats(0.2, 4)), min_size=3, max_size=3),
    st.floats(1, 400),
    st.floats(1, 400),
    st.floats(1.01, 2),
    st.sampled_from([PETROL, THICK]),
)
def test_mass_balances_and_more_flow_costs_more(
    pipes: list[tuple[float, float]], one: float, two: float, more: float, fluid: Fluid
) -> None:
    """At each node what enters leaves; drawing more lowers every pressure."""
    edges = [Edge("pump", "one", pipe(*pipes[0])), Edge("pump", "two", pipe(*pipes[1]))]
    edges.append(Edge("one", "two", pipe(*pipes[2])))
    found = solve_network(edges, {"pump": 0.0}, {"one": one, "two": two}, fluid)
    first, second, across = found.flows_l_h
    assert first - across == pytest.approx(one, abs=1e-6)
    assert second + across == pytest.approx(two, abs=1e-6)
    larger = solve_network(edges, {"pump": 0.0}, {"one": one * more, "two": two * more}, fluid)
    assert min(larger.kpa.values()) <= min(found.kpa.values()) + 1e-9


def _random_network(rng: Random) -> tuple[list[Edge], dict[int, float], dict[int, float]]:
    """Up to eight nodes, all joined, with loops, tees, edges without loss, nodes held at different pressures."""
    nodes = rng.randint(2, 8)
    ends = [(rng.randrange(node), node) for node in range(1, nodes)]
    for _ in range(rng.randint(0, 6)):
        one, other = rng.sample(range(nodes), 2)
        ends.append((one, other))
    edges = []
    for one, other in ends:
        passages: tuple[Passage, ...] = ()
        for _ in range(rng.choice([0, 1, 1, 1, 2]) if one else 1):
            loss_k = rng.choice([0.0, 0.0, 3.0, 40.0])
            passages += (Passage(rng.uniform(2e-3, 2e-2), rng.choice([0.01, 0.3, 4.0]), loss_k, 1.5e-6),)
        edges.append(Edge(one, other, passages))
    held = {0: 400.0}
    lossy = {node for node in range(1, nodes) if all(x.passages for x in edges if node in (x.start, x.end))}
    for node in rng.sample(sorted(lossy), min(len(lossy), rng.choice([0, 0, 1]))):
        held[node] = rng.choice([400.0, 398.0, 300.0])
    drawn = {node: rng.choice([0.0, 1.0, 30.0, -20.0, 400.0]) for node in range(nodes) if node not in held}
    return edges, held, drawn


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(0, 10**9), st.sampled_from([PETROL, THICK]))
def test_any_network_is_in_balance(seed: int, fluid: Fluid) -> None:
    """At every free node what enters leaves; along every edge the pressures differ by what its flow loses, or, at the
    edge of laminar flow, by something between what it loses just before and just behind it."""
    edges, held, drawn = _random_network(Random(seed))
    found = solve_network(edges, held, drawn, fluid)
    for node, l_h in drawn.items():
        enters = sum(q for x, q in zip(edges, found.flows_l_h, strict=True) if x.end == node)
        leaves = sum(q for x, q in zip(edges, found.flows_l_h, strict=True) if x.start == node)
        assert enters - leaves == pytest.approx(l_h, abs=1e-6)
    for edge, flow in zip(edges, found.flows_l_h, strict=True):
        differ = found.kpa[edge.start] - found.kpa[edge.end]
        near = [flow - 2e-6 * abs(flow) - 1e-6, flow + 2e-6 * abs(flow) + 1e-6]
        least, most = (sum(_signed_kpa(x, q, fluid) for x in edge.passages) for q in near)
        slack = 1e-6 + 2e-9 * abs(flow)  # the leak that keeps edges without loss apart
        assert least - slack <= differ <= most + slack


def _signed_kpa(passage: Passage, l_h: float, fluid: Fluid) -> float:
    return float(np.sign(l_h)) * drop_pa(passage, fluid, abs(l_h) * M3_S) / 1e3


def test_nodes_joined_without_loss_have_one_pressure() -> None:
    """Held at two, they are refused, told by their pressures; held at one, the edge carries nothing."""
    edges = [Edge("a", "b", ()), Edge("b", "c", ()), Edge("c", "d", pipe(8, 1))]
    with pytest.raises(ValueError, match=r"without loss must be held at one pressure, not \[300\.0, 400\.0\]"):
        solve_network(edges, {"a": 400.0, "c": 300.0}, {"d": 100.0}, PETROL)
    assert solve_network(edges, {"a": 400.0, "c": 400.0}, {"d": 100.0}, PETROL).flows_l_h[2] == 100.0
