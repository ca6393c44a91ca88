"""What to have at hand, from what the steps ask for; sizes as the catalog tells them."""

import math
from collections.abc import Iterable, Iterator
from fractions import Fraction

from service.domain import units
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.domain.vehicles import OWN_HOSE
from service.explain.phrases import listed
from service.explain.sheet_tightening import of_screw, of_standard

_ALWAYS = (
    "Eye protection, fuel-resistant gloves, a class B extinguisher within reach",
    "Catch pan, lint-free cloths, dry paper, lamp, mirror, caps for open lines, a closed metal container for fuel rags",
)
_STEP_KPA = 10.0
_GAUGE_PART = 0.75
"""Part of its scale that steady pressure may take of a gauge [-]. Source: EN 837-2."""


def tools(sheet: Sheet, request: Request, revision: Revision) -> list[str]:
    """Each tool, as a line of a list."""
    methods = {method for step in sheet.steps if (method := _method(step, revision)) is not None}
    told = list(_ALWAYS)
    if methods - {"push-to-click"}:
        told += _wrenches(sheet, revision)
    if any(step.stage == "bench" for step in sheet.steps):
        told.append("Vice with soft jaws, for the rail on the bench")
    torques = sorted(_torques(sheet, revision))
    if torques:
        told.append(f"Torque wrench that covers {_span(torques[0], torques[-1])}")
    if "push-to-click" in methods:
        told.append("Release tool for the quick connectors")
    told += _for_screws(sheet)
    told += _for_addons(sheet)
    told.append("Paint pen, to count flats and to mark each joint when it is done")
    if not any(spot.duty == "gauge" for rail in sheet.rails for spot in rail.spots):
        least = math.ceil(request.pressure_kpa / _GAUGE_PART / _STEP_KPA) * _STEP_KPA
        told.append(
            f"Test gauge of at least {units.pressure(least)}, so that it reads within three quarters of its scale"
        )
    return told


def _method(step: Step, revision: Revision) -> str | None:
    return None if step.joint is None else revision.standards[step.joint.opening.standard].joint.make_up.method


def _wrenches(sheet: Sheet, revision: Revision) -> Iterator[str]:
    """Wrenches and keys for all that is screwed together, and whose size the catalog does not tell."""
    joints = [step.joint for step in sheet.steps if step.joint and _method(step, revision) != "push-to-click"]
    parts = _once(part for joint in joints for part in (joint.part, None if joint.at_rail else joint.onto) if part)
    hoses = [joint.hose for joint in joints if joint.hookup_kind == OWN_HOSE]
    sizes = [part.hex_mm for part in parts] + [None if hose is None else hose.hex_mm for hose in hoses]
    hexes = sorted({mm for mm in sizes if mm is not None})
    if hexes:
        yield f"Open-ended wrenches {listed([_hex(mm) for mm in hexes])}, and a second one to hold with"
    else:
        yield "Open-ended wrenches, two of a kind for joints that are held: one turns, one holds"
    keys = sorted({part.drive for part in parts if part.drive is not None and part.hex_mm is None})
    if keys:
        yield f"For plugs: {listed(keys)}"
    missing = [part.name for part in parts if part.hex_mm is None and part.drive is None]
    missing += ["the nut of your own hose"] if any(hose is None or hose.hex_mm is None for hose in hoses) else []
    if missing:
        yield f"Measure first, as no size is told: {'; '.join(missing)}"


def _for_screws(sheet: Sheet) -> Iterator[str]:
    screws = _once(used.item for step in sheet.steps if step.task == "screw" for used in step.used)
    if screws:
        yield f"Key or socket for the rail's screws: {_sizes(screws)}"


def _for_addons(sheet: Sheet) -> Iterator[str]:
    for step in sheet.steps:
        if step.task == "addon-on" and step.used:
            name = step.addons[0].partition(",")[0]
            yield f"Key or socket for {name}: {_sizes([used.item for used in step.used])}"


def _sizes(screws: list[Item]) -> str:
    sizes = sorted({size for screw in screws if (size := _size(screw)) is not None})
    missing = [screw.name for screw in screws if _size(screw) is None]
    return "; ".join([*([listed(sizes)] if sizes else []), *(f"size not told of {name}" for name in missing)])


def _size(part: Item) -> str | None:
    return part.drive if part.hex_mm is None else _hex(part.hex_mm)


def _once(parts: Iterable[Item]) -> list[Item]:
    return list({part.sku: part for part in parts}.values())


def _hex(mm: float) -> str:
    """A size across flats; of an inch size its fraction as well, as it stands on the wrench."""
    sixteenths = round(mm / units.MM_PER_IN * 16)
    if sixteenths and abs(sixteenths / 16 * units.MM_PER_IN - mm) < _SAME_HEX_MM and not _is_whole(mm):
        return f"{mm:g} mm ({_inches(Fraction(sixteenths, 16))} in)"
    return f"{mm:g} mm"


_SAME_HEX_MM = 0.1


def _is_whole(mm: float) -> bool:
    return float(mm).is_integer()


def _inches(size: Fraction) -> str:
    whole, part = divmod(size, 1)
    return " ".join(str(x) for x in (whole, part) if x)


def _torques(sheet: Sheet, revision: Revision) -> Iterator[float]:
    for step in sheet.steps:
        if step.joint is not None:
            torque = of_standard(revision.standards[step.joint.opening.standard])["torque"]
        else:
            torque = of_screw(step.torque_nm)["torque"]
        if torque is not None:
            yield from (value for value in (torque["min_nm"], torque["max_nm"]) if value is not None)


def _span(least: float, most: float) -> str:
    return units.torque(least) if least == most else f"{units.torque(least)} to {units.torque(most)}"
