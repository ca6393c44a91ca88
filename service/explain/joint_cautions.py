"""What to mind when a joint is made, or when it must not be.

Sources: military maintenance manuals (flared nuts under pressure, special torques before general ones), encyclopaedic
and aviation texts on flares; common practice for the second wrench.
"""

from collections.abc import Iterator

from service.documents.answer import Reason
from service.domain.findings import Finding
from service.domain.joints import Join
from service.domain.parts import Item
from service.domain.revision import Revision, Standard
from service.domain.tongue import named, said, sentence
from service.explain import look_alikes
from service.explain.phrases import joined
from service.explain.reasons import broken, kept
from service.rules import elsewhere, mates, supply

FLARES = sentence("Never tighten or loosen a flared nut while the line holds pressure: it reads tight while it is not.")
_SCREWED = sentence(
    "Use a second wrench, so that neither hose nor rail is twisted. What the makers of the parts say comes before the "
    "figures told here."
)
_NOT_FORCED = sentence(
    "Never force ends of different standards together, even where one thread starts in the other: such a joint leaks."
)
_PORTS_ALONE = sentence(
    "Only the ports were compared. Whether the parts stand the fuel and the pressure, have room and flow enough, is "
    "for a bill to tell."
)


def cautions(join: Join, revision: Revision) -> list[Reason]:
    """What concerns the parts, then the joints that are made, then what was not looked at."""
    made = join.joints if join.bridge is None else join.bridge.joints
    standards = {one.opening.standard: revision.standards[one.opening.standard] for one, _ in made}
    return [
        *_of_parts(join),
        *_of_joints(list(standards.values())),
        *_of_gaps(join, revision),
        _mind(said(_PORTS_ALONE), compared="ports"),
    ]


def _mind(text: str, **facts: object) -> Reason:
    return {"rule": mates.RULE.id, "text": text, "facts": facts}


def _of_parts(join: Join) -> Iterator[Reason]:
    one, other = _sides(join)
    if one is not None and one is other:
        text = said(
            "Two pieces of {part} are meant: the ports of one piece are not joined to one another.",
            part=named(one.name),
        )
        yield _mind(text, sku=one.sku)
    for item in {item.sku: item for item in (one, other) if item is not None and not item.active}.values():
        facts = {"active": False, "superseded_by": item.superseded_by}
        yield _for_part(item, broken(Finding(supply.RULE.id, facts)))
    steps = () if join.bridge is None else join.bridge.steps
    for item in {step.item.sku: step.item for step in steps if not step.item.sold}.values():
        yield _for_part(item, kept(Finding(elsewhere.RULE.id, elsewhere.facts(None))))


def _sides(join: Join) -> tuple[Item | None, Item | None]:
    if join.joints:
        one, other = join.joints[0]
        return one.item, other.item
    return join.gaps[0].one.item, join.gaps[0].other.item


def _for_part(item: Item, reason: Reason) -> Reason:
    return {**reason, "text": f"{named(item.name)}: {reason['text']}", "facts": {"sku": item.sku, **reason["facts"]}}


def _of_joints(standards: list[Standard]) -> Iterator[Reason]:
    by_text: dict[str, list[Standard]] = {}
    for standard in standards:
        for text in standard.joint.cautions:
            by_text.setdefault(text, []).append(standard)
    for text, alike in by_text.items():
        names = joined([named(standard.name) for standard in alike])
        yield _mind(f"{names}: {named(text)}", standards=[standard.id for standard in alike])
    flared = [standard.id for standard in standards if standard.seal == "cone"]
    if flared:
        yield _mind(said(FLARES), standards=flared)
    screwed = [standard.id for standard in standards if standard.joint.make_up.method != "push-to-click"]
    if screwed:
        yield _mind(said(_SCREWED), standards=screwed)


def _of_gaps(join: Join, revision: Revision) -> Iterator[Reason]:
    apart = [gap for gap in join.gaps if "standard" in gap.differs]
    if apart:
        standards = sorted({end.opening.standard for gap in apart for end in (gap.one, gap.other)})
        yield _mind(said(_NOT_FORCED), standards=standards)
        yield from look_alikes.among(revision.standards[standard] for standard in standards)
