"""The steps of a bill in the order of the trade: `STAGES` has it."""

from collections import Counter
from collections.abc import Iterable, Iterator

from service.assembly.addons import over_the_rail, put_back
from service.assembly.bench import bench_first
from service.assembly.hoses import laid, own_hoses
from service.assembly.joints import joint_steps
from service.assembly.order import along
from service.assembly.regulation import regulation, setting
from service.domain.answer import Bill
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import LaidHose, RailPlan, Stage, Step, Task, Used
from service.domain.vehicles import bank_of
from service.rules import fuel, mounting

_WORK: dict[str, tuple[Stage, Task]] = {
    "spacer": ("spacers", "spacer"),
    "fastener": ("screws", "screw"),
    "clip": ("lines", "clip"),
}
"""What is done with a mounting part of a kind; the others hold something."""
_HOLDERS = frozenset({"bracket", "clip", "fastener", "spacer"})
"""Kinds that hold something; of those in a box that are neither for a spot nor a role, these are put on."""
_SEALS: dict[str, Task] = {"o-ring": "ring", "bead": "connector"}


def steps(bill: Bill, plans: tuple[RailPlan, ...], request: Request, revision: Revision) -> Iterator[Step]:
    """Every step, from relieving the pressure to the check after the first heat."""
    own = own_hoses(bill, request)
    made = bench_first(joint_steps(bill, own), plans)
    fillings = _fillings(bill, request, revision)
    mounted = [_mounting(filling, revision) for filling in fillings]
    kept = tuple(_used(filling, revision) for filling in fillings if filling.source == "on-car")
    spots = tuple(sorted({step.spots[0] for step in made}, key=along))
    lines_held = tuple(used for step in mounted if step.task == "hold" for used in step.used)

    yield Step("relieve", "relieve")
    yield Step("relieve", "battery")
    yield Step("disconnect", "lines-off")
    yield Step("disconnect", "rail-off", used=kept, addons=tuple(addon.name for addon in over_the_rail(request)))
    yield Step("clean", "clean", spots)
    yield from _seals(made, request, revision)
    yield from _of_stage("bench", made)
    yield from _of_stage("spacers", mounted)
    yield Step("rail", "injectors")
    yield from _rails(bill, spots)
    yield from _of_stage("screws", mounted)
    yield from _of_stage("fittings", made)
    yield from _of_stage("lines", made)
    yield from (step for step in mounted if step.task == "clip")
    yield from _held((*lines_held, *_boxed(bill, revision)), laid(plans, own))
    yield from regulation(bill)
    yield from _of_stage("gauge", made)
    yield from put_back(request, plans, revision)
    yield Step("leak-check", "reconnect", spots)
    yield Step("leak-check", "prime", spots)
    yield Step("leak-check", "pressurise", _gauge_spots(bill) or spots)
    yield from setting(bill)
    yield Step("leak-check", "idle", spots)
    yield Step("heat-check", "heat", spots)


def _of_stage(stage: Stage, found: Iterable[Step]) -> Iterator[Step]:
    return (step for step in found if step.stage == stage)


def _fillings(bill: Bill, request: Request, revision: Revision) -> list[mounting.Filling]:
    """What fills the mounting roles. What the car has for its own lines stays out where none of them is used."""
    if bill.rail.sku == OWN_RAIL:
        return []
    found = mounting.fill(request.chassis, request.addons, bill.rail)
    if any(_is_the_car_s(situation.hookup_kind) for situation in bill.situations.values()):
        return found
    return [x for x in found if x.source != "on-car" or revision.items[x.sku].kind in _OF_THE_RAIL]


_OF_THE_RAIL = frozenset({"spacer", "fastener"})


def _is_the_car_s(hookup_kind: str | None) -> bool:
    return hookup_kind is not None and hookup_kind != "own-hose"


def _used(filling: mounting.Filling, revision: Revision) -> Used:
    return Used(revision.items[filling.sku], filling.qty, filling.optional)


def _mounting(filling: mounting.Filling, revision: Revision) -> Step:
    used = _used(filling, revision)
    stage, task = _WORK.get(used.item.kind, ("lines", "hold"))
    screw = used.item.screw
    return Step(stage, task, used=(used,), torque_nm=None if screw is None else screw.torque_nm)


def _held(used: tuple[Used, ...], hoses: tuple[LaidHose, ...]) -> Iterator[Step]:
    if hoses:
        yield Step("lines", "lay", tuple(hose.spot for hose in hoses), used, hoses=hoses)
    elif used:
        yield Step("lines", "hold", used=used)


def _seals(made: list[Step], request: Request, revision: Revision) -> Iterator[Step]:
    """For each port standard that is sealed by rings: those to look at, and the spots that they are at."""
    spots: dict[str, list[str]] = {}
    for step in made:
        if step.joint is not None:
            spots.setdefault(step.joint.opening.standard, []).extend(step.spots)
    for standard in revision.standards.among(spots):
        task = _SEALS.get(standard.seal)
        if task is not None:
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
