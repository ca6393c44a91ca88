"""The steps of a bill in the order of the trade: `STAGES` has it."""

from collections import Counter
from collections.abc import Iterator

from service.assembly.joints import joint_steps
from service.assembly.order import along
from service.domain.answer import Bill
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Stage, Step, Task, Used
from service.domain.vehicles import bank_of
from service.rules import fuel, mounting

_WORK: dict[str, tuple[Stage, Task]] = {"spacer": ("spacers", "spacer"), "fastener": ("screws", "screw")}
"""What is done with a mounting part of a kind; the others hold something."""
_HOLDING: tuple[Stage, Task] = ("lines", "hold")
_HOLDERS = frozenset({"bracket", "clip", "fastener", "spacer"})
"""Kinds that hold something; of those in a box that are neither for a spot nor a role, these are put on."""
_SEALS: dict[str, Task] = {"o-ring": "ring", "bead": "connector"}


def steps(bill: Bill, request: Request, revision: Revision) -> Iterator[Step]:
    """Every step, from relieving the pressure to the check after the first heat."""
    made = joint_steps(bill)
    fillings = [] if bill.rail.sku == OWN_RAIL else mounting.fill(request.chassis, request.addons, bill.rail)
    mounted = [
        _mounting(Used(revision.items[filling.sku], filling.qty, filling.optional), *_work(revision, filling.sku))
        for filling in fillings
    ]
    kept = tuple(
        Used(revision.items[filling.sku], filling.qty, filling.optional)
        for filling in fillings
        if filling.source == "on-car"
    )
    spots = tuple(sorted({step.spots[0] for step in made}, key=along))

    yield Step("relieve", "relieve")
    yield Step("relieve", "battery")
    yield Step("disconnect", "lines-off")
    yield Step("disconnect", "rail-off", used=kept)
    yield Step("clean", "clean", spots)
    yield from _seals(made, request, revision)
    yield from (step for step in mounted if step.stage == "spacers")
    yield from _rails(bill, spots)
    yield from (step for step in mounted if step.stage == "screws")
    yield from (step for step in made if step.stage == "fittings")
    yield from (step for step in made if step.stage == "lines")
    yield from (step for step in mounted if step.stage == "lines")
    yield from (_mounting(used, *_HOLDING) for used in _boxed(bill, revision))
    yield from (step for step in made if step.stage == "gauge")
    yield Step("leak-check", "reconnect", spots)
    yield Step("leak-check", "pressurise", _gauge_spots(bill) or spots)
    yield Step("leak-check", "idle", spots)
    yield Step("heat-check", "heat", spots)


def _work(revision: Revision, sku: str) -> tuple[Stage, Task]:
    return _WORK.get(revision.items[sku].kind, _HOLDING)


def _mounting(used: Used, stage: Stage, task: Task) -> Step:
    screw = used.item.screw
    return Step(stage, task, used=(used,), torque_nm=None if screw is None else screw.torque_nm)


def _seals(made: list[Step], request: Request, revision: Revision) -> Iterator[Step]:
    """For each port standard that is sealed by rings: those to look at, and the spots that they are at."""
    spots: dict[str, list[str]] = {}
    for step in made:
        if step.joint is not None:
            spots.setdefault(step.joint.opening.standard, []).extend(step.spots)
    for standard in revision.standards.values():
        task = _SEALS.get(standard.seal)
        if task is not None and standard.id in spots:
            at = spots[standard.id]
            spare = fuel.spare_seal(standard.joint, request.fuel.id, revision)
            used = () if spare is None else (Used(spare[0], len(at)),)
            yield Step("seals", task, tuple(sorted(set(at), key=along)), used, standard=standard.id)
    yield Step("seals", "injector-rings")


def _rails(bill: Bill, spots: tuple[str, ...]) -> Iterator[Step]:
    task: Task = "own-rail" if bill.rail.sku == OWN_RAIL else "rail"
    for bank in dict.fromkeys(bank_of(spot) for spot in spots):
        yield Step("rail", task, used=(Used(bill.rail, 1),), bank=bank)


def _boxed(bill: Bill, revision: Revision) -> Iterator[Used]:
    """Clips, brackets and the like that come in the boxes of what is got, for neither a spot nor a role of the rail."""
    owners: list[tuple[Item, int]] = [(bill.rail, bill.banks)]
    owners += [(item, 1) for placed in bill.chains for item in placed.chain.items[int(placed.supplied) :]]
    found: Counter[str] = Counter()
    for owner, count in owners:
        for box in owner.supplied:
            for_rail = box.role is not None and owner is bill.rail
            if box.spot is None and not for_rail and revision.items[box.sku].kind in _HOLDERS:
                found[box.sku] += box.qty * count
    return (Used(revision.items[sku], qty) for sku, qty in found.items())


def _gauge_spots(bill: Bill) -> tuple[str, ...]:
    return tuple(spot for spot, duty in bill.duties.items() if duty == "gauge")
