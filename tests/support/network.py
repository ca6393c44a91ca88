"""Flows and pressures in any network of pipes, with loops and tees: the reference for the straight rail."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from service.hydraulics.passage import TRANSITION_REYNOLDS, Fluid, Passage, drop_pa, reynolds
from service.hydraulics.sharing import root

Node = Any
"""Whatever names a node and can be told apart."""
Vector = npt.NDArray[np.floating[Any]]

_M3_S = 1e-3 / 3600
_KPA = 1e-3
_LEAK_KPA_PER_L_H = 1e-9  # of every edge, so that edges without loss share alike and no loop is without a slope
_EDGE_WIDTH = 1e-6  # of a flow: within so much below it the jump to turbulent friction is drawn as a slope
_BALANCED_KPA = 1e-8
_STEPS = 200


@dataclass(frozen=True, slots=True)
class Edge:
    """A pipe between two nodes; flow from start to end counts above 0.

    start: node [-], anything that can be told apart
    end: another node [-]
    passages: one after the other [m]; none: no loss
    """

    start: Node
    end: Node
    passages: tuple[Passage, ...]


@dataclass(frozen=True, slots=True)
class NetworkFlow:
    """A network in balance.

    flows_l_h: of each edge, in their order [L/h]
    kpa: of each node [kPa]
    """

    flows_l_h: tuple[float, ...]
    kpa: dict[Node, float]


def solve_network(
    edges: Sequence[Edge], held_kpa: Mapping[Node, float], drawn_l_h: Mapping[Node, float], fluid: Fluid
) -> NetworkFlow:
    """Give the flows and pressures at which all nodes balance and all loops close.

    That is where the energy of the flows is least, a convex function of them; so there is one solution. Where the
    friction of an edge jumps (laminar to turbulent) and no flow closes its loop, the edge stays at its jump.

    edges: the pipes [L/h, kPa]
    held_kpa: nodes whose pressure is held, at least one [kPa]
    drawn_l_h: what is taken out at nodes, below 0: put in [L/h]
    fluid: density [kg/m3] and dynamic viscosity [Pa*s]

    Raises ValueError without a held node, for an edge that leads back to its start, for a node that no held one
    reaches, and where edges without loss join nodes that are held at different pressures.
    Source: conservation of mass at nodes and of energy around loops, e.g. White, Fluid Mechanics, section 6.10;
    least energy, e.g. Collins et al., Management Science 24 (1978) 747 (from memory).
    """
    net = _Network(edges, held_kpa, drawn_l_h, fluid)
    flows = net.flows(_closed(net))
    return NetworkFlow(tuple(flows), net.pressures(flows))


def along_rail(
    bore_m: float,
    roughness_m: float,
    fed_mm: Sequence[float],
    drawn_l_h: Mapping[float, float],
    fluid: Fluid,
) -> dict[float, float]:
    """The pressures of `service.engineering.along_rail`, from the general network."""
    places = sorted({*fed_mm, *drawn_l_h})
    edges = [
        Edge(one, other, (Passage(bore_m, (other - one) * 1e-3, 0.0, roughness_m),)) for one, other in pairwise(places)
    ]
    found = solve_network(edges, dict.fromkeys(fed_mm, 0.0), drawn_l_h, fluid)
    return {place: found.kpa[place] for place in drawn_l_h}


class _Network:
    """A spanning tree of the edges, and those that close a loop on it; held nodes are one node, their own heads told.

    All flows follow from those of the closing edges.
    """

    def __init__(
        self, edges: Sequence[Edge], held_kpa: Mapping[Node, float], drawn_l_h: Mapping[Node, float], fluid: Fluid
    ) -> None:
        if not held_kpa:
            raise ValueError("a network needs a node whose pressure is held, not held_kpa {}")
        self._edges, self._held, self._fluid = edges, held_kpa, fluid
        self._drawn = {node: l_h for node, l_h in drawn_l_h.items() if node not in held_kpa}
        self._parents: dict[Node, tuple[int, Node]] = {}
        self._order: list[Node] = []
        self._span()
        lost = {node for edge in edges for node in (edge.start, edge.end)} | self._drawn.keys()
        lost -= self._parents.keys() | held_kpa.keys()
        if lost:
            raise ValueError(f"every node must be joined to one that is held, not {sorted(map(str, lost))}")
        _check_lossless(edges, held_kpa)
        in_tree = {index for index, _ in self._parents.values()}
        self.closing = [index for index in range(len(edges)) if index not in in_tree]
        self.scale = max((abs(l_h) for l_h in self._drawn.values()), default=0.0) or 1.0

    def _span(self) -> None:
        at: dict[Node, list[tuple[int, Node]]] = {}
        for index, edge in enumerate(self._edges):
            if edge.start == edge.end:
                raise ValueError(f"an edge must lead to another node, not from {edge.start} to {edge.end}")
            at.setdefault(edge.start, []).append((index, edge.end))
            at.setdefault(edge.end, []).append((index, edge.start))
        known = dict.fromkeys(self._held)
        queue = list(known)
        for node in queue:
            for index, other in at.get(node, ()):
                if other not in known:
                    known[other] = None
                    queue.append(other)
                    self._parents[other] = (index, node)
                    self._order.append(other)

    def flows(self, closing_l_h: Iterable[float]) -> list[float]:
        """The flow of every edge, given those that close loops: what is drawn is summed up from the leaves."""
        needs = dict(self._drawn)
        flows = [0.0] * len(self._edges)
        for index, l_h in zip(self.closing, closing_l_h, strict=True):
            flows[index] = l_h
            edge = self._edges[index]
            needs[edge.start] = needs.get(edge.start, 0.0) + l_h
            needs[edge.end] = needs.get(edge.end, 0.0) - l_h
        for node in reversed(self._order):
            index, parent = self._parents[node]
            need = needs.get(node, 0.0)
            needs[parent] = needs.get(parent, 0.0) + need
            flows[index] = need if self._edges[index].end == node else -need
        return flows

    def pressures(self, flows: Sequence[float]) -> dict[Node, float]:
        kpa = dict(self._held)
        for node in self._order:
            index, parent = self._parents[node]
            lost = self.lost_kpa(index, flows[index])
            kpa[node] = kpa[parent] - (lost if self._edges[index].end == node else -lost)
        return kpa

    def open_kpa(self, closing_l_h: Iterable[float]) -> Vector:
        """By how much each loop does not close: the slope of the energy over the flows of the closing edges."""
        flows = self.flows(closing_l_h)
        kpa = self.pressures(flows)
        return np.array(
            [
                self.lost_kpa(index, flows[index]) - kpa[self._edges[index].start] + kpa[self._edges[index].end]
                for index in self.closing
            ]
        )

    @cached_property
    def loops(self) -> Vector:
        """For each closing edge, a row, what a litre an hour through it adds to the flow of every edge."""
        still = np.array(self.flows(np.zeros(len(self.closing))))
        return np.array([np.array(self.flows(unit)) - still for unit in np.eye(len(self.closing))])

    def steepness(self, flows: Sequence[float]) -> Vector:
        """How fast the loss of each edge rises with its flow [kPa per L/h]."""
        return np.array([self._steepness(index, abs(l_h)) for index, l_h in enumerate(flows)])

    def _steepness(self, index: int, l_h: float) -> float:
        step = max(l_h * 1e-7, self.scale * 1e-9)
        return (self.lost_kpa(index, l_h + step) - self.lost_kpa(index, max(0.0, l_h - step))) / (step + min(step, l_h))

    def lost_kpa(self, index: int, l_h: float) -> float:
        """What an edge loses, with the sign of its flow."""
        lost = sum([_lost_pa(x, self._fluid, abs(l_h) * _M3_S) for x in self._edges[index].passages]) * _KPA
        return math.copysign(lost, l_h) + _LEAK_KPA_PER_L_H * l_h


def _check_lossless(edges: Sequence[Edge], held_kpa: Mapping[Node, float]) -> None:
    """Nodes joined without loss have one pressure."""
    joined: dict[Node, set[Node]] = {node: {node} for edge in edges for node in (edge.start, edge.end)}
    for edge in edges:
        if not edge.passages and joined[edge.start] is not joined[edge.end]:
            together = joined[edge.start] | joined[edge.end]
            joined.update(dict.fromkeys(together, together))
    for together in joined.values():
        kpas = {held_kpa[node] for node in together if node in held_kpa}
        if len(kpas) > 1:
            raise ValueError(f"nodes that are joined without loss must be held at one pressure, not {sorted(kpas)} kPa")


def _lost_pa(passage: Passage, fluid: Fluid, flow_m3_s: float) -> float:
    """The drop of a passage, its jump drawn as a steep slope just below the edge of laminar flow."""
    number = reynolds(passage, fluid, flow_m3_s)
    low = TRANSITION_REYNOLDS * (1 - _EDGE_WIDTH)
    if not low < number < TRANSITION_REYNOLDS:
        return drop_pa(passage, fluid, flow_m3_s)
    edge_m3_s = flow_m3_s * TRANSITION_REYNOLDS / number
    before, behind = (drop_pa(passage, fluid, edge_m3_s * part) for part in (1 - _EDGE_WIDTH, 1 + _EDGE_WIDTH))
    return before + (behind - before) * (number - low) / (TRANSITION_REYNOLDS - low)


def _closed(net: _Network) -> list[float]:
    """The flows of closing edges at which all loops close: Newton's way down the energy, each step just long enough.

    Along a step the slope of a convex energy never falls, so where it changes sign is found for sure.
    """
    at = np.zeros(len(net.closing))
    for _ in range(_STEPS if net.closing else 0):
        slope = net.open_kpa(at)
        if np.abs(slope).max() < _BALANCED_KPA:
            break
        curvature = net.loops @ np.diag(net.steepness(net.flows(at))) @ net.loops.T
        step = -np.linalg.solve(curvature, slope)
        at = at + _length(net, at, step) * step
    return [float(x) for x in at]


def _length(net: _Network, at: Vector, step: Vector) -> float:
    """How far along a step the energy is least."""

    def slope(length: float) -> float:
        return float(net.open_kpa(at + length * step) @ step)

    longest = 1.0
    while slope(longest) < 0:
        longest *= 2
    found: float = root(slope, 0.0, longest, rtol=1e-12, maxiter=500)
    return found
