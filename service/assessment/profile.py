"""The pressure along the paths of a bill: what each station loses, and the gauge pressure behind it."""

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import NamedTuple

from service.assessment.plumbing import Lines, plumbing_of
from service.domain.answer import Bill, PlacedChain
from service.domain.chains import Link
from service.domain.flows import PathFlow
from service.domain.parts import Item
from service.domain.profiles import PathProfile, Profiles, Station, StationKind
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import bank_of
from service.hydraulics import Passage
from service.solver.flows import FlowState, flow_state
from service.solver.supply_limits import held_kpa_of


class _Stop(NamedTuple):
    """A station before its pressures are known."""

    kind: StationKind
    item: Item | None
    drop_kpa: float | None

    @property
    def regulates(self) -> bool:
        return self.item is not None and self.item.kind == "regulator"

    @property
    def hides(self) -> bool:
        """Whether nobody knows what it loses: nothing runs through what only closes a side port."""
        return self.drop_kpa is None and self.kind != "side-plug"


def profiles_of(bill: Bill, request: Request, policies: Policies) -> Profiles:
    """The paths of a bill, each at the flow that it is judged at, with the pressure behind each station.

    What the regulator holds it holds in the rail where it stands there; where it stands behind the return, the rail has
    what the return loses besides; where it stands at the tank before the feed, the rail has what the feed leaves.
    Behind a regulator the fuel is at what the rest of the way loses, and at the tank there is no pressure.
    """
    plumbing = plumbing_of(Lines.of(bill, request), request, policies)
    stops = {path.spots: tuple(_stops(path, bill, request, policies)) for path in bill.paths}
    held_kpa = held_kpa_of(plumbing.regulation, request)
    added = {"tank": ("feed", -1.0), "after": ("return", 1.0)}.get(plumbing.regulation.place)
    rail_kpa: float | None = held_kpa
    if added is not None:
        duty, sign = added
        ways = [stops[path.spots] for path in bill.paths if path.duty == duty]
        known = not any(stop.hides for way in ways for stop in way)
        rail_kpa = held_kpa + sign * max(map(_sum, ways), default=0.0) if known else None
    hangs = plumbing.regulation.follows is None and request.boost_kpa > 0
    paths = tuple(_profile(path, stops[path.spots], bill, rail_kpa) for path in bill.paths)
    return Profiles(held_kpa, hangs, rail_kpa, paths)


def _stops(path: PathFlow, bill: Bill, request: Request, policies: Policies) -> Iterator[_Stop]:
    """The stations of a path in the order in which fuel meets them."""
    placed = _placed(path, bill)
    entry = request.layout.placements[bill.placement][placed.spot]
    state = flow_state(request, entry, bill.carried, policies, bill.rail.passage)
    parts = [_part(link, state, path.flow_l_h) for link in _as_met(path, placed, bill)]
    hose = [_Stop("hookup", None, _lost(state.hose, state, path.flow_l_h))] if state.has_hose else []
    rail = _Stop("rail", bill.rail, _lost(bill.rail.passage, state, path.flow_l_h))
    if path.duty == "return":
        yield from (*parts, *hose)
    else:
        yield from (*hose, *parts, rail)


def _placed(path: PathFlow, bill: Bill) -> PlacedChain:
    return next(placed for placed in bill.chains if placed.spot in path.spots)


def _as_met(path: PathFlow, placed: PlacedChain, bill: Bill) -> Sequence[Link]:
    """The links of a chain from where its fuel comes: inwards on a feed, and on a link towards the fed bank."""
    fed = {bank_of(spot) for spot, duty in bill.duties.items() if duty == "feed"}
    inwards = path.duty == "feed" or (path.duty == "link" and bank_of(placed.spot) not in fed)
    links = placed.chain.links
    return links[::-1] if inwards else links


def _part(link: Link, state: FlowState, flow_l_h: float) -> _Stop:
    return _Stop("side-plug" if link.side else "part", link.item, _lost(link.item.passage, state, flow_l_h))


def _lost(passage: Passage | None, state: FlowState, flow_l_h: float) -> float | None:
    return None if passage is None else state.loss((passage,), flow_l_h).drop_kpa


def _sum(stops: Sequence[_Stop]) -> float:
    return sum(stop.drop_kpa or 0.0 for stop in stops)


def _profile(path: PathFlow, stops: Sequence[_Stop], bill: Bill, rail_kpa: float | None) -> PathProfile:
    """Pressures are counted from the rail: of a feed backwards, of a link and a return onwards."""
    if path.duty == "feed":
        start, behind = _before(stops, rail_kpa)
    else:
        start, behind = rail_kpa, _after(stops, rail_kpa)
    lost = accumulate(stop.drop_kpa or 0.0 for stop in stops)
    stations = tuple(
        Station(stop.kind, stop.item, stop.regulates, stop.drop_kpa, so_far, kpa)
        for stop, so_far, kpa in zip(stops, lost, behind, strict=True)
    )
    return PathProfile(path, bill.situations[_placed(path, bill).spot].hookup_kind, start, stations)


def _before(stops: Sequence[_Stop], end_kpa: float | None) -> tuple[float | None, list[float | None]]:
    """The pressure before the first of these stops, and behind each, of a way that ends at a known one."""
    found = [end_kpa]
    for stop in reversed(stops):
        after = found[-1]
        found.append(None if after is None or stop.hides else after + (stop.drop_kpa or 0.0))
    start, *behind = reversed(found)
    return start, behind


def _after(stops: Sequence[_Stop], start_kpa: float | None) -> list[float | None]:
    """The pressure behind each of these stops, of a way that starts at a known one."""
    regulator = next((index for index, stop in enumerate(stops) if stop.regulates), None)
    before = stops if regulator is None else stops[:regulator]
    found, kpa = [], start_kpa
    for stop in before:
        kpa = None if kpa is None or stop.hides else kpa - (stop.drop_kpa or 0.0)
        found.append(kpa)
    if regulator is None:
        return found
    at_outlet, behind = _before(stops[regulator + 1 :], 0.0)
    return [*found, at_outlet, *behind]
