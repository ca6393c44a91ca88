"""Catalogs on disk: one JSON file, or a folder with one JSON file a section, meaning the same."""

import json
import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from importlib import resources
from pathlib import Path
from typing import Any

from service.documents.catalog import FORMAT, Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.faults import Fault
from service.documents.fields import Document
from service.documents.nearest import nearest_words
from service.documents.packed import ONCE, Objects, PackedCatalog, packed
from service.documents.pointers import pointer_to
from service.documents.rendering import printable
from service.documents.strict_json import JsonError, loads

SECTIONS: tuple[str, ...] = tuple(Catalog.model_fields)
_AT_ONCE = 500


class CatalogFileError(Exception):
    """Raised when a path cannot be read or written; `path` and `reason` tell which and why."""

    def __init__(self, path: Path, error: OSError) -> None:
        self.path = path
        self.reason = error.strerror or str(error)
        super().__init__(f"{path}: {self.reason}")


def seed_folder() -> Path:
    """Return the seed catalog: within the package where it is installed, beside it in a checkout."""
    package = Path(str(resources.files("service")))
    installed = package / "seed_data"
    return installed if installed.is_dir() else package.parent / "seed_data"


def read_catalog(path: Path) -> object:
    """Read a catalog document as parsed JSON, without a look at what it says.

    Raises:
        CatalogFaultsError: for files that are not strict JSON or are named after no section.
        CatalogFileError: for what cannot be read.
    """
    data, faults = _read(path)
    if faults:
        raise CatalogFaultsError(tuple(faults))
    return data


def load_catalog(path: Path) -> Catalog:
    """Read and check a catalog document.

    Raises:
        CatalogFaultsError: with every fault, of the files and of what they say.
        CatalogFileError: for what cannot be read.
    """
    data, faults = _read(path)
    if faults and not isinstance(data, dict):
        raise CatalogFaultsError(tuple(faults))
    return check_catalog(data, faults)


Progress = Callable[[int, int], None]
"""Told (objects written, objects in all)."""


def write_catalog(
    catalog: Catalog | PackedCatalog, path: Path, progress: Progress = lambda _done, _total: None
) -> None:
    """Write a catalog to one file, or to a folder: where there is one, or the name does not end in .json.

    Each file is replaced as a whole or not at all. Optional fields that are not given are left out. The text is made
    an object at a time.

    Raises:
        CatalogFileError: for what cannot be written.
    """
    told = packed(catalog)
    sections = [name for name in SECTIONS if name != "contract_cases" or told.contract_cases]
    total = sum(told.counts().values())

    def seen(pieces: Iterable[str]) -> Iterator[str]:
        for done, piece in enumerate(pieces, 1):
            yield piece
            if done % _AT_ONCE == 0:
                progress(min(done, total), total)

    try:
        if path.is_dir() or path.suffix.lower() != ".json":
            path.mkdir(parents=True, exist_ok=True)
            for section in sections:
                _write_whole(path / f"{section}.json", seen(_section(told, section, "")))
        else:
            _write_whole(path, seen(_whole(told, sections)))
    except OSError as error:
        raise CatalogFileError(path, error) from error


def _whole(catalog: PackedCatalog, sections: Iterable[str]) -> Iterator[str]:
    for place, section in enumerate(sections):
        yield f'{"," if place else "{"}\n  "{section}": '
        yield from _section(catalog, section, "  ")
    yield "\n}"


def _section(catalog: PackedCatalog, section: str, margin: str) -> Iterator[str]:
    """The JSON of a section; every line but the first begins with the margin."""
    if section == "format":
        yield _json(FORMAT, margin)
    elif section in ONCE:
        yield _json(getattr(catalog, section), margin)
    else:
        objects: Objects[Document] = getattr(catalog, section)
        for place, one in enumerate(objects):
            yield f"{',' if place else '['}\n{margin}  {_json(one, margin + '  ')}"
        yield f"\n{margin}]" if len(objects) else "[]"


def _json(told: Document | str, margin: str) -> str:
    plain = told if isinstance(told, str) else told.model_dump(mode="json", exclude_none=True)
    return json.dumps(plain, ensure_ascii=False, indent=2, allow_nan=False).replace("\n", f"\n{margin}")


def _read(path: Path) -> tuple[object, list[Fault]]:
    faults: list[Fault] = []
    try:
        if path.is_dir():
            return _read_folder(path, faults), faults
        return _read_file(path, (), faults), faults
    except OSError as error:
        raise CatalogFileError(path, error) from error


def section_files(folder: Path) -> list[Path]:
    """The JSON files of a folder."""
    return sorted(
        file
        for file in folder.iterdir()
        if file.suffix.lower() == ".json" and not file.name.startswith(".") and file.is_file()
    )


def _read_folder(folder: Path, faults: list[Fault]) -> dict[str, Any]:
    data: dict[str, Any] = {"format": FORMAT}
    for file in section_files(folder):
        if file.stem not in SECTIONS or file.suffix != ".json":
            words = f"a file named after a section{nearest_words(file.stem, SECTIONS)}"
            faults.append(Fault(pointer_to([file.stem]), f"the file {printable(file.name)}", words))
        else:
            data[file.stem] = _read_file(file, (file.stem,), faults)
    return data


def _read_file(file: Path, place: tuple[str, ...], faults: list[Fault]) -> object:
    try:
        return loads(file.read_bytes())
    except JsonError as error:
        found = f"{error.found} in {printable(file.name)}"
        faults.append(Fault(pointer_to(place) + error.pointer, found, error.expected))
        return None


def _write_whole(file: Path, pieces: Iterable[str]) -> None:
    draft = file.with_name(f".{file.name}.{os.getpid()}.tmp")
    try:
        with draft.open("w", encoding="utf-8", newline="\n") as stream:
            stream.writelines(pieces)
            stream.write("\n")
            stream.flush()
            os.fsync(stream.fileno())
        draft.replace(file)
    finally:
        with suppress(FileNotFoundError):
            draft.unlink()
