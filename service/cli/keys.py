"""`portwright key`: keys for those who ask from elsewhere."""

from datetime import datetime
from typing import Annotated

import typer

from service.access.roles import Role
from service.cli.console import errors, output
from service.cli.database import opened_database
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.rendering import printable
from service.storage.keys import KeyStore, StoredKey
from service.usecases.access_keys import AccessKeys

app = typer.Typer(no_args_is_help=True, help="Make, list and revoke the keys by which callers are known.")

_LONGEST_ACCOUNT = 100
_LAST_DAY = 36_500
_MOST_SIGN_INS = 1_000


@app.command()
@refusals_told()
def new(
    role: Annotated[Role, typer.Option(help="What it allows.")],
    account: Annotated[str, typer.Option(help="Whose it is: what is kept with it belongs to this account.")],
    days: Annotated[
        int | None, typer.Option(min=1, max=_LAST_DAY, help="How long it is good; else until revoked.")
    ] = None,
) -> None:
    """Make a key. Its text is printed once, and kept nowhere."""
    name = account.strip()
    if not name or len(name) > _LONGEST_ACCOUNT or not name.isprintable():
        refuse(f"--account: expected 1 to {_LONGEST_ACCOUNT} printable characters", ExitCode.BAD_INPUT)
    with opened_database() as database:
        made = AccessKeys(KeyStore(database)).make(role, name, days)
    errors().print(f"portwright: key {made.key.id} for {printable(name)}, role {role.value}; it is shown this once:")
    output().print(made.text, soft_wrap=True)


@app.command("list")
@refusals_told()
def list_() -> None:
    """List the keys, oldest first; never their secrets."""
    with opened_database() as database:
        keys = AccessKeys(KeyStore(database)).all()
    for key in keys:
        output().print(_line(key), soft_wrap=True)
    if not keys:
        output().print("no keys")


@app.command()
@refusals_told()
def revoke(id_: Annotated[str, typer.Argument(metavar="ID", help="The id of a key, as it is listed.")]) -> None:
    """End a key, and all sessions that were begun with it."""
    with opened_database() as database:
        AccessKeys(KeyStore(database)).revoke(id_)
    output().print(f"revoked key {printable(id_)}", soft_wrap=True)


@app.command()
@refusals_told()
def sign_ins(
    limit: Annotated[int, typer.Option(min=1, max=_MOST_SIGN_INS, help="How many, newest first.")] = 50,
) -> None:
    """List who signed in at the pages, and who tried to."""
    with opened_database() as database:
        found = KeyStore(database).sign_ins(limit)
    for one in found:
        output().print(
            f"{_moment(one.at)}  {one.key or '-'}  {printable(one.account) or '-'}  {one.what}", soft_wrap=True
        )
    if not found:
        output().print("no sign-ins")


def _line(key: StoredKey) -> str:
    told = [key.id, key.role, printable(key.account), f"made {_moment(key.created_at)}"]
    if key.expires_at is not None:
        told.append(f"good until {_moment(key.expires_at)}")
    if key.used_at is not None:
        told.append(f"last used {_moment(key.used_at)}")
    if key.revoked_at is not None:
        told.append(f"revoked {_moment(key.revoked_at)}")
    return "  ".join(told)


def _moment(at: datetime) -> str:
    return f"{at:%Y-%m-%d %H:%M} UTC"
