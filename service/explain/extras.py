"""What the joints of a bill need besides the parts, and what to mind at them."""

from collections import Counter
from collections.abc import Iterator

from service.documents.answer import Extra, Reason
from service.domain import units
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.parts import OWN_RAIL
from service.domain.request import Request
from service.domain.revision import Revision, Standard
from service.explain import look_alikes
from service.explain.reasons import kept
from service.explain.sheet_regulator import of_returns
from service.rules import elsewhere, flow, fuel, wish


def joints(bill: Bill, revision: Revision) -> Counter[str]:
    """How many joints of each port standard are made, in the catalog's order."""
    return Counter({standard: bill.joints[standard] for standard in revision.standards if bill.joints[standard]})


def extras(bill: Bill, request: Request, revision: Revision) -> list[Extra]:
    """Sealant and the like once for all its joints, spare seals for the fuel one a joint; never in the price."""
    found: dict[str, Extra] = {}
    for standard, count in _standards(bill, revision):
        for sku in standard.joint.consumables:
            name = revision.items[sku].name
            extra = found.setdefault(sku, {"sku": sku, "qty": 1, "text": f"{name}: for"})
            extra["text"] += f"{',' if extra['text'][-3:] != 'for' else ''} {_count(count)} of {standard.name}"
    for standard, count in _standards(bill, revision):
        spare = fuel.spare_seal(standard.joint, request.fuel.id, revision)
        if spare is not None:
            seal = spare[0]
            extra = found.setdefault(
                f"{seal.sku}/spare", {"sku": seal.sku, "qty": 0, "text": f"{seal.name}: a spare for"}
            )
            extra["text"] += f"{',' if extra['qty'] else ''} {_count(count)} of {standard.name}"
            extra["qty"] += count
    return [{**extra, "text": extra["text"] + "."} for extra in found.values()]


def _standards(bill: Bill, revision: Revision) -> Iterator[tuple[Standard, int]]:
    for standard, count in joints(bill, revision).items():
        yield revision.standards[standard], count


def _count(joints: int) -> str:
    return "1 joint" if joints == 1 else f"{joints} joints"


def cautions(bill: Bill, request: Request, revision: Revision) -> list[Reason]:
    """Weak materials, parts bought elsewhere, paths that are not wholly rated, and what each kind of joint asks for."""
    found: list[Reason] = _own_rail_cautions(request) if bill.rail.sku == OWN_RAIL else []
    found += [
        {"rule": fuel.RULE.id, "text": text, "facts": {"fuel": request.fuel.id}} for text in request.fuel.cautions
    ]
    found += of_returns(bill, request)
    fuel_id = request.fuel.id
    items = {item.sku: item for item in (bill.rail, *(item for placed in bill.chains for item in placed.chain.items))}
    for item in items.values():
        worst = fuel.worst(item, fuel_id, revision)
        if worst is not None and worst[0] == fuel.WITH_CAUTION:
            names = {
                "part": item.name,
                "fuel": revision.fuels[fuel_id].name,
                "material": revision.materials[worst[1]].name,
            }
            found.append(_for_part(item.name, kept(Finding(fuel.RULE.id, {**names, "rating": worst[0]}))))
    got = Counter({bill.rail.sku: bill.banks if bill.rail.sku != OWN_RAIL else 0})
    got.update(item.sku for placed in bill.chains for item in placed.chain.items[int(placed.supplied) :])
    got.subtract(dict(request.have))
    found += [
        _for_part(item.name, kept(Finding(elsewhere.RULE.id, elsewhere.facts(None))))
        for item in items.values()
        if not item.sold and got[item.sku] > 0
    ]
    found += [
        kept(Finding(flow.RULE.id, facts))
        for path in bill.paths
        for facts in [flow.unrated_facts(path, bill.side_plugs)]
        if facts["unrated"] or facts["hose_unrated"]
    ]
    found += look_alikes.of_bill(bill, revision)
    for standard, _ in _standards(bill, revision):
        for text in standard.joint.cautions:
            caution: Reason = {
                "rule": "mates",
                "text": f"{standard.name}: {text}",
                "facts": {"standard": standard.id},
            }
            found.append(caution)
    return found


_NOT_JUDGED = {
    "fuel": "Whether your own rail stands {fuel} was not judged: ask its maker, seals and inside finish included.",
    "pressure": "Whether your own rail stands {pressure} was not judged: ask its maker.",
    "mounting": "How your own rail is mounted was not judged, and no mounting parts are listed: see to it that it is "
    "held so that nothing strains or rubs.",
    "wish": "Whether your own rail has the finish {finish} was not judged.",
}


def _own_rail_cautions(request: Request) -> list[Reason]:
    """What nobody has judged of a rail by somebody else."""
    told = {
        "fuel": request.fuel.name,
        "pressure": units.pressure(request.pressure_kpa),
        "finish": request.finish,
    }
    return [
        {"rule": rule, "text": text.format(**told), "facts": {"part": OWN_RAIL}}
        for rule, text in _NOT_JUDGED.items()
        if rule != wish.RULE.id or request.finish is not None
    ]


def _for_part(name: str, reason: Reason) -> Reason:
    return {**reason, "text": f"{name}: {reason['text']}"}
