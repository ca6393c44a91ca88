"""Catalogs on disk: one JSON file, or a folder with one JSON file a section, meaning the same."""

import json
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from service.documents.catalog import FORMAT, Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.faults import Fault
from service.documents.nearest import nearest_words
from service.documents.pointers import pointer_to
from service.documents.rendering import printable
from service.documents.strict_json import JsonError, loads

SECTIONS: tuple[str, ...] = tuple(Catalog.model_fields)


class CatalogFileError(Exception):
    """Raised when a path cannot be read or written; `path` and `reason` tell which and why."""

    def __init__(self, path: Path, error: OSError) -> None:
        self.path = path
        self.reason = error.strerror or str(error)
        super().__init__(f"{path}: {self.reason}")


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


def write_catalog(catalog: Catalog, path: Path) -> None:
    """Write a catalog to one file, or to a folder: where there is one, or the name does not end in .json.

    Each file is replaced as a whole or not at all. Optional fields that are not given are left out.

    Raises:
        CatalogFileError: for what cannot be written.
    """
    data = catalog.model_dump(mode="json", exclude_none=True)
    try:
        if path.is_dir() or path.suffix.lower() != ".json":
            path.mkdir(parents=True, exist_ok=True)
            for section, content in data.items():
                _write_whole(path / f"{section}.json", content)
        else:
            _write_whole(path, data)
    except OSError as error:
        raise CatalogFileError(path, error) from error


def _read(path: Path) -> tuple[object, list[Fault]]:
    faults: list[Fault] = []
    try:
        if path.is_dir():
            return _read_folder(path, faults), faults
        return _read_file(path, (), faults), faults
    except OSError as error:
        raise CatalogFileError(path, error) from error


def _read_folder(folder: Path, faults: list[Fault]) -> dict[str, Any]:
    data: dict[str, Any] = {"format": FORMAT}
    for file in sorted(folder.iterdir()):
        if file.suffix.lower() != ".json" or file.name.startswith(".") or not file.is_file():
            continue
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


def _write_whole(file: Path, content: object) -> None:
    text = json.dumps(content, ensure_ascii=False, indent=2, allow_nan=False) + "\n"
    draft = file.with_name(f".{file.name}.{os.getpid()}.tmp")
    try:
        with draft.open("w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        draft.replace(file)
    finally:
        with suppress(FileNotFoundError):
            draft.unlink()
