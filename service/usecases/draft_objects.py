"""What an object of the catalog must be by itself, whoever brings it: its shape, and its name."""

from typing import Any

from pydantic import BaseModel, TypeAdapter, ValidationError

from service.documents.catalog import Catalog, Maker, Policies
from service.documents.faults import faults_of
from service.documents.packed import ONCE, SECTIONS, adapter, canonical, id_of
from service.documents.rendering import rendered
from service.usecases.errors import RequestFault, RequestFaultsError

_ALONE: dict[str, TypeAdapter[Any]] = {"maker": TypeAdapter(Maker), "policies": TypeAdapter(Policies)}


def checked(section: str, key: str, value: Any) -> str:
    """The canonical JSON of an object of a section. Raises RequestFaultsError, each fault with its pointer."""
    above = f"/{section}" if section in ONCE else f"/{section}/0"
    try:
        document: BaseModel = (_ALONE.get(section) or adapter(section)).validate_python(value)
    except ValidationError as error:
        faults = faults_of(error, above, Catalog)
        raise RequestFaultsError(
            tuple(RequestFault(x.pointer.removeprefix(above), x.found, x.expected) for x in faults)
        ) from None
    if section in SECTIONS and (told := getattr(document, id_of(section))) != key:
        raise RequestFaultsError((RequestFault(f"/{id_of(section)}", rendered(told), f"{key}, as the path has it"),))
    return canonical(document)
