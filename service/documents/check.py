"""The check of a whole catalog: the catalog, or every fault at once."""

from collections.abc import Iterable
from typing import Any

from pydantic import ValidationError

from service.documents.catalog import Catalog
from service.documents.faults import Fault, faults_of
from service.documents.integrity import integrity_faults
from service.documents.pointers import pointer_to, segments_of


class CatalogFaultsError(ValueError):
    """Raised for a catalog that is refused; `faults` lists all that is wrong with it, in document order."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        count = f"{len(faults)} faults" if len(faults) > 1 else "1 fault"
        first = faults[0]
        super().__init__(f"{count}; at {first.pointer!r}: found {first.found}, expected {first.expected}")
        self.faults = faults


def check_catalog(data: object, known_faults: Iterable[Fault] = ()) -> Catalog:
    """Read a catalog document (parsed JSON of any kind).

    `known_faults` are those met while the document was read: there, and above, nothing more is told.

    Raises:
        CatalogFaultsError: with every fault, in the shape of the parts and between them.
    """
    catalog, shape_faults = _shaped(data)
    faults = list(known_faults)
    told = {above for fault in faults for above in _with_those_above(fault.pointer)}
    faults += [fault for fault in shape_faults if fault.pointer not in told]
    told.update(fault.pointer for fault in shape_faults)
    faults += [fault for fault in integrity_faults(data) if fault.pointer not in told]
    if catalog is None or faults:
        raise CatalogFaultsError(tuple(_in_document_order(faults, data)))
    return catalog


def _shaped(data: object) -> tuple[Catalog | None, list[Fault]]:
    try:
        return Catalog.model_validate(data), []
    except ValidationError as error:
        return None, faults_of(error, model=Catalog)


def _with_those_above(pointer: str) -> list[str]:
    segments = segments_of(pointer)
    return [pointer_to(segments[:depth]) for depth in range(1, len(segments) + 1)]


def _in_document_order(faults: list[Fault], data: object) -> list[Fault]:
    ranks: dict[int, dict[str, int]] = {}
    return sorted(faults, key=lambda fault: _position(fault.pointer, data, ranks))


def _position(pointer: str, data: Any, ranks: dict[int, dict[str, int]]) -> tuple[int, ...]:
    """Return the place of each segment among its siblings; what is missing comes after all that is there."""
    position = []
    for segment in segments_of(pointer):
        if isinstance(data, dict):
            if id(data) not in ranks:
                ranks[id(data)] = {key: rank for rank, key in enumerate(data)}
            position.append(ranks[id(data)].get(segment, len(data)))
            data = data.get(segment)
        elif isinstance(data, list) and segment.isdecimal() and int(segment) < len(data):
            position.append(int(segment))
            data = data[int(segment)]
        else:
            break
    return tuple(position)
