"""A catalog from a path, with every fault told where it has some."""

from pathlib import Path

from service.cli.bars import read
from service.cli.refusals import ExitCode, refuse
from service.documents.check import CatalogFaultsError
from service.documents.packed import PackedCatalog


def checked(path: Path) -> PackedCatalog:
    """Return the catalog at a path, or list its faults and leave."""
    try:
        return read(path)
    except CatalogFaultsError as error:
        count = f"{len(error.faults)} faults" if len(error.faults) > 1 else "1 fault"
        faults = tuple(
            f"{fault.pointer or '(the whole)'}: found {fault.found}, expected {fault.expected}"
            for fault in error.faults
        )
        refuse(f"the catalog has {count}", ExitCode.NO, faults)
