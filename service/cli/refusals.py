"""Everything that can be expected to go wrong, told in a sentence on standard error, with an exit code."""

import errno
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from enum import IntEnum
from typing import Any, NoReturn

import typer

from service.cli.console import errors
from service.documents.folder import CatalogFileError
from service.documents.rendering import printable
from service.domain.work import TooCostlyError
from service.explain.too_costly import too_costly
from service.settings import PREFIX, SettingsError
from service.storage.errors import DatabaseUrlError, StorageError, UnknownRevisionError
from service.tables.workbook import TooLongTableError
from service.usecases.errors import FullError, NoCatalogError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.sweep_impact import SweepCancelledError
from service.usecases.sweep_workers import WorkersError

NO_CATALOG = "there is no catalog yet: import one with `portwright catalog import PATH`"
_TEXT_LIMIT = 500


class ExitCode(IntEnum):
    """How a command ended; `NO` is an answer too: no valid bill, a catalog with faults, an order not complete."""

    DONE = 0
    NO = 1
    BAD_INPUT = 2
    UNAVAILABLE = 3
    INTERRUPTED = 130


def refuse(text: str, code: ExitCode, details: tuple[str, ...] = ()) -> NoReturn:
    """Tell why nothing comes of it, one detail a line, and leave."""
    console = errors()
    console.print(f"portwright: {text}")
    for detail in details:
        console.print(f"  {detail}")
    raise typer.Exit(code)


def refuse_question(faults: tuple[RequestFault, ...]) -> NoReturn:
    """Tell every fault of a question by the option that it stands in, and leave."""
    count = f"{len(faults)} faults" if len(faults) > 1 else "1 fault"
    refuse(f"the question has {count}", ExitCode.BAD_INPUT, tuple(map(_told, faults)))


@contextmanager
def refusals_told() -> Iterator[None]:
    """Turn what can be expected to go wrong into a message and an exit code."""
    try:
        yield
    except RequestFaultsError as error:
        refuse_question(error.faults)
    except KeyboardInterrupt:
        refuse("interrupted", ExitCode.INTERRUPTED)
    except BrokenPipeError:
        raise
    except tuple(_REFUSALS) as error:
        code, words = next(told for kind, told in _REFUSALS.items() if isinstance(error, kind))
        refuse(words(error), code)


_OPTIONS = {
    "chassis": "CHASSIS",
    "layout": "LAYOUT",
    "addons": "--addon",
    "clearances": "--clearance",
    "allow_unsold": "--no-unsold",
    "group_variants": "--no-group-variants",
}


def _told(fault: RequestFault) -> str:
    field, _, rest = fault.pointer.removeprefix("/").partition("/")
    option = _OPTIONS.get(field, f"--{field.replace('_', '-')}")
    place = f"{option} ({rest})" if rest else option
    return f"{place}: found {printable(fault.found)}, expected {fault.expected}{_alike(fault.nearest)}"


def _alike(nearest: tuple[str, ...]) -> str:
    return f"; nearest: {', '.join(nearest)}" if nearest else ""


def _own_words(error: Exception) -> str:
    return printable(str(error), _TEXT_LIMIT)


def _os_reason(error: OSError) -> str:
    reason = error.strerror or errno.errorcode.get(error.errno or 0, type(error).__name__)
    return printable(f"{error.filename}: {reason}" if error.filename else reason, _TEXT_LIMIT)


_REFUSALS: dict[type[Exception], tuple[ExitCode, Callable[[Any], str]]] = {
    NotFoundError: (ExitCode.BAD_INPUT, lambda error: _own_words(error) + _alike(error.nearest)),
    TooCostlyError: (ExitCode.BAD_INPUT, too_costly),
    NoCatalogError: (ExitCode.UNAVAILABLE, lambda _: NO_CATALOG),
    UnknownRevisionError: (ExitCode.BAD_INPUT, _own_words),
    SettingsError: (ExitCode.BAD_INPUT, str),
    DatabaseUrlError: (ExitCode.BAD_INPUT, lambda error: f"{PREFIX}DATABASE_URL: {_own_words(error)}"),
    StorageError: (ExitCode.UNAVAILABLE, _own_words),
    CatalogFileError: (ExitCode.BAD_INPUT, lambda error: f"PATH: {_own_words(error)}"),
    TooLongTableError: (ExitCode.BAD_INPUT, lambda error: f"PATH: {_own_words(error)}"),
    FullError: (ExitCode.UNAVAILABLE, _own_words),
    WorkersError: (ExitCode.UNAVAILABLE, _own_words),
    SweepCancelledError: (ExitCode.UNAVAILABLE, lambda _: "the sweep was cancelled, or taken over by another process"),
    OSError: (ExitCode.UNAVAILABLE, _os_reason),
}
"""How an error is refused: by the first kind that it is of."""
