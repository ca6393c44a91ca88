"""The joints of a bill as they are made: each one once, with the part that goes on and what takes it.

A chain is built from its spot outwards. A link is built from both of its spots, and its line comes last: whoever built
it from one end alone would have to turn the far rail.
"""

from collections.abc import Iterator, Mapping
from itertools import takewhile

from service.assembly.order import along
from service.domain.answer import Bill, PlacedChain
from service.domain.chains import Link
from service.domain.parts import Item, Opening
from service.domain.request import SpotSituation
from service.domain.sheet import MadeJoint, Stage, Step, Used
from service.domain.vehicles import Hookup

_ORDER: tuple[Stage, ...] = ("fittings", "lines", "gauge")


def joint_steps(bill: Bill, hoses: Mapping[str, Hookup]) -> list[Step]:
    """A step for every joint that the bill makes, those with hookups and far spots included, in working order.

    `hoses`: what is told of one's own hoses, by spot.
    """
    found = [
        step
        for placed in bill.chains
        for step in _of_chain(placed, bill.situations[placed.spot], bill.rail, hoses.get(placed.spot))
    ]
    return sorted(found, key=lambda step: (_ORDER.index(step.stage), along(step.spots[0])))


def _of_chain(placed: PlacedChain, situation: SpotSituation, rail: Item, hose: Hookup | None) -> Iterator[Step]:
    links = placed.chain.links
    if situation.far_spot is not None and situation.target is not None:
        yield from _link(placed, situation.target, situation.far_spot, rail)
    else:
        yield from _outwards(links, placed.spot, rail)
        if situation.target is not None:
            last = _last_main(links)
            opening = situation.target.mate
            hookup = situation.hookup_kind
            yield _step("lines", MadeJoint(placed.spot, None, last or rail, opening, last is None, hookup, hose))


def _link(placed: PlacedChain, target: Opening, far_spot: str, rail: Item) -> Iterator[Step]:
    """Both ends, each from its spot towards the line, then the line."""
    near = placed.chain.near
    line, *rest = placed.chain.links[len(near) :]
    yield from _outwards(near, placed.spot, rail)
    onto, opening, at_rail = rail, target, True
    for main, plugs in reversed(_with_plugs(placed.chain.far)):
        yield _step("fittings", MadeJoint(far_spot, main.item, onto, opening, at_rail))
        for plug in plugs:
            yield _step("fittings", MadeJoint(far_spot, plug.item, main.item, plug.meets))
        onto, opening, at_rail = main.item, main.meets.mate, False
    last = _last_main(near)
    yield _step("lines", MadeJoint(placed.spot, line.item, last or rail, line.meets, last is None))
    yield _step("lines", MadeJoint(far_spot, line.item, onto, opening, at_rail))
    for plug in takewhile(_is_side, rest):
        yield _step("lines", MadeJoint(placed.spot, plug.item, line.item, plug.meets))


def _outwards(links: tuple[Link, ...], spot: str, rail: Item) -> Iterator[Step]:
    """Each part on the one before it, a side plug on the part whose port it closes."""
    before = rail
    stage: Stage = "fittings"
    for link in links:
        if not link.side:
            stage = _next_stage(stage, link.item)
        yield _step(stage, MadeJoint(spot, link.item, before, link.meets, before is rail))
        if not link.side:
            before = link.item


def _next_stage(stage: Stage, item: Item) -> Stage:
    """What follows a line hangs on it and is fitted with it."""
    if item.kind == "gauge":
        return "gauge"
    return "lines" if item.kind == "line" else stage


def _with_plugs(links: tuple[Link, ...]) -> list[tuple[Link, tuple[Link, ...]]]:
    """Each main link with its side plugs."""
    found: list[tuple[Link, tuple[Link, ...]]] = []
    for link in links:
        if link.side:
            main, plugs = found[-1]
            found[-1] = (main, (*plugs, link))
        else:
            found.append((link, ()))
    return found


def _is_side(link: Link) -> bool:
    return link.side


def _last_main(links: tuple[Link, ...]) -> Item | None:
    return next((link.item for link in reversed(links) if not link.side), None)


def _step(stage: Stage, joint: MadeJoint) -> Step:
    used = () if joint.part is None else (Used(joint.part, 1),)
    return Step(stage, "joint", (joint.spot,), used, joint)
