"""What must hold between the parts of a catalog; the shape of each part is the catalog document's own affair.

The checks read the arriving JSON, not the shaped parts: a fault in the shape of a part hides none elsewhere.
"""

from collections.abc import Iterator
from itertools import chain

from service.documents.alias_integrity import alias_faults
from service.documents.arriving import Part
from service.documents.contract_integrity import contract_faults
from service.documents.engineering_integrity import engineering_faults
from service.documents.faults import Fault, unit_of
from service.documents.item_integrity import item_faults
from service.documents.language_integrity import language_faults
from service.documents.references import doubled_ports, reference_faults
from service.documents.rendering import rendered
from service.documents.spot_integrity import spot_faults


def integrity_faults(data: object) -> Iterator[Fault]:
    """Yield all that does not hold between the parts of a catalog document (parsed JSON of any kind)."""
    if isinstance(data, dict):
        catalog = Part((), data)
        yield from reference_faults(catalog)
        yield from item_faults(catalog)
        yield from alias_faults(catalog)
        yield from spot_faults(catalog)
        yield from engineering_faults(catalog)
        yield from contract_faults(catalog)
        yield from language_faults(catalog)
        yield from _range_faults(catalog)
        yield from _roughness_faults(catalog)


def faults_within_items(catalog: Part) -> Iterator[Fault]:
    """Yield what does not hold within single items, whatever else is in the catalog."""
    yield from doubled_ports(catalog)
    yield from item_faults(catalog)
    yield from alias_faults(catalog)
    yield from engineering_faults(catalog)
    yield from _roughness_faults(catalog)


def _range_faults(catalog: Part) -> Iterator[Fault]:
    for joint in catalog.parts("joints"):
        for unit in ("nm", "deg", "threads"):
            yield from _range(joint, f"min_{unit}", f"max_{unit}")
    for material in catalog.parts("materials"):
        yield from _range(material, "min_c", "max_c")
    for chassis in catalog.parts("chassis"):
        for hookup in chassis.parts("hookups"):
            for reach in hookup.members("spots").values():
                yield from _range(reach, "min_mm", "max_mm")


def _range(part: Part, low_name: str, high_name: str) -> Iterator[Fault]:
    low, high = part.number(low_name), part.number(high_name)
    if low is not None and high is not None and low > high:
        unit = unit_of(low_name)
        words = f"{rendered(low)} {unit}" if unit else rendered(low)
        yield part.fault(f"at least {low_name}, which is {words}", high_name)


def _roughness_faults(catalog: Part) -> Iterator[Fault]:
    hookups = (hookup for chassis in catalog.parts("chassis") for hookup in chassis.parts("hookups"))
    layout_hookups = (
        hookup
        for layout in catalog.parts("layouts")
        for placement in layout.parts("placements")
        for entry in placement.inner_parts().values()
        if (hookup := entry.part("hookup"))
    )
    for holder in chain(catalog.parts("items"), hookups, layout_hookups):
        flow = holder.part("flow")
        bore = flow.number("bore_mm") if flow else None
        roughness = flow.number("roughness_mm") if flow else None
        if flow and bore is not None and roughness is not None and 2 * roughness >= bore:
            yield flow.fault(f"below half the bore_mm, which is {rendered(bore)} mm", "roughness_mm")
