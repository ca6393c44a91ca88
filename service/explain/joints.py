"""Whether two sides meet, in words: how each joint is made up, what stands between ports, what would join them."""

from typing import NamedTuple

from service.documents import joint as doc
from service.documents.money import money_of
from service.domain.joints import Bridge, Gap, Join, JointEnd, Step
from service.domain.parts import Port
from service.domain.revision import Revision
from service.domain.tongue import named, numbered, place, said, sentence, word
from service.explain.figures import written
from service.explain.joint_cautions import cautions
from service.explain.make_up import SEALED_BY, made_up
from service.explain.phrases import capital
from service.explain.safety import safety


def report_join(join: Join, revision: Revision) -> doc.JointAnswer:
    """The answer document of two sides that were compared."""
    told: doc.JointAnswer = {
        "revision": revision.number,
        **money_of(revision),
        "meets": bool(join.joints),
        "text": _summary(join, revision),
        "joints": [_meeting(*ends, revision) for ends in join.joints],
        "gap": [_gap(gap, revision) for gap in join.gaps],
        "bridge": None if join.bridge is None else _bridge(join.bridge, revision),
        "cautions": cautions(join, revision),
        "safety": safety(),
    }
    return written(told)


def _summary(join: Join, revision: Revision) -> str:
    if join.joints:
        ways = len(join.joints)
        return numbered(ways, "Yes, they meet.", "Yes, they meet, by {count} pairs of ports.", count=ways)
    if join.bridge is None:
        return said(
            "No, they do not meet, and no chain of at most {most} fittings and lines of this catalog joins them.",
            most=revision.policies.max_chain,
        )
    parts = len(join.bridge.steps)
    return numbered(
        parts,
        "No, they do not meet; {count} part joins them.",
        "No, they do not meet; {count} parts join them.",
        count=parts,
    )


def _meeting(one: JointEnd, other: JointEnd, revision: Revision) -> doc.Meeting:
    standard = revision.standards[one.opening.standard]
    called, facing = _called(one, other)
    male, female = (called, facing) if one.opening.end == "male" else (facing, called)
    joint = standard.joint
    return {
        "one": _port_told(one),
        "other": _port_told(other),
        "joint": {"id": joint.id, "method": joint.make_up.method, "text": made_up(standard, revision)},
        "text": said(
            "{male} goes into {female}; both are {standard}.",
            male=capital(male),
            female=female,
            standard=named(standard.name),
        ),
    }


def _gap(gap: Gap, revision: Revision) -> doc.GapTold:
    return {
        "one": _port_told(gap.one),
        "other": _port_told(gap.other),
        "differs": list(gap.differs),
        "text": _between(gap, revision),
    }


def _between(gap: Gap, revision: Revision) -> str:
    """What stands between two ports, in plain words."""
    standard, facing = (revision.standards[end.opening.standard] for end in (gap.one, gap.other))
    one, other = _called(gap.one, gap.other)
    end = word(gap.one.opening.end)
    told = {"one": capital(one), "other": other, "standard": named(standard.name), "facing": named(facing.name)}
    if "standard" not in gap.differs:
        return said(
            "{one} and {other} are both {standard}, and both {end}: a male end meets a female one.", **told, end=end
        )
    besides = said("Besides, both are {end}.", end=end)
    seals = {"seal": word(SEALED_BY[standard.seal]), "other_seal": word(SEALED_BY[facing.seal])}
    differs = said(_KIND_OF_GAP[_kind_of(gap)], **told, **seals)
    return f"{differs} {besides}" if "end" in gap.differs else differs


def _kind_of(gap: Gap) -> str:
    if "family" not in gap.differs:
        return "size" if "size" in gap.differs else "standard"
    return "family" if "seal" not in gap.differs else "seal"


_KIND_OF_GAP = {
    "size": sentence("{one} is {standard}; {other} is {facing}: the same kind of joint in another size."),
    "standard": sentence("{one} is {standard}; {other} is {facing}: the same kind of joint to another standard."),
    "family": sentence(
        "{one} is {standard}; {other} is {facing}: another kind of joint, though both are sealed by {seal}."
    ),
    "seal": sentence(
        "{one} is {standard}, sealed by {seal}; {other} is {facing}, sealed by {other_seal}: another kind of joint "
        "altogether."
    ),
}
"""By the largest thing that differs."""


def _bridge(bridge: Bridge, revision: Revision) -> doc.BridgeTold:
    one, other = _called(bridge.one, bridge.other)
    names = f"; {word('then')} ".join([named(step.item.name) for step in bridge.steps])
    told = said("From {one} to {other}: {names}.", one=one, other=other, names=names)
    lines = any(step.item.kind == "line" for step in bridge.steps)
    return {
        "items": [step.item.sku for step in bridge.steps],
        "price": sum(step.item.price for step in bridge.steps if step.item.sold),
        "chain": [_link(step, revision) for step in bridge.steps],
        "joints": [_meeting(*ends, revision) for ends in bridge.joints],
        "text": f"{told} {said(_NOT_BY_FITTINGS)}" if lines else told,
    }


_NOT_BY_FITTINGS = sentence("Fittings alone do not join them.")


def _link(step: Step, revision: Revision) -> doc.BridgeLink:
    item = step.item
    return {
        "sku": item.sku,
        "name": named(item.name),
        "sold": item.sold,
        "price": item.price,
        "enters": _link_port(step.enters),
        "leaves": _link_port(step.leaves),
        "open_ports": [_open_port(step, port, revision) for port in step.open_ports],
    }


def _link_port(port: Port) -> doc.LinkPort:
    return {"port": port.id, "standard": port.opening.standard, "end": port.opening.end}


def _open_port(step: Step, port: Port, revision: Revision) -> doc.OpenPort:
    told = said(
        "{port} stays open and needs a plug: {end} {standard}.",
        port=capital(_place(JointEnd(port.opening, step.item, port))),
        end=word(port.opening.mate.end),
        standard=named(revision.standards[port.opening.standard].name),
    )
    return {**_link_port(port), "text": told}


def _port_told(end: JointEnd) -> doc.PortTold:
    return {
        "sku": None if end.item is None else end.item.sku,
        "port": None if end.port is None else end.port.id,
        "standard": end.opening.standard,
        "end": end.opening.end,
    }


def _called(one: JointEnd, other: JointEnd) -> tuple[str, str]:
    """Both ends in words that tell them apart, also where both are bare or of two pieces of one item."""
    alike = one.item is other.item and (one.item is not None or one.opening.end == other.opening.end)
    return (_place(one, _ONE), _place(other, _OTHER)) if alike else (_place(one), _place(other))


class _Which(NamedTuple):
    """How one of two ends is told from the other: a bare one, and one of a piece."""

    bare: str = sentence("the bare {end} end")
    piece: str = sentence("{part}")


_ONLY = _Which()
_ONE = _Which(sentence("one bare {end} end"), sentence("one piece of {part}"))
_OTHER = _Which(sentence("the other bare {end} end"), sentence("the other piece of {part}"))


def _place(end: JointEnd, which: _Which = _ONLY) -> str:
    """An end in words, to stand within a sentence; `which` tells one of two alike."""
    male_or_female = word(end.opening.end)
    if end.item is None or end.port is None:
        return said(which.bare, end=male_or_female)
    name = said(which.piece, part=named(end.item.name))
    if end.port.spot is not None:
        return said("the {end} {spot} spot of {part}", end=male_or_female, spot=place(end.port.spot), part=name)
    if len(end.item.ports) == 1:
        return said("the {end} end of {part}", end=male_or_female, part=name)
    return said("the {end} {port} port of {part}", end=male_or_female, port=end.port.id, part=name)
