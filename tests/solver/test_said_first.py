"""Of two things that could be said first, which one is: of dead ends, parts, chains, verdicts, numbers, layouts."""

from types import SimpleNamespace
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.domain.chains import Chain, Run
from service.domain.explanation import Change, Left, Stop, Verdict
from service.domain.findings import Facts, Finding, Rejection
from service.domain.orders import Cost
from service.domain.wishes import Range
from service.explain.explaining import _how_near as nearer_verdict
from service.solver.orders.nearest import Approach, nearest_first
from service.solver.orders.search import Tail, _foremost
from service.solver.search.diagnosis import furthest, furthest_of_each
from service.solver.search.finder import BillFinder
from service.solver.verdicts.case import Case
from service.solver.verdicts.changes import ChangeFinder
from service.solver.verdicts.spot_verdicts import _how_near as nearer_stops
from service.solver.verdicts.spot_verdicts import _StoppedPart
from service.solver.verdicts.stops import furthest_in, missing
from service.solver.why_not.numbers import _beside
from service.solver.why_not.search import MOST_TOGETHER, _filled, _shrunk
from service.solver.why_not.stories import told_first
from service.solver.why_not.truth import Universe
from service.usecases.resolve_request import resolve_request
from tests.support.builders import HOSE, catalog
from tests.support.engine import answer_from, edition
from tests.support.explaining import at, change, explain


def rejection(rule: str, sku: str = "A", spot: str | None = "left", **facts: object) -> Rejection:
    return Rejection(sku, spot, Finding(rule, facts))


# --- what came furthest ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        (("mates", "clearance"), 1),
        (("clearance", "mates"), 0),
        (("pressure", "clearance"), 0),
        (("flow", "supply"), 1),
        (("reach", "reach"), 0),
    ],
)
def test_the_rule_that_is_told_last_came_furthest(rules: tuple[str, str], told: int) -> None:
    """Of those alike the first; for each part and spot apart, and nothing of what is used there."""
    pair = [rejection(rule, number=place) for place, rule in enumerate(rules)]
    assert furthest(pair) is pair[told]
    others = [rejection("wish", "B"), rejection("wish", spot="right"), rejection("wish", spot=None)]
    found = furthest_of_each([*pair, *others], {("B", "left")})
    assert found == {("A", "left"): pair[told], ("A", "right"): others[1], ("A", None): others[2]}
    assert furthest([]) is None


ROOM: Facts = {"spot": "left", "standout_mm": 30.0, "axial_mm": 25.0, "axial_left_mm": -5.0}
WIDE: Facts = ROOM | {"width_mm": 40.0, "across_mm": 10.0, "across_left_mm": -30.0}


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        pytest.param(
            rejection("clearance", "B", **ROOM), rejection("clearance", "A", **WIDE), ["B+1"], id="less is missing"
        ),
        pytest.param(rejection("clearance", "B", **ROOM), rejection("clearance", "A", **ROOM), ["A+1"], id="by name"),
        pytest.param(
            rejection("clearance", "A", **ROOM), rejection("clearance", "A", **WIDE), ["A+0"], id="one part once"
        ),
        pytest.param(
            rejection("clearance", "B", axial_left_mm=-5.0, across_left_mm=-6.0),
            rejection("clearance", "A", axial_left_mm=-1.0, across_left_mm=-7.0),
            ["B+1"],
            id="the worse direction",
        ),
        pytest.param(rejection("clearance", **ROOM), rejection("fuel", "B"), ["B+0", "A+0"], id="what came further"),
        pytest.param(rejection("mates"), rejection("fuel", "B"), ["B+0"], id="what a wish could help"),
        pytest.param(rejection("mates"), rejection("closed", "B"), ["B+0", "A+0"], id="no wish could help"),
        pytest.param(rejection("supply", active=False), rejection("reach", "B"), ["B+0"], id="retired"),
        pytest.param(rejection("supply", active=True), rejection("reach", "B"), ["A+0", "B+0"], id="out of stock"),
        pytest.param(
            rejection("pressure", left_kpa=-20.0), rejection("pressure", "B", left_kpa=-5.0), ["B+1"], id="pressure"
        ),
        pytest.param(
            rejection("flow", "B", drop_kpa=45.0, limit_kpa=40.0),
            rejection("flow", "A", drop_kpa=30.0, limit_kpa=20.0),
            ["B+1"],
            id="drop",
        ),
        pytest.param(
            rejection("wish", "B", wish="max_price", lowest_price=10),
            rejection("wish", "A", wish="max_price", lowest_price=11),
            ["B+1"],
            id="price",
        ),
        pytest.param(
            rejection("reach", "B", standout_mm=9.0, min_mm=10.0, max_mm=20.0),
            rejection("reach", "A", standout_mm=90.0, min_mm=10.0, max_mm=20.0),
            ["A+1"],
            id="reach is not compared",
        ),
    ],
)
def test_which_part_a_story_tells_of(first: Rejection, second: Rejection, told: list[str]) -> None:
    """By rule, the one that came furthest first, the part that is nearest with how many others; in any order."""
    for pair in ((first, second), (second, first)):
        assert [f"{x.sku}+{x.others}" for x in told_first(pair)] == told


def test_of_one_part_the_nearest_chain_is_told() -> None:
    pair = [rejection("clearance", **ROOM), rejection("clearance", **WIDE)]
    assert [told_first(order)[0].finding for order in (pair, pair[::-1])] == [pair[0].finding] * 2


def test_a_story_tells_of_three_rules() -> None:
    rules = ("pattern", "reach", "clearance", "fuel")
    told = told_first([rejection(rule, **(ROOM if rule == "clearance" else {})) for rule in rules])
    assert [x.finding.rule for x in told] == ["fuel", "clearance", "reach"]


# --- one part -------------------------------------------------------------------------------------------------


def stop(rule: str, left: float | None = None) -> Stop:
    return Stop(Finding(rule, {}), None if left is None else Left(left, "mm"))


def test_what_is_missing_in_all() -> None:
    """Of those stops that measure; nothing where none does."""
    assert missing([stop("clearance", -1.5), stop("reach", -2.0), stop("fuel")]) == 3.5
    assert missing([stop("fuel")]) == 0


@pytest.mark.parametrize(
    ("broken", "left"),
    [
        pytest.param({"fuel": 0b01, "reach": 0b00}, 0b10, id="fewest rules"),
        pytest.param({"fuel": 0b01, "reach": 0b10}, 0b01, id="of as many the later one"),
        pytest.param({"reach": 0b01, "fuel": 0b11, "wish": 0b10}, 0b10, id="the first rule comes latest"),
        pytest.param({"reach": 0b11, "fuel": 0b01, "wish": 0b10}, 0b11, id="only the first one counts"),
        pytest.param({"fuel": 0b11}, 0b11, id="alike"),
    ],
)
def test_which_of_two_chains_comes_furthest(broken: dict[str, int], left: int) -> None:
    assert furthest_in(0b11, list(broken.items())) == left


CHAIN = Chain((), lambda _: Run((), ()))
OTHER = Chain((), lambda _: Run((), ()))
NEARER: dict[str, tuple[_StoppedPart, _StoppedPart]] = {
    "a chain holds it": (_StoppedPart(CHAIN, (stop("fuel"), stop("reach"))), _StoppedPart(None, ())),
    "fewer rules": (_StoppedPart(CHAIN, (stop("fuel", -9.0),)), _StoppedPart(CHAIN, (stop("reach"), stop("fuel")))),
    "less is missing": (_StoppedPart(CHAIN, (stop("reach", -1.0),)), _StoppedPart(CHAIN, (stop("reach", -2.0),))),
}


@pytest.mark.parametrize("name", NEARER)
def test_which_way_to_serve_a_spot_is_told(name: str) -> None:
    near, far = NEARER[name]
    assert nearer_stops(near) < nearer_stops(far)


def verdict(chain: Chain | None, *stops: Stop, helps: bool = False) -> Verdict:
    given = Change("fuel", None, 1) if helps else None
    return Verdict("left", "feed", stands=False, chain=chain, stops=stops, change=given)


OTHER_KIND = Stop(Finding("closed", {"duty": "feed"}))
NEAREST: dict[str, tuple[Verdict, Verdict]] = {
    "a change helps": (verdict(None, OTHER_KIND, stop("fuel"), helps=True), verdict(CHAIN, stop("fuel"))),
    "a chain holds it": (verdict(CHAIN, stop("fuel"), stop("reach")), verdict(None, stop("mates"))),
    "its kind is taken": (verdict(None, stop("mates"), stop("fuel")), verdict(None, OTHER_KIND)),
    "fewer rules": (verdict(CHAIN, stop("fuel")), verdict(CHAIN, stop("fuel"), stop("reach"))),
}


@pytest.mark.parametrize("name", NEAREST)
def test_which_spot_a_part_is_told_of(name: str) -> None:
    near, far = NEAREST[name]
    assert nearer_verdict(near) < nearer_verdict(far)


# --- numbers --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "points", "first"),
    [
        pytest.param(50.0, [51.0, 48.0], 49.9, id="the tenth beside"),
        pytest.param(50.05, [], 50.0, id="down where both are as near"),
        pytest.param(0.0, [], 0.1, id="within the range"),
    ],
)
def test_the_value_that_is_tried_first(given: float, points: list[float], first: float) -> None:
    assert _beside(points, given, Range(0, 100))[0] == first


def test_of_two_numbers_that_help_the_one_that_changes_relatively_least() -> None:
    """From 300 kW to 229.8 is less than from 4 m of hose to 2.2, which would help as well."""
    asked = HOSE | {"power_kw": 300.0, "feed_hose_m": 4.0}
    document = catalog({"policies/max_feed_drop_kpa": 2.0})
    found = answer_from(edition(document), asked)["repairs"]
    assert [repair["change"] for repair in found] == [{"feed_hose_m": 2.2}, {"power_kw": 229.8}]
    verdict = at(explain(document, asked, "ADAPT-B8-F6", "centre"), "centre")
    assert change(verdict) == {"power_kw": 229.8}


@pytest.mark.parametrize(("value", "relative"), [(80.0, 0.2), (125.0, 0.2), (10.0, 0.9), (1000.0, 0.9), (100.0, 0.0)])
def test_how_much_a_number_changes(value: float, relative: float) -> None:
    """As much up as down, as part of the greater one."""
    ready = edition(catalog())
    asked = resolve_request(BillRequest.model_validate(HOSE | {"power_kw": 100.0}), ready.revision)
    judges = ready.engine.judges
    finder = ChangeFinder(Case(judges, BillFinder(judges), asked, ready.revision.items["PLUG-B8"]))
    assert finder._relative("power_kw", value) == pytest.approx(relative)


# --- conflicts ------------------------------------------------------------------------------------------------


def test_minimal_subsets_shortest_first_then_by_name() -> None:
    """Of every subset for which something holds; and of what is dropped instead of kept."""
    universe = Universe(("b", "a", "c"))
    holds = universe.having("b") | (universe.having("a") & universe.having("c"))
    assert list(universe.minimal(holds)) == [("b",), ("a", "c")]
    assert list(universe.minimal(universe.dropped(holds))) == [()]
    assert list(universe.minimal(universe.dropped(universe.none_of(holds)))) == [("a", "b"), ("b", "c")]
    assert list(universe.minimal(universe.having("a") | universe.having("c"))) == [("a",), ("c",)]
    assert list(universe.minimal(0)) == []
    assert list(universe.minimal(universe.always)) == [()]


def test_each_way_to_choose_wishes_once() -> None:
    universe = Universe(("a", "b"))
    found = dict(universe.choosing(("a", "b")))
    assert list(found) == [(), ("a",), ("b",), ("a", "b")]
    assert sum(found.values()) == universe.always
    assert found["a", "b"] == universe.having("a") & universe.having("b")


def test_one_conflict_among_many_wishes() -> None:
    """What is left by deletion; then others up to the bound, sorted."""
    names = tuple(f"w{number:02}" for number in range(40))
    core = _shrunk(names, lambda kept: {"w07", "w31"} <= set(kept))
    assert core == ("w07", "w31")
    filled = _filled(core, names)
    assert len(filled) == MOST_TOGETHER
    assert filled == sorted(filled)
    assert {"w07", "w31", "w00"} <= set(filled)


# --- orders ---------------------------------------------------------------------------------------------------


def tail(drop_kpa: float, text: str, rail: str = "R") -> Tail:
    return Tail(drop_kpa, (text,), rail, ())


@pytest.mark.parametrize(
    ("first", "second", "kept"),
    [
        pytest.param(tail(1.0, "b"), tail(2.0, "c"), [0], id="less drop and an earlier text"),
        pytest.param(tail(1.0, "b"), tail(2.0, "a"), [0, 1], id="less drop, a later text"),
        pytest.param(tail(1.0, "a", "S"), tail(2.0, "a", "R"), [0, 1], id="less drop, a later rail"),
        pytest.param(tail(1.0, "a"), tail(1.0, "a", "S"), [0], id="an earlier rail"),
    ],
)
def test_which_beginning_of_a_bill_goes_on(first: Tail, second: Tail, kept: list[int]) -> None:
    """What may still come first whatever both are completed with, in any order."""
    pair = [first, second]
    assert _foremost(pair) == [pair[place] for place in kept]
    assert _foremost(pair[::-1]) == [pair[place] for place in kept]


class Layout(Approach):
    """A layout of which the bound and the cost of the nearest bill are told; None: it has no bill."""

    def __init__(self, at_least: int | None, changes: int | None, price: int = 0, least_price: int = 0) -> None:
        self.at_least = None if at_least is None else Cost(at_least, least_price, 0)
        self.found = None if changes is None else Cost(changes, price, 0)
        self.asked = False

    @property
    def nearest(self) -> Any:
        self.asked = True
        return None if self.found is None else SimpleNamespace(cost=self.found)


@pytest.mark.parametrize(
    ("layouts", "wanted", "most", "order", "asked"),
    [
        pytest.param([Layout(1, 4), Layout(2, 2)], 1, None, [1], [0, 1], id="fewer changes"),
        pytest.param([Layout(1, 2, 9), Layout(1, 2, 8)], 1, None, [1, 0], [0, 1], id="the price"),
        pytest.param([Layout(0, 2), Layout(0, 2)], 1, None, [0, 1], [0, 1], id="as they stand"),
        pytest.param([Layout(0, 1), Layout(2, 2)], 1, None, [0], [0], id="bounded away"),
        pytest.param([Layout(None, 1), Layout(2, 2)], 1, None, [1], [1], id="no bill whatever flows"),
        pytest.param([Layout(0, None), Layout(2, 2)], 1, None, [1], [0, 1], id="no bill with its flow"),
        pytest.param([Layout(0, 2), Layout(2, 2)], 1, None, [0], [0, 1], id="bounded by as much"),
        pytest.param([Layout(0, 2, 5), Layout(2, 2, 9, 9)], 1, None, [0], [0], id="a higher price"),
        pytest.param([Layout(0, 2, 5), Layout(2, 2, 9, 9)], 1, 2, [0, 1], [0, 1], id="one that ties"),
        pytest.param([Layout(0, 2), Layout(3, 3)], 1, 2, [0], [0], id="one that does not tie"),
    ],
)
def test_which_layouts_are_nearest_to_an_order(
    layouts: list[Layout], wanted: int, most: int | None, order: list[int], asked: list[int]
) -> None:
    """The nearest ones first; what cannot be among them is not looked at."""
    found = [place for place, _ in nearest_first(layouts, wanted, most)]
    assert found[: len(order)] == order
    assert [place for place, one in enumerate(layouts) if one.asked] == asked
