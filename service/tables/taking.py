"""Tables that were brought, read against the catalog that they start from: what each section's objects are to be."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from json import loads

from pydantic import BaseModel, TypeAdapter, ValidationError

from service.documents.catalog import Catalog, Maker, Policies
from service.documents.faults import MOST_TOLD, faults_of
from service.documents.packed import ONCE, PackedCatalog, adapter, canonical
from service.documents.pointers import segments_of
from service.domain.work import spend
from service.tables.derive import sections, tables
from service.tables.faults import Faults, Place, TableFaultsError
from service.tables.fold import Folded, fold
from service.tables.opening import Sheet
from service.tables.rows import Record

_ALONE: dict[str, TypeAdapter[Maker] | TypeAdapter[Policies]] = {
    "maker": TypeAdapter(Maker),
    "policies": TypeAdapter(Policies),
}


@dataclass
class Taken:
    """What tables tell: for each section of which there is one, its objects as canonical JSON by their ids.

    An object that is as the catalog beneath has it is that very text. `folded`: where in the sheets it stood.
    """

    texts: dict[str, dict[str, str]] = field(default_factory=dict)
    folded: dict[str, Folded] = field(default_factory=dict)

    def place_of(self, section: str, key: str, pointer: str) -> Place | None:
        """Where in the sheets something of an object stands; None where no table tells of it."""
        folded = self.folded.get(section)
        return None if folded is None or key not in folded.records else folded.place_of(key, segments_of(pointer))


def take(sheets: Iterable[Sheet], base: PackedCatalog) -> Taken:
    """Read tables against the catalog that they start from.

    Raises TableFaultsError with the first faults: of heads, cells, rows without what they belong to, and of objects.
    """
    by_title = _by_title(sheets)
    faults, taken = Faults(), Taken()
    for section, main in sections().items():
        if not any(table.title in by_title for table in main.with_beneath()):
            continue
        texts = base.texts[section]
        folded = fold(main, by_title, texts, faults)
        taken.texts[section] = _checked(section, folded, texts, faults)
        taken.folded[section] = folded
    if faults:
        raise TableFaultsError(faults)
    return taken


def _by_title(sheets: Iterable[Sheet]) -> dict[str, Sheet]:
    return {sheet.title: sheet for sheet in sheets if sheet.title in tables()}


def _checked(section: str, folded: Folded, base: Mapping[str, str], faults: Faults) -> dict[str, str]:
    """The objects of a section as text; those that are none are told."""
    texts: dict[str, str] = {}
    for key, record in folded.records.items():
        spend(1, "order")
        if _has_fault(record):
            continue
        if key in base and record.value == record.base:
            texts[key] = base[key]
            continue
        try:
            document: BaseModel = (_ALONE.get(section) or adapter(section)).validate_python(record.value)
        except ValidationError as error:
            _tell(section, folded, key, error, faults)
            continue
        text = canonical(document)
        texts[key] = base[key] if key in base and _is_same(text, base[key]) else text
    return texts


def _is_same(text: str, other: str) -> bool:
    """Whether two objects are one, though the names of a map may stand in another order."""
    same: bool = text == other or loads(text) == loads(other)
    return same


def _has_fault(record: Record) -> bool:
    return record.has_fault or any(_has_fault(one) for _, one in record.beneath)


def _tell(section: str, folded: Folded, key: str, error: ValidationError, faults: Faults) -> None:
    above = f"/{section}" if section in ONCE else f"/{section}/0"
    told = faults_of(error, above, Catalog, most=MOST_TOLD)
    for fault in told:
        path = segments_of(fault.pointer.removeprefix(above))
        faults.add(folded.place_of(key, path), fault.found, fault.expected)
    faults.more += error.error_count() - len(told)
