"""Words an assembly sheet: the facts of a bill's assembly into the document."""

from collections.abc import Iterator

from service.documents import sheet as doc
from service.documents.answer import Bill, Reason
from service.documents.money import money_of
from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision, Standard
from service.domain.sheet import STAGES, Sheet, Stage, Step
from service.explain.figures import written
from service.explain.joint_cautions import FLARES
from service.explain.safety import SAFETY
from service.explain.sheet_joints import joint_words, made_up
from service.explain.sheet_rails import rail_told
from service.explain.sheet_tasks import task_words
from service.explain.sheet_tightening import of_screw, of_standard
from service.explain.sheet_tools import tools
from service.explain.sheet_words import Words
from service.rules import mates

STAGE_TITLES: dict[Stage, str] = {
    "relieve": "Relieve the pressure",
    "disconnect": "Disconnect",
    "clean": "Clean the ports",
    "seals": "Check and oil the seals",
    "bench": "On the bench: what goes into the rail",
    "spacers": "Spacers",
    "rail": "Rail",
    "screws": "Screws",
    "fittings": "After the rail: what room keeps off the bench",
    "lines": "Lines",
    "gauge": "Gauge",
    "back-on": "What came off goes back",
    "leak-check": "Leak check at pressure",
    "heat-check": "Check after the first heat",
}
_AT_WORK = (
    (
        "Take off rings, watches and chains before the battery is touched. No pits, no closed garage with a heater "
        "running, no smoking, no hot lamps: vapour collects low down."
    ),
    (
        "Wipe up spills at once; keep fuel rags in a closed metal container outdoors. Take off soaked clothing, and "
        "wash the skin."
    ),
)


def report_sheet(sheet: Sheet, bill: Bill, request: Request, revision: Revision) -> doc.Sheet:
    """The document of a sheet; `bill` is that of its bill."""
    base = units.pressure(request.regulated_kpa)
    steps = [_step(step, number, sheet, request, revision) for number, step in enumerate(sheet.steps, 1)]
    made = {step.stage for step in sheet.steps}
    told: doc.Sheet = {
        "revision": revision.number,
        **money_of(revision),
        "key": bill["key"],
        "title": f"{request.chassis.name}: {request.layout.name}",
        "text": f"{request.layout.summary} Fuel: {request.fuel.name}. Pressure with the engine off: {base}.",
        "power": bill["power"],
        "safety": [*SAFETY, *_AT_WORK],
        "cautions": [*bill["cautions"], *_of_flares(sheet, revision)],
        "tools": tools(sheet, request, revision),
        "consumables": bill["extras"],
        "rails": [rail_told(rail) for rail in sheet.rails],
        "stages": [{"stage": stage, "title": STAGE_TITLES[stage]} for stage in STAGES if stage in made],
        "steps": steps,
        "sources": _sources(sheet, revision),
    }
    return written(told)


def _sources(sheet: Sheet, revision: Revision) -> list[doc.JointSource]:
    """The sources of the figures for the joints that are made, each kind once, where the catalog tells them."""
    made = dict.fromkeys(step.joint.opening.standard for step in sheet.steps if step.joint is not None)
    standards = (revision.standards[standard] for standard in made)
    return [{"standard": x.id, "name": x.name, "text": x.joint.source} for x in standards if _has_figures(x)]


def _has_figures(standard: Standard) -> bool:
    told = of_standard(standard)
    figures = (told["torque"], told["past_hand_tight"], told["threads"])
    return bool(standard.joint.source) and any(figure is not None for figure in figures)


def _of_flares(sheet: Sheet, revision: Revision) -> Iterator[Reason]:
    joints = (step.joint for step in sheet.steps if step.joint is not None)
    used = dict.fromkeys(joint.opening.standard for joint in joints)
    flared = [standard for standard in used if revision.standards[standard].seal == "cone"]
    if flared:
        yield {"rule": mates.RULE.id, "text": FLARES, "facts": {"standards": flared}}


def _step(step: Step, number: int, sheet: Sheet, request: Request, revision: Revision) -> doc.SheetStep:
    words = _words(step, sheet, request, revision)
    joint = step.joint
    return {
        "number": number,
        "stage": step.stage,
        "title": words.title,
        "spots": list(step.spots),
        "parts": [{"sku": used.item.sku, "name": used.item.name, "qty": used.qty} for used in step.used],
        "standard": step.standard if joint is None else joint.opening.standard,
        "onto": None if joint is None else joint.onto.sku,
        "tightening": _tightening(step, revision),
        "make_up": None if joint is None else made_up(revision.standards[joint.opening.standard]),
        "text": words.text,
        "look_for": words.look_for,
        "wrong": words.wrong,
        "then": words.then,
    }


def _words(step: Step, sheet: Sheet, request: Request, revision: Revision) -> Words:
    if step.joint is not None:
        return joint_words(step, step.joint, revision.standards[step.joint.opening.standard])
    return task_words(step, sheet, request, revision)


def _tightening(step: Step, revision: Revision) -> doc.Tightening | None:
    if step.joint is not None:
        return of_standard(revision.standards[step.joint.opening.standard])
    return of_screw(step.torque_nm) if step.task == "screw" or step.torque_nm is not None else None
