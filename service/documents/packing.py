"""A catalog read from disk an object at a time: of a large one no more than its text stands in memory beside what is
packed of it.

Only a catalog without any fault can be read so. Where anything is wrong it is read whole instead, and the checks of the
whole document tell what and where.
"""

import json
import re
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from service.documents.arriving import Part
from service.documents.catalog import FORMAT, Catalog
from service.documents.fields import Document
from service.documents.folder import CatalogFileError, load_catalog, section_files
from service.documents.integrity import faults_within_items, integrity_faults
from service.documents.packed import ONCE, SECTIONS, PackedCatalog, adapter, canonical, id_of, packed
from service.documents.references import named_in

Progress = Callable[[int, int], None]
"""Told (characters read, characters in all)."""

_AT_ONCE = 500
_SEEN_WHOLE = ("fuels", "contract_cases")
"""Sections of which some number is asked for."""
_SPACE = re.compile(r"[ \t\n\r]*")


class _Flaw(Exception):  # noqa: N818 no error to anybody outside
    """Raised where a catalog has some fault."""


def pack_catalog(path: Path, progress: Progress = lambda _done, _total: None) -> PackedCatalog:
    """Read and check a catalog document: one file, or a folder with one file a section.

    Raises:
        CatalogFaultsError: with every fault, of the files and of what they say.
        CatalogFileError: for what cannot be read.
    """
    try:
        return _Packing(progress).of(path)
    except (_Flaw, ValidationError, ValueError, IndexError, RecursionError):
        return packed(load_catalog(path))
    except OSError as error:
        raise CatalogFileError(path, error) from error


class _Packing:
    """What was read so far: canonical texts, and of the document what the checks between its parts need."""

    def __init__(self, progress: Progress) -> None:
        self._progress = progress
        self._texts: dict[str, dict[str, str]] = {}
        self._document: dict[str, Any] = {}
        self._named: set[tuple[str, str]] = set()
        self._done = self._total = 0

    def of(self, path: Path) -> PackedCatalog:
        files = section_files(path) if path.is_dir() else [path]
        self._total = sum(file.stat().st_size for file in files)
        if path.is_dir():
            self._document["format"] = FORMAT
        for file in files:
            if path.is_dir() and file.suffix != ".json":
                raise _Flaw
            reader = _Reader(file.read_text(encoding="utf-8").removeprefix("\ufeff"))
            for section in [file.stem] if path.is_dir() else reader.members():
                if section in self._document and not (path.is_dir() and section == "format"):
                    raise _Flaw
                self._take(section, reader)
            reader.end()
            self._done += file.stat().st_size
        self._check()
        return PackedCatalog(self._texts)

    def _take(self, section: str, reader: "_Reader") -> None:
        if section not in SECTIONS or not reader.is_at_list():
            self._document[section] = reader.value()
            return
        kept: list[Any] = []
        texts = self._texts[section] = {}
        elements, count = reader.elements(), 0
        while some := list(islice(elements, _AT_ONCE)):
            for element in some:
                document: Document = adapter(section).validate_python(element)
                texts[getattr(document, id_of(section))] = canonical(document)
            kept += some if section != "items" else self._replaced(some)
            count += len(some)
            self._progress(self._done + reader.place, self._total)
        if len(texts) < count:
            raise _Flaw
        self._document[section] = kept

    def _replaced(self, items: list[dict[str, Any]]) -> Iterable[dict[str, Any]]:
        """Check items by themselves; of those that have a replacement, what tells whether it leads back."""
        part = Part((), {"items": items})
        _none_of(faults_within_items(part))
        self._name(part)
        names = ("sku", "superseded_by")
        return ({name: item[name] for name in names} for item in items if item.get("superseded_by") is not None)

    def _name(self, part: Part) -> None:
        self._named.update((section, name) for _, name, section in named_in(part) if isinstance(name, str))

    def _check(self) -> None:
        """Check what is there once, and what holds between parts."""
        shell = {
            name: [] if name in self._texts and name not in _SEEN_WHOLE else value
            for name, value in self._document.items()
        }
        catalog = Catalog.model_validate(shell)
        self._texts.update({name: {"": canonical(getattr(catalog, name))} for name in ONCE})
        _none_of(faults_within_items(Part((), {"items": self._document.pop("items")})))
        _none_of(integrity_faults(self._document))
        self._name(Part((), self._document))
        if any(name not in self._texts[section] for section, name in self._named):
            raise _Flaw


class _Reader:
    """A JSON text, read value by value; `place` is how far."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._decode = json.JSONDecoder(object_pairs_hook=_members, parse_constant=_no_constant).raw_decode
        self.place = 0
        self._skip()

    def value(self) -> Any:
        value, self.place = self._decode(self._text, self.place)
        self._skip()
        return value

    def is_at_list(self) -> bool:
        return self._text.startswith("[", self.place)

    def members(self) -> Iterator[str]:
        """The keys of an object; each one's value is to be read before the next is asked for."""
        for _ in self._between("{", "}"):
            name = self.value()
            self._take(":")
            if not isinstance(name, str):
                raise _Flaw
            yield name

    def elements(self) -> Iterator[Any]:
        return (self.value() for _ in self._between("[", "]"))

    def end(self) -> None:
        if self.place < len(self._text):
            raise _Flaw

    def _between(self, opening: str, closing: str) -> Iterator[None]:
        self._take(opening)
        if not self._text.startswith(closing, self.place):
            yield None
            while self._text.startswith(",", self.place):
                self._take(",")
                yield None
        self._take(closing)

    def _take(self, sign: str) -> None:
        if not self._text.startswith(sign, self.place):
            raise _Flaw
        self.place += 1
        self._skip()

    def _skip(self) -> None:
        if (space := _SPACE.match(self._text, self.place)) is not None:
            self.place = space.end()


def _members(pairs: list[tuple[str, object]]) -> dict[str, object]:
    members = dict(pairs)
    if len(members) < len(pairs):
        raise _Flaw
    return members


def _no_constant(_name: str) -> None:
    raise _Flaw


def _none_of(faults: Iterable[object]) -> None:
    for _ in faults:
        raise _Flaw
