"""`portwright backup`, `restore`, `verify`, `tidy` and `erase`: keeping what is kept."""

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import typer

from service.cli.console import output
from service.cli.database import opened_database
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.rendering import printable
from service.settings import read_settings
from service.storage.backup import back_up
from service.storage.backup import restore as restored
from service.storage.engine import open_database
from service.storage.erasing import erase_contact
from service.storage.sweeping import sweep_much
from service.storage.verifying import verify as verified

_MOST_TOLD = 20
File = Annotated[Path, typer.Argument(metavar="FILE", help="An SQLite file that a backup is, or is to be, in.")]


@refusals_told()
def backup(file: File) -> None:
    """Write all that is kept to a new file, while the service goes on."""
    with opened_database() as database:
        counts = back_up(database, file)
    output().print(f"{printable(str(file))}: {_counted(counts)}", soft_wrap=True)


@refusals_told()
def restore(file: File) -> None:
    """Fill an empty database with what a backup has, and look it through."""
    if not file.is_file():
        refuse(f"FILE: there is no file {printable(str(file))}", ExitCode.BAD_INPUT)
    database = open_database(read_settings().database_url.get_secret_value())
    try:
        counts = restored(file, database)
        _, faults = verified(database)
    finally:
        database.close()
    _tell_faults(faults)
    output().print(f"restored {_counted(counts)}", soft_wrap=True)


@refusals_told()
def verify(
    file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help="A backup; else the database in use.")] = None,
) -> None:
    """Look through all that is kept: content hashes of revisions, the trail, what refers to what."""
    if file is not None and not file.is_file():
        refuse(f"FILE: there is no file {printable(str(file))}", ExitCode.BAD_INPUT)
    address = read_settings().database_url.get_secret_value() if file is None else f"sqlite:///{file.resolve()}"
    database = open_database(address)
    try:
        counts, faults = verified(database)
    finally:
        database.close()
    _tell_faults(faults)
    output().print(f"sound: {_counted(counts)}", soft_wrap=True)


@refusals_told()
def tidy() -> None:
    """Delete what has had its time; the service does so by itself, a little with every write."""
    keeping = read_settings().keeping
    with opened_database() as database:
        rounds = 1
        while sweep_much(database, keeping):
            rounds += 1
    output().print("nothing that is kept has had its time" if rounds == 1 else "deleted what had had its time")


@refusals_told()
def erase(
    contact: Annotated[
        str, typer.Option("--contact", help="A contact line, or a part of one: capitals do not matter.")
    ],
    only_list: Annotated[bool, typer.Option("--list", help="Tell what there is, and erase nothing.")] = False,
) -> None:
    """Find and erase what somebody sent, by the contact line: inquiries, and texts of orders that hold it."""
    if not contact.strip():
        refuse("--contact: expected what the contact line holds", ExitCode.BAD_INPUT)
    with opened_database() as database:
        found = erase_contact(database, contact.strip(), only_list=only_list)
    for kind, ids in found.items():
        for id_ in ids:
            output().print(f"{kind} {id_}", soft_wrap=True)
    count = sum(map(len, found.values()))
    output().print(f"{'found' if only_list else 'erased'} {count}")


def _tell_faults(faults: list[str]) -> None:
    if faults:
        told = tuple(faults[:_MOST_TOLD])
        more = (f"and {len(faults) - len(told):,} more",) if len(faults) > len(told) else ()
        refuse(f"{len(faults):,} faults in what is kept", ExitCode.NO, told + more)


def _counted(counts: Mapping[str, int]) -> str:
    return ", ".join(f"{count:,} {table.replace('_', ' ')}" for table, count in counts.items() if count) or "nothing"
