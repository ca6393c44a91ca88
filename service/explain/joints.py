"""Whether two sides meet, in words: how each joint is made up, what stands between ports, what would join them."""

from service.documents import joint as doc
from service.documents.money import money_of
from service.domain.joints import Bridge, Gap, Join, JointEnd, Step
from service.domain.parts import Port
from service.domain.revision import Revision
from service.explain.figures import written
from service.explain.joint_cautions import cautions
from service.explain.make_up import SEALED_BY, made_up
from service.explain.phrases import capital
from service.explain.safety import SAFETY


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
        "safety": list(SAFETY),
    }
    return written(told)


def _summary(join: Join, revision: Revision) -> str:
    if join.joints:
        ways = len(join.joints)
        return "Yes, they meet." if ways == 1 else f"Yes, they meet, by {ways} pairs of ports."
    if join.bridge is None:
        most = revision.policies.max_chain
        return f"No, they do not meet, and no chain of at most {most} fittings and lines of this catalog joins them."
    parts = len(join.bridge.steps)
    return f"No, they do not meet; {'1 part joins' if parts == 1 else f'{parts} parts join'} them."


def _meeting(one: JointEnd, other: JointEnd, revision: Revision) -> doc.Meeting:
    standard = revision.standards[one.opening.standard]
    named, facing = _named(one, other)
    male, female = (named, facing) if one.opening.end == "male" else (facing, named)
    joint = standard.joint
    return {
        "one": _port_told(one),
        "other": _port_told(other),
        "joint": {"id": joint.id, "method": joint.make_up.method, "text": made_up(standard, revision)},
        "text": f"{capital(male)} goes into {female}; both are {standard.name}.",
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
    named, other = _named(gap.one, gap.other)
    end = gap.one.opening.end
    if "standard" not in gap.differs:
        return f"{capital(named)} and {other} are both {standard.name}, and both {end}: a male end meets a female one."
    ends = f" Besides, both are {end}." if "end" in gap.differs else ""
    if "family" not in gap.differs:
        but = "in another size" if "size" in gap.differs else "to another standard"
        return f"{capital(named)} is {standard.name}; {other} is {facing.name}: the same kind of joint {but}.{ends}"
    if "seal" not in gap.differs:
        kind = f"another kind of joint, though both are sealed by {SEALED_BY[standard.seal]}"
        return f"{capital(named)} is {standard.name}; {other} is {facing.name}: {kind}.{ends}"
    return (
        f"{capital(named)} is {standard.name}, sealed by {SEALED_BY[standard.seal]}; {other} is {facing.name}, "
        f"sealed by {SEALED_BY[facing.seal]}: another kind of joint altogether.{ends}"
    )


def _bridge(bridge: Bridge, revision: Revision) -> doc.BridgeTold:
    named, other = _named(bridge.one, bridge.other)
    names = "; then ".join(step.item.name for step in bridge.steps)
    lines = any(step.item.kind == "line" for step in bridge.steps)
    return {
        "items": [step.item.sku for step in bridge.steps],
        "price": sum(step.item.price for step in bridge.steps if step.item.sold),
        "chain": [_link(step, revision) for step in bridge.steps],
        "joints": [_meeting(*ends, revision) for ends in bridge.joints],
        "text": f"From {named} to {other}: {names}.{' Fittings alone do not join them.' if lines else ''}",
    }


def _link(step: Step, revision: Revision) -> doc.BridgeLink:
    item = step.item
    return {
        "sku": item.sku,
        "name": item.name,
        "sold": item.sold,
        "price": item.price,
        "enters": _link_port(step.enters),
        "leaves": _link_port(step.leaves),
        "open_ports": [_open_port(step, port, revision) for port in step.open_ports],
    }


def _link_port(port: Port) -> doc.LinkPort:
    return {"port": port.id, "standard": port.opening.standard, "end": port.opening.end}


def _open_port(step: Step, port: Port, revision: Revision) -> doc.OpenPort:
    plug = f"{port.opening.mate.end} {revision.standards[port.opening.standard].name}"
    place = _place(JointEnd(port.opening, step.item, port))
    return {**_link_port(port), "text": f"{capital(place)} stays open and needs a plug: {plug}."}


def _port_told(end: JointEnd) -> doc.PortTold:
    return {
        "sku": None if end.item is None else end.item.sku,
        "port": None if end.port is None else end.port.id,
        "standard": end.opening.standard,
        "end": end.opening.end,
    }


def _named(one: JointEnd, other: JointEnd) -> tuple[str, str]:
    """Both ends in words that tell them apart, also where both are bare or of two pieces of one item."""
    alike = one.item is other.item and (one.item is not None or one.opening.end == other.opening.end)
    return (_place(one, "one "), _place(other, "the other ")) if alike else (_place(one), _place(other))


def _place(end: JointEnd, which: str = "") -> str:
    """An end in words, to stand within a sentence; `which` tells one of two alike."""
    if end.item is None or end.port is None:
        return f"{which or 'the '}bare {end.opening.end} end"
    name = f"{which}piece of {end.item.name}" if which else end.item.name
    if end.port.spot is not None:
        return f"the {end.opening.end} {end.port.spot} spot of {name}"
    port = "end" if len(end.item.ports) == 1 else f"{end.port.id} port"
    return f"the {end.opening.end} {port} of {name}"
