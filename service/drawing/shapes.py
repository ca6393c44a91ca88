"""What of a part its picture is drawn from: the catalog's own numbers, and nothing else."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from service.documents.catalog import Item, PortStandard
from service.domain.vehicles import place_of
from service.drawing.ends import USUAL_ACROSS_MM, End

_TUBE = re.compile(r"(\d+(?:\.\d+)?) mm")


class PartShape(NamedTuple):
    """A part as it is drawn; lengths mm, None: not told. `ends`: its ports in the catalog's order; `spots`: of a rail;
    `feet`: where along it its injectors are, as parts of its length."""

    kind: str
    standout_mm: float | None = None
    across_mm: float | None = None
    hex_mm: float | None = None
    drive: bool = False
    ends: tuple[End, ...] = ()
    spots: tuple[str, ...] = ()
    bore_mm: float | None = None
    long_mm: float | None = None
    wide_mm: float | None = None
    hole_mm: float | None = None
    feet: tuple[float, ...] = ()


def part_shape(item: Item, standards: Mapping[str, PortStandard]) -> PartShape:
    """What the catalog tells of an item's shape."""
    ends = tuple(_end(standards[port.standard], port.end) for port in item.ports)
    long_mm = wide_mm = hole_mm = None
    if item.ring is not None:
        hole_mm, wide_mm = item.ring.inside_mm, item.ring.inside_mm + 2 * item.ring.section_mm
    elif item.screw is not None:
        long_mm, wide_mm = item.screw.length_mm, item.screw.thread.diameter_mm
    elif item.spacer is not None:
        long_mm, wide_mm, hole_mm = item.spacer.height_mm, item.spacer.outside_mm, item.spacer.inside_mm
    elif item.flow is not None:
        long_mm = item.flow.length_mm
    return PartShape(
        item.kind,
        item.standout_mm,
        item.across_mm,
        item.hex_mm,
        item.drive is not None,
        ends,
        tuple(place_of(port.spot) for port in item.ports if port.spot),
        None if item.flow is None else item.flow.bore_mm,
        long_mm,
        wide_mm,
        hole_mm,
        _feet(item),
    )


def _feet(item: Item) -> tuple[float, ...]:
    if item.injector_positions_mm is None or item.flow is None:
        return ()
    return tuple(at / item.flow.length_mm for at in item.injector_positions_mm if at <= item.flow.length_mm)


def _end(standard: PortStandard, end: str) -> End:
    return End(standard.seal, end == "male", _across(standard))


def _across(standard: PortStandard) -> float:
    """How wide its thread is; of an end without one the tube, where its size tells that in mm."""
    if standard.thread is not None:
        return standard.thread.diameter_mm
    if standard.taper is not None:
        return standard.taper.outside_mm
    told = _TUBE.search(standard.size)
    across = USUAL_ACROSS_MM if told is None else float(told[1])
    return across if 2 <= across <= 100 else USUAL_ACROSS_MM
