"""Laws of assembly sheets on random catalogs: no port is left open, nothing is fitted to what is not there yet."""

from collections import Counter
from collections.abc import Iterator
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from service.assembly import assemble
from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.parts import Opening
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import STAGES, MadeJoint, Sheet
from service.usecases.resolve_request import resolve_request
from tests.support.builders import LINKED, catalog
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_facts, random_request

FLOWING = ("feed", "return", "link")

few = settings(max_examples=80, deadline=None, derandomize=True)
seeds = st.integers(0, 10**6)


def sheets(seed: int) -> Iterator[tuple[Sheet, Bill, Request, Revision]]:
    """The sheets of the bills of a random request, which may be of somebody who has parts or a rail already."""
    rng = Random(seed)
    document = random_catalog(rng)
    asked = random_request(rng, document, wish_percent=10)
    car = next(car for car in document["chassis"] if car["id"] == asked["chassis"])
    asked |= {"gauge": rng.choice(["none", "any"]), "group_variants": False} | random_facts(rng, document, car)
    yield from sheets_of(document, asked)


def sheets_of(document: dict[str, object], asked: dict[str, object]) -> Iterator[tuple[Sheet, Bill, Request, Revision]]:
    ready = edition(document)
    request = resolve_request(BillRequest.model_validate(asked), ready.revision)
    for bill in ready.engine.answer(request).bills:
        yield assemble(bill, request, ready.revision), bill, request, ready.revision


def joints(sheet: Sheet) -> list[MadeJoint]:
    return [step.joint for step in sheet.steps if step.joint is not None]


@few
@given(seeds)
def test_every_port_of_every_part_is_in_one_joint(seed: int) -> None:
    """Counted from the parts alone: the ports of rails, parts and hookups are the ends of the joints, each once."""
    for sheet, bill, *_ in sheets(seed):
        parts = [bill.rail] * bill.banks + [item for placed in bill.chains for item in placed.chain.items]
        ports = Counter(port.opening for part in parts for port in part.ports)
        hookups = [
            situation.target
            for situation in bill.situations.values()
            if situation.target is not None and situation.far_spot is None
        ]
        ends: Counter[Opening] = Counter()
        for joint in joints(sheet):
            ends.update([joint.opening, joint.opening.mate])
        assert ends == ports + Counter(hookups)


@few
@given(seeds)
def test_the_joints_are_as_many_as_the_chains_say(seed: int) -> None:
    """A joint a part, and one more where a chain ends on a hookup or a far spot."""
    for sheet, bill, *_ in sheets(seed):
        chains = {placed.spot: placed.chain.skus for placed in bill.chains}
        expected = sum(len(skus) + (bill.duties[spot] in FLOWING) for spot, skus in chains.items())
        assert len(joints(sheet)) == expected


@few
@given(seeds)
def test_stages_come_in_the_order_of_the_trade(seed: int) -> None:
    """And what every sheet has, from relieving the pressure to the check after the heat, is there."""
    for sheet, *_ in sheets(seed):
        order = [STAGES.index(step.stage) for step in sheet.steps]
        assert order == sorted(order)
        always = {"relieve", "disconnect", "clean", "seals", "rail", "leak-check", "heat-check"}
        assert always <= {step.stage for step in sheet.steps}


@few
@given(seeds)
def test_what_goes_into_the_rail_is_fitted_on_the_bench(seed: int) -> None:
    """All up to the first line, but where less than 3 mm of room is left; what is late tells how little."""
    for sheet, *_ in sheets(seed):
        spots = {spot.spot: spot for rail in sheet.rails for spot in rail.spots}
        for step in (step for step in sheet.steps if step.joint is not None):
            spot = spots[step.joint.spot] if step.joint else None
            assert spot is not None
            left = [mm for mm in (spot.axial_left_mm, spot.across_left_mm) if mm is not None]
            part = step.joint.part if step.joint else None
            standing = part is not None and part in [one.item for one in spot.standing]
            if standing and min(left, default=99.0) >= 3.0:
                assert step.stage == "bench"
            elif step.stage in ("fittings", "gauge"):
                assert step.left_mm == min(left) < 3.0
            else:
                assert step.stage != "bench" or min(left, default=99.0) >= 3.0


@few
@given(seeds)
def test_a_part_goes_on_to_what_is_there(seed: int) -> None:
    """The rail, or a part that an earlier step fitted at the same chain; the two ends mate."""
    for sheet, bill, *_ in sheets(seed):
        far = {s.far_spot: s.spot for s in bill.situations.values() if s.far_spot is not None}
        placed: set[tuple[str, str]] = set()
        for joint in joints(sheet):
            chain = far.get(joint.spot, joint.spot)
            assert joint.at_rail == (joint.onto is bill.rail)
            assert joint.at_rail or (chain, joint.onto.sku) in placed
            assert joint.opening in [port.opening for port in joint.onto.ports]
            if joint.part is not None:
                assert joint.opening.mate in [port.opening for port in joint.part.ports]
                placed.add((chain, joint.part.sku))


@few
@given(seeds)
def test_the_room_left_is_the_bill_s_own(seed: int) -> None:
    """What the plan of a rail tells of a spot's room are the margins of the bill."""
    for sheet, bill, *_ in sheets(seed):
        told = {}
        for spot in (spot for rail in sheet.rails for spot in rail.spots):
            for what, left in (("clearance", spot.axial_left_mm), ("across", spot.across_left_mm)):
                if left is not None:
                    told[what, spot.spot] = left
        margins = [margin for margin in bill.margins if margin.what in ("clearance", "across")]
        assert told == {(margin.what, margin.spots[0]): margin.left for margin in margins}
        assert {spot.spot for rail in sheet.rails for spot in rail.spots} == set(bill.duties)


def test_a_link_is_built_from_both_ends_and_its_line_comes_last() -> None:
    """Both adapters stand in their rails before the line goes on; the fed bank's end leads out."""
    [(sheet, *_)] = sheets_of(catalog(), LINKED | {"limit": 1})
    linked = {"1.right", "2.left", "2.right", "1.left"}
    made = [(joint.spot, joint.part.sku if joint.part else "", joint.onto.sku) for joint in joints(sheet)]
    line = [entry for entry in made if entry[1] == "LINE-F6"]
    assert len(line) == 2
    assert {spot for spot, *_ in line} <= linked
    assert all(onto == "ADAPT-B8-F6" for *_, onto in line)
    for spot, *_ in line:
        assert made.index((spot, "ADAPT-B8-F6", "RAIL-S")) < made.index(line[0])
    flows = {spot.spot: spot.flows for rail in sheet.rails for spot in rail.spots if spot.duty == "link"}
    assert sorted(flows.values()) == ["in", "out"]
    fed = next(spot.spot for rail in sheet.rails for spot in rail.spots if spot.duty == "feed")
    assert [spot[0] for spot, flow in flows.items() if flow == "out"] == [fed[0]]


def test_the_random_catalogs_have_what_the_laws_are_about() -> None:
    """Gauges, side plugs, links, an own rail, lines and bare hookups occur."""
    seen: set[str] = set()
    for seed in range(150):
        for sheet, bill, *_ in sheets(seed):
            seen |= set(bill.duties.values()) | {step.task for step in sheet.steps}
            seen |= {"side" for rail in sheet.rails for spot in rail.spots for part in spot.standing if part.side}
            seen |= {"bare" for joint in joints(sheet) if joint.at_rail and joint.part is None}
            seen |= {"beyond" for rail in sheet.rails for spot in rail.spots if spot.beyond}
    assert {"gauge", "link", "side", "bare", "beyond", "own-rail", "rail", "ring"} <= seen
