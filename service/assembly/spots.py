"""What stands at each spot of each rail, and the room that it leaves."""

from collections.abc import Iterator, Mapping

from service.assembly.order import along
from service.domain.answer import Bill, PlacedChain
from service.domain.chains import Link
from service.domain.sheet import Direction, RailPlan, SpotPlan, Standing
from service.domain.vehicles import Duty, bank_of
from service.rules import clearance

_FLOWS: Mapping[Duty, Direction] = {"feed": "in", "return": "out", "gauge": "none", "closed": "none"}


def rail_plans(bill: Bill) -> tuple[RailPlan, ...]:
    """A plan for the rail of each bank."""
    plans = sorted((plan for placed in bill.chains for plan in _plans(placed, bill)), key=lambda plan: along(plan.spot))
    passage = bill.rail.passage
    return tuple(
        RailPlan(
            bank,
            bill.rail,
            None if passage is None else round(passage.length_m * 1000, 3),
            dict(bill.rail.spots_mm),
            tuple(plan for plan in plans if bank_of(plan.spot) == bank),
        )
        for bank in dict.fromkeys(bank_of(plan.spot) for plan in plans)
    )


def _plans(placed: PlacedChain, bill: Bill) -> Iterator[SpotPlan]:
    situation = bill.situations[placed.spot]
    chain = placed.chain
    rooms = clearance.ends(chain, situation)
    flow_l_h = next((path.flow_l_h for path in bill.paths if placed.spot in path.spots), None)
    far_spot, links = situation.far_spot, chain.links
    yield SpotPlan(
        placed.spot,
        situation.duty,
        _flows(placed.spot, far_spot, situation.duty, bill),
        flow_l_h,
        _standing(chain.near),
        tuple(link.item for link in links[len(chain.near) :]),
        situation.hookup_kind,
        far_spot,
        chain.axial_mm,
        chain.across_mm,
        **_room(rooms[0]),
    )
    if far_spot is not None:
        yield SpotPlan(
            far_spot,
            situation.duty,
            _flows(far_spot, placed.spot, situation.duty, bill),
            flow_l_h,
            _standing(_turned(chain.far)),
            tuple(link.item for link in reversed(links[: len(links) - len(chain.far)]) if not link.side),
            None,
            placed.spot,
            chain.far_axial_mm,
            chain.far_across_mm,
            **_room(rooms[1]),
        )


def _room(facts: Mapping[str, float] | None) -> dict[str, float]:
    names = ("axial_mm", "axial_left_mm", "across_mm", "across_left_mm")
    return {name: facts[name] for name in names if facts is not None and name in facts}


def _standing(links: tuple[Link, ...]) -> tuple[Standing, ...]:
    return tuple(Standing(link.item, link.side) for link in links)


def _turned(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """The same parts as seen from the far end, each one's side plugs still right after it."""
    groups: list[list[Link]] = []
    for link in links:
        if link.side and groups:
            groups[-1].append(link)
        else:
            groups.append([link])
    return tuple(link for group in reversed(groups) for link in group)


def _flows(spot: str, far_spot: str | None, duty: Duty, bill: Bill) -> Direction:
    """A link leads from the bank that is fed to the other one; both ways where both are fed."""
    if far_spot is None:
        return _FLOWS[duty]
    fed = {bank_of(other) for other, does in bill.duties.items() if does == "feed"}
    own, far = bank_of(spot) in fed, bank_of(far_spot) in fed
    return "both" if own == far else ("out" if own else "in")
