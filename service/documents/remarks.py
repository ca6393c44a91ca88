"""What is odd in a catalog that has no fault: told by `catalog check`, never in the way of an import."""

from collections.abc import Iterator
from typing import NamedTuple

from service.documents.catalog import Catalog, Fuel
from service.documents.catalog_joints import FlangeToFaceJoint, TorqueJoint
from service.documents.packed import PackedCatalog
from service.documents.pointers import pointer_to
from service.domain.sources import can_be_looked_up

_BY_HEATING_VALUE, _BY_AIR = 0.01, 0.05
"""By how much a fuel may ask for less energy than the first before it is told [-].

Heating values go about as the air that burns a fuel (2.95 to 3.1 MJ/kg of air for petrol, ethanol and methanol, from
the US DOE Properties of Fuels table), so the air alone is trusted less.
"""


class Remark(NamedTuple):
    """A place in the document, and what is odd there."""

    pointer: str
    text: str


def remarks(catalog: Catalog | PackedCatalog) -> list[Remark]:
    """All remarks, section by section."""
    return [*_of_standards(catalog), *_of_joints(catalog), *_of_fuels(catalog)]


def _of_standards(catalog: Catalog | PackedCatalog) -> Iterator[Remark]:
    for index, standard in enumerate(catalog.port_standards):
        if standard.gland is not None and not can_be_looked_up(standard.gland.source):
            pointer = pointer_to(("port_standards", index, "gland"))
            yield Remark(pointer, "no source that can be looked up: squeeze and fill of its ring are not judged")


def _of_joints(catalog: Catalog | PackedCatalog) -> Iterator[Remark]:
    for index, joint in enumerate(catalog.joints):
        told = isinstance(joint, TorqueJoint | FlangeToFaceJoint) and joint.min_nm is not None
        if told and not can_be_looked_up(joint.source):
            pointer = pointer_to(("joints", index, "source"))
            yield Remark(pointer, "no source that can be looked up: the torque is not shown, the part maker's is")


def _of_fuels(catalog: Catalog | PackedCatalog) -> Iterator[Remark]:
    first, *others = catalog.fuels
    for index, fuel in enumerate(others, 1):
        for name, figure, of_first in (
            ("na", fuel.bsfc_g_kwh.na, first.bsfc_g_kwh.na),
            ("boosted", fuel.bsfc_g_kwh.boosted, first.bsfc_g_kwh.boosted),
        ):
            least, allowed = _least_of(fuel, first, of_first)
            if figure < least * (1 - allowed):
                pointer = pointer_to(("fuels", index, "bsfc_g_kwh", name))
                yield Remark(
                    pointer,
                    f"{figure:g} g/kWh asks for less energy than {first.id} with {of_first:g}: its heating value lets "
                    f"expect some {least:.0f}, and an engine set up by less runs lean",
                )


def _least_of(fuel: Fuel, first: Fuel, of_first: float) -> tuple[float, float]:
    """What a fuel needs for as much energy as the first [g/kWh], and by how much that may be wrong [-]."""
    if fuel.lhv_mj_kg is not None and first.lhv_mj_kg is not None:
        return of_first * first.lhv_mj_kg / fuel.lhv_mj_kg, _BY_HEATING_VALUE
    return of_first * first.stoich_afr / fuel.stoich_afr, _BY_AIR
