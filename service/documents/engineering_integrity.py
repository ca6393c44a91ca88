"""What must hold of the data for engineering: which kind of thing may tell what, what rises, what lies within what."""

from collections.abc import Iterator
from itertools import pairwise

from service.documents.arriving import Part
from service.documents.faults import Fault, unit_of
from service.documents.fields import PLACES
from service.documents.rendering import rendered
from service.documents.taper_integrity import taper_faults

_KIND_OF = {
    "ring": "seal",
    "screw": "fastener",
    "spacer": "spacer",
    "seats": "rail",
    "injector_positions_mm": "rail",
    "spot_positions_mm": "rail",
    "regulates": "regulator",
    "min_bend_mm": "line",
}
"""Fields of an item that one kind alone has."""

_SEAL_OF = {"gland": "o-ring", "taper": "taper"}
"""Fields of a port standard that one kind of seal alone has."""


_ABSOLUTE_ZERO_C = -273.15


def engineering_faults(catalog: Part) -> Iterator[Fault]:
    """Yield what does not hold, section by section."""
    for standard in catalog.parts("port_standards"):
        yield from _of_one_kind(standard, "seal", _SEAL_OF)
        yield from _below(standard.part("thread"), "pitch_mm", "diameter_mm")
        yield from _gland(standard.part("gland"))
        yield from _below(standard.part("taper"), "pitch_mm", "outside_mm")
    for fuel in catalog.parts("fuels"):
        yield from _course(fuel, "vapour", ("c", "kpa_abs"), ())
        for point in fuel.parts("vapour"):
            if point.number("c") == _ABSOLUTE_ZERO_C:
                yield point.fault("more than absolute zero", "c")
    for item in catalog.parts("items"):
        yield from _of_one_kind(item, "kind", _KIND_OF)
        yield from _item(item)
    for chassis in catalog.parts("chassis"):
        yield from curve_faults(chassis)
        if chassis.has("pump_v") and not chassis.has("pump"):
            yield chassis.fault("the pump's curve as well, in the field pump", "pump_v")
        yield from _below(chassis.part("manifold"), "cold_c", "hot_c")
    yield from taper_faults(catalog)
    policies = catalog.part("policies")
    yield from _range(policies.part("squeeze") if policies else None)


def _gland(gland: Part | None) -> Iterator[Fault]:
    """Room is left where every tolerance is against it."""
    yield from _below(gland, "inside_mm", "outside_mm")
    yield from _more_than_tolerance(gland, "depth_mm", "depth_tol_mm")
    if gland is None:
        return
    inside, outside, tol = (gland.number(name) for name in ("inside_mm", "outside_mm", "diameter_tol_mm"))
    if inside is not None and outside is not None and tol is not None and inside < outside <= inside + 2 * tol:
        yield gland.fault("less than half of what outside_mm is more than inside_mm", "diameter_tol_mm")


def _more_than_tolerance(part: Part | None, size_name: str, tolerance_name: str) -> Iterator[Fault]:
    size, tol = (part.number(size_name), part.number(tolerance_name)) if part else (None, None)
    if part and size is not None and tol is not None and 0 < size <= tol:
        yield part.fault(f"less than {size_name}, which is {rendered(size)} mm", tolerance_name)


def curve_faults(part: Part) -> Iterator[Fault]:
    """Yield the faults of a pump's curve, the field `pump`: pressure rises along it, flow never does."""
    yield from _course(part, "pump", ("kpa",), ("l_h",))


def _item(item: Part) -> Iterator[Fault]:
    screw = item.part("screw")
    if screw:
        yield from _below(screw.part("thread"), "pitch_mm", "diameter_mm")
        for name in ("torque_nm", "nut_factor"):
            yield from _range(screw.part(name))
    yield from _more_than_tolerance(item.part("ring"), "inside_mm", "inside_tol_mm")
    yield from _more_than_tolerance(item.part("ring"), "section_mm", "section_tol_mm")
    yield from _below(item.part("spacer"), "inside_mm", "outside_mm")
    yield from _range(item.part("regulates"), "min_kpa", "max_kpa")
    positions = [(path, value) for path, value in item.elements("injector_positions_mm")]
    for (_, low), (path, value) in pairwise(positions):
        if isinstance(low, int | float) and isinstance(value, int | float) and value <= low:
            yield item.fault(f"more than the position before, {rendered(low)} mm", *path[-2:], found=rendered(value))
    spots = {port.text("spot") for port in item.parts("ports")}
    told = item.part("spot_positions_mm")
    for place in told.fields if told and item.text("kind") == "rail" else ():
        if place in PLACES and place not in spots:
            known = ", ".join(place for place in PLACES if place in spots) or "none"
            yield item.fault(f"a spot that this rail has: {known}", "spot_positions_mm", place)


def _of_one_kind(part: Part, name: str, fields: dict[str, str]) -> Iterator[Fault]:
    kind = part.text(name)
    for field in fields.keys() & part.fields.keys():
        wanted = fields[field]
        if part.has(field) and kind is not None and kind != wanted:
            yield part.fault(f"nothing: only a {name} of {wanted} has it", field, found=rendered(part.fields[field]))


def _course(part: Part, name: str, rising: tuple[str, ...], falling: tuple[str, ...]) -> Iterator[Fault]:
    """From point to point some fields rise, by more than no gauge tells, others never do."""
    for before, point in pairwise(part.parts(name)):
        for field, must_rise in (*((x, True) for x in rising), *((x, False) for x in falling)):
            low, high = before.number(field), point.number(field)
            if low is None or high is None:
                continue
            words = f"the {rendered(low)} {unit_of(field) or unit_of(f'_{field}')} of the point before"
            if must_rise and round(high, 6) <= round(low, 6):
                yield point.fault(f"more than {words}", field)
            elif not must_rise and high > low:
                yield point.fault(f"at most {words}", field)


def _below(part: Part | None, low_name: str, high_name: str) -> Iterator[Fault]:
    low, high = (part.number(low_name), part.number(high_name)) if part else (None, None)
    if part and low is not None and high is not None and low >= high:
        yield part.fault(f"more than {low_name}, which is {rendered(low)} {unit_of(low_name)}", high_name)


def _range(part: Part | None, low_name: str = "min", high_name: str = "max") -> Iterator[Fault]:
    low, high = (part.number(low_name), part.number(high_name)) if part else (None, None)
    if part and low is not None and high is not None and low > high:
        words = f"{rendered(low)} {unit_of(low_name)}".rstrip()
        yield part.fault(f"at least {low_name}, which is {words}", high_name)
