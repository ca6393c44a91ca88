"""Extras and cautions of a bill: what its joints need besides the parts, and what to mind at them."""

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import partial

from service.documents.answer import Extra, Reason
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision, Standard
from service.domain.tongue import named, numbered, said, sentence
from service.explain import look_alikes
from service.explain.reasons import kept, of_elsewhere
from service.explain.sheet_regulator import of_returns
from service.explain.telling import Telling, Told
from service.rules import RULES, flow, fuel, mates


def joints(bill: Bill, revision: Revision) -> dict[str, int]:
    """How many joints of each port standard are made, in the catalog's order."""
    made = bill.joints
    return {standard.id: made[standard.id] for standard in revision.standards.among(made)}


def extras(bill: Bill, telling: Telling) -> list[Extra]:
    """Sealant and the like once for all its joints, spare seals for the fuel one a joint; never in the price."""
    return telling.of_bill("extras", bill, partial(_extras, bill, telling.request, telling.revision))


def _extras(bill: Bill, request: Request, revision: Revision) -> list[Extra]:
    consumed: dict[str, list[str]] = {}
    spares: dict[str, tuple[int, list[str]]] = {}
    for standard, count in _standards(bill, revision):
        for sku in standard.joint.consumables:
            consumed.setdefault(sku, []).append(_count(count, standard))
        spare = fuel.spare_seal(standard.joint, request.fuel.id, revision)
        if spare is not None:
            qty, told = spares.get(spare[0].sku, (0, []))
            spares[spare[0].sku] = qty + count, [*told, _count(count, standard)]
    return [
        *(_extra(sku, 1, sentence("{name}: for {joints}."), told, revision) for sku, told in consumed.items()),
        *(_extra(sku, qty, _SPARE, told, revision) for sku, (qty, told) in spares.items()),
    ]


_SPARE = sentence("{name}: a spare for {joints}.")


def _extra(sku: str, qty: int, text: str, joints: list[str], revision: Revision) -> Extra:
    name = named(revision.items[sku].name)
    return {"sku": sku, "qty": qty, "text": said(text, name=name, joints=", ".join(joints))}


def _standards(bill: Bill, revision: Revision) -> Iterator[tuple[Standard, int]]:
    for standard, count in joints(bill, revision).items():
        yield revision.standards[standard], count


def _count(joints: int, standard: Standard) -> str:
    of = named(standard.name)
    return numbered(joints, "{count} joint of {standard}", "{count} joints of {standard}", count=joints, standard=of)


def cautions(bill: Bill, telling: Telling) -> tuple[Told, ...]:
    """Weak materials, parts bought elsewhere, paths that are not wholly rated, and what each kind of joint asks for."""
    unrated = [(path.duty, path.spots, path.unrated, path.hose_rated) for path in bill.paths]
    return telling.of_bill(("cautions", *unrated), bill, lambda: tuple(_cautions(bill, telling)))


def _cautions(bill: Bill, telling: Telling) -> Iterator[Told]:
    request, revision, cautioned = telling.request, telling.revision, telling.cautioned
    if bill.rail.sku == OWN_RAIL:
        yield from map(Told.of, _own_rail_cautions(request))
    yield from cautioned(("fuel", request.fuel), partial(_fuel_cautions, request))
    yield from map(Told.of, of_returns(bill, request))
    items = list(dict.fromkeys([bill.rail, *(item for placed in bill.chains for item in placed.chain.items)]))
    for item in items:
        yield from cautioned(("weak", item, request.fuel), partial(_weak, item, request, revision))
    yield from map(Told.of, _bought_elsewhere(bill, items, request))
    for facts in flow.unrated_facts(bill.paths, bill.side_plugs):
        yield Told.of(kept(Finding(flow.RULE.id, facts)))
    used, made = look_alikes.standards_of(bill), tuple(joints(bill, revision))
    yield from cautioned(("alike", used), partial(look_alikes.of_standards, used, revision))
    yield from cautioned(("joints", made), partial(_of_joints, bill, revision))


def _fuel_cautions(request: Request) -> list[Reason]:
    facts = {"fuel": request.fuel.id}
    return [{"rule": fuel.RULE.id, "text": named(text), "facts": facts} for text in request.fuel.cautions]


def _weak(item: Item, request: Request, revision: Revision) -> list[Reason]:
    """A part with a material that the fuel wears."""
    worst = fuel.worst(item, request.fuel.id, revision)
    if worst is None or worst[0] != fuel.WITH_CAUTION:
        return []
    facts = {
        "part": item.name,
        "fuel": request.fuel.name,
        "material": revision.materials[worst[1]].name,
        "rating": worst[0],
    }
    return [_for_part(item.name, kept(Finding(fuel.RULE.id, facts)))]


def _bought_elsewhere(bill: Bill, items: Iterable[Item], request: Request) -> Iterator[Reason]:
    got = Counter({bill.rail.sku: bill.banks if bill.rail.sku != OWN_RAIL else 0})
    got.update(item.sku for placed in bill.chains for item in placed.chain.items[int(placed.supplied) :])
    got.subtract(dict(request.have))
    for item in items:
        if not item.sold and got[item.sku] > 0:
            yield _for_part(item.name, kept(of_elsewhere(None)))


def _of_joints(bill: Bill, revision: Revision) -> list[Reason]:
    """What the joints of each port standard ask for."""
    found: list[Reason] = []
    for standard, _ in _standards(bill, revision):
        for text in standard.joint.cautions:
            caution: Reason = {
                "rule": mates.RULE.id,
                "text": f"{named(standard.name)}: {named(text)}",
                "facts": {"standard": standard.id},
            }
            found.append(caution)
    return found


def _own_rail_cautions(request: Request) -> list[Reason]:
    """What nobody has judged of a rail by somebody else."""
    told = ((rule.id, rule.not_judged(request)) for rule in RULES)
    return [{"rule": rule, "text": text, "facts": {"part": OWN_RAIL}} for rule, text in told if text is not None]


def _for_part(name: str, reason: Reason) -> Reason:
    return {**reason, "text": f"{named(name)}: {reason['text']}"}
