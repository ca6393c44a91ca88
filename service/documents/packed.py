"""A catalog as text: the canonical JSON of each of its objects, read as a document only when it is asked for.

Canonical: fields in the order of the format, nothing that has its default, ASCII, no spaces, the shortest decimals that
read back the same, no sign of a zero. So two objects are the same where their texts are, and the digest of a catalog is
that of its texts in a row.
"""

import hashlib
import json
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Generic, TypeVar, overload

from pydantic import BaseModel, TypeAdapter

from service.documents.catalog import (
    FORMAT,
    Addon,
    Catalog,
    Chassis,
    Fuel,
    Item,
    Layout,
    Maker,
    Material,
    Policies,
    PortStandard,
)
from service.documents.catalog_cases import AnyCatalogCase
from service.documents.catalog_joints import Joint
from service.domain.work import give_turn

D = TypeVar("D")
Texts = Mapping[str, str]
"""The canonical JSON of a section's objects by their ids, in the order of the document."""

ONCE = ("maker", "policies")
"""What the catalog has once: a section with one object, whose id is empty."""
SECTIONS: dict[str, Any] = {
    "port_standards": PortStandard,
    "joints": Joint,
    "fuels": Fuel,
    "materials": Material,
    "items": Item,
    "chassis": Chassis,
    "addons": Addon,
    "layouts": Layout,
    "contract_cases": AnyCatalogCase,
}
"""The sections that are lists, with what their objects are."""

_SMALL = re.compile(r"\de-\d")


def id_of(section: str) -> str:
    """The field that tells the objects of a section apart."""
    return "sku" if section == "items" else "id"


def canonical(document: BaseModel) -> str:
    """The canonical JSON of one object."""
    quick = document.__pydantic_serializer__.to_json(document, exclude_defaults=True)
    text: str = quick.decode()
    if text.isascii() and not _is_odd(text):
        return text
    plain = _without_negative_zero(document.model_dump(exclude_defaults=True))
    return json.dumps(plain, ensure_ascii=True, allow_nan=False, separators=(",", ":"))


def _is_odd(text: str) -> bool:
    """Whether a number may be so small that pydantic writes it otherwise than the standard library, or minus zero."""
    return "0.0000" in text or "-0.0" in text or ("e-" in text and _SMALL.search(text) is not None)


class Objects(Sequence[D], Generic[D]):
    """The documents of a section, each read anew when it is asked for."""

    def __init__(self, texts: Texts, read: Callable[[str], D]) -> None:
        self.texts = texts
        self._read = read
        self._ids = tuple(texts)

    @overload
    def __getitem__(self, place: int) -> D: ...
    @overload
    def __getitem__(self, place: slice) -> list[D]: ...

    def __getitem__(self, place: int | slice) -> D | list[D]:
        if isinstance(place, slice):
            return [self._read(self.texts[one]) for one in self._ids[place]]
        return self._read(self.texts[self._ids[place]])

    def __len__(self) -> int:
        return len(self._ids)

    def __iter__(self) -> Iterator[D]:
        return map(self._read, self.texts.values())

    def get(self, wanted: str) -> D | None:
        """The document of that id."""
        text = self.texts.get(wanted)
        return None if text is None else self._read(text)

    def only(self, ids: Iterable[str]) -> "Objects[D]":
        """Those with these ids, in their order."""
        return Objects({one: self.texts[one] for one in ids}, self._read)

    @property
    def by_id(self) -> Mapping[str, D]:
        """The documents by their ids."""
        return _ById(self)


class _ById(Mapping[str, D], Generic[D]):
    def __init__(self, objects: Objects[D]) -> None:
        self._objects = objects

    def __getitem__(self, wanted: str) -> D:
        found = self._objects.get(wanted)
        if found is None:
            raise KeyError(wanted)
        return found

    def __contains__(self, wanted: object) -> bool:
        return wanted in self._objects.texts

    def __iter__(self) -> Iterator[str]:
        return iter(self._objects.texts)

    def __len__(self) -> int:
        return len(self._objects.texts)


class PackedCatalog:
    """A checked catalog; `texts` has every section, in the order of the format, those of `ONCE` too."""

    def __init__(self, texts: Mapping[str, Texts]) -> None:
        self.texts: dict[str, Texts] = {name: texts.get(name, {}) for name in _in_order()}
        self.port_standards: Objects[PortStandard] = self._objects("port_standards")
        self.joints: Objects[Joint] = self._objects("joints")
        self.fuels: Objects[Fuel] = self._objects("fuels")
        self.materials: Objects[Material] = self._objects("materials")
        self.items: Objects[Item] = self._objects("items")
        self.chassis: Objects[Chassis] = self._objects("chassis")
        self.addons: Objects[Addon] = self._objects("addons")
        self.layouts: Objects[Layout] = self._objects("layouts")
        self.contract_cases: Objects[AnyCatalogCase] = self._objects("contract_cases")
        self._made: dict[Callable[..., Any], Any] = {}

    def once(self, make: Callable[["PackedCatalog"], D]) -> D:
        """What is made of the catalog: the same each time, and kept for as long as the catalog is."""
        if make not in self._made:
            self._made.setdefault(make, make(self))
        made: D = self._made[make]
        return made

    def knowing(self, make: Callable[["PackedCatalog"], D], made: D) -> "PackedCatalog":
        """The same catalog, of which it is known what `make` gives."""
        self._made[make] = made
        return self

    def _objects(self, section: str) -> Objects[Any]:
        return Objects(self.texts[section], _reader(section))

    @property
    def maker(self) -> Maker:
        return Maker.model_validate_json(self.texts["maker"][""])

    @property
    def policies(self) -> Policies:
        return Policies.model_validate_json(self.texts["policies"][""])

    def counts(self) -> dict[str, int]:
        """The number of objects of each section that is a list."""
        return {section: len(self.texts[section]) for section in SECTIONS}

    def digest(self) -> str:
        """The SHA-256, in hex, of the catalog's canonical JSON: proof that it is still what was published.

        A field added to the format with a default leaves the digests of older catalogs as they are.
        """
        return self.once(_digest)

    def sharing(self, other: "PackedCatalog") -> "PackedCatalog":
        """The same catalog, with the very texts of another one where they are equal."""
        theirs = {name: {text: text for text in texts.values()} for name, texts in other.texts.items()}
        return PackedCatalog(
            {name: {key: theirs[name].get(x, x) for key, x in texts.items()} for name, texts in self.texts.items()}
        )

    def whole(self) -> Catalog:
        """The catalog as one document."""
        sections: dict[str, Any] = {name: list(getattr(self, name)) for name in self.texts if name in SECTIONS}
        cases = sections.pop("contract_cases") or None
        told = {"format": FORMAT, "maker": self.maker, **sections, "policies": self.policies, "contract_cases": cases}
        return Catalog.model_validate(told)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Catalog):
            other = packed(other)
        return isinstance(other, PackedCatalog) and self.texts == other.texts

    __hash__ = object.__hash__

    def pieces(self) -> Iterator[str]:
        """The canonical JSON of the catalog, piece by piece."""
        yield f'{{"format":"{FORMAT}"'
        for section, texts in self.texts.items():
            if section in ONCE:
                yield f',"{section}":{texts.get("")}'
            elif texts or section != "contract_cases":
                yield f',"{section}":['
                for place, text in enumerate(texts.values()):
                    yield f",{text}" if place else text
                yield "]"
        yield "}"


def packed(catalog: Catalog | PackedCatalog) -> PackedCatalog:
    """A catalog as text.

    Raises DoubledIdError where two objects of a section have one id, which a checked catalog has not.
    """
    if isinstance(catalog, PackedCatalog):
        return catalog
    texts = {name: {"": canonical(getattr(catalog, name))} for name in ONCE}
    for section in SECTIONS:
        objects: Collection[BaseModel] = getattr(catalog, section) or ()
        texts[section] = {getattr(one, id_of(section)): canonical(one) for one in objects}
        if len(texts[section]) < len(objects):
            raise DoubledIdError(f"an id stands twice in {section}")
    return PackedCatalog(texts)


def _digest(catalog: PackedCatalog) -> str:
    told = hashlib.sha256()
    for piece in catalog.pieces():
        told.update(piece.encode("ascii"))
        give_turn()
    return told.hexdigest()


class DoubledIdError(ValueError):
    """Raised for a catalog that was not checked."""


@cache
def _in_order() -> tuple[str, ...]:
    return tuple(name for name in Catalog.model_fields if name != "format")


@cache
def adapter(section: str) -> TypeAdapter[Any]:
    """What validates the objects of a section."""
    return TypeAdapter(SECTIONS[section])


@cache
def _reader(section: str) -> Callable[[str], Any]:
    return adapter(section).validate_json


def _without_negative_zero(value: Any) -> Any:
    if isinstance(value, float):
        return value + 0.0
    if isinstance(value, dict):
        return {key: _without_negative_zero(element) for key, element in value.items()}
    if isinstance(value, list):
        return [_without_negative_zero(element) for element in value]
    return value
