"""What an object of the catalog must be by itself, whoever brings it: its shape, and its name."""

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel, TypeAdapter, ValidationError

from service.documents.catalog import Catalog, Maker, Policies
from service.documents.faults import faults_of
from service.documents.fuel_order import FUEL_ORDER, FuelOrder
from service.documents.nearest import nearest
from service.documents.packed import ONCE, SECTIONS, adapter, canonical, id_of
from service.documents.rendering import rendered
from service.usecases.errors import RequestFault, RequestFaultsError

_ALONE: dict[str, TypeAdapter[Any]] = {
    "maker": TypeAdapter(Maker),
    "policies": TypeAdapter(Policies),
    FUEL_ORDER: TypeAdapter(FuelOrder),
}


def checked(section: str, key: str, value: Any) -> str:
    """The canonical JSON of an object of a section. Raises RequestFaultsError, each fault with its pointer."""
    above = "" if section == FUEL_ORDER else f"/{section}" if section in ONCE else f"/{section}/0"
    try:
        document: BaseModel = (_ALONE.get(section) or adapter(section)).validate_python(value)
    except ValidationError as error:
        faults = faults_of(error, above, FuelOrder if section == FUEL_ORDER else Catalog)
        raise RequestFaultsError(
            tuple(RequestFault(x.pointer.removeprefix(above), x.found, x.expected) for x in faults)
        ) from None
    if section in SECTIONS and (told := getattr(document, id_of(section))) != key:
        raise RequestFaultsError((RequestFault(f"/{id_of(section)}", rendered(told), f"{key}, as the path has it"),))
    return canonical(document)


def check_order_of(fuels: Mapping[str, str], order: Sequence[str]) -> None:
    """Raise RequestFaultsError for an order that names what is no fuel, or a fuel twice."""
    faults = []
    for place, id_ in enumerate(order):
        if id_ not in fuels:
            near = tuple(nearest(id_, fuels))
            faults.append(RequestFault(f"/fuels/{place}", rendered(id_), "the id of a fuel of the draft", near))
        elif id_ in order[:place]:
            faults.append(RequestFault(f"/fuels/{place}", rendered(id_), "each fuel once"))
    if faults:
        raise RequestFaultsError(tuple(faults))
