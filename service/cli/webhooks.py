"""`portwright webhook`: where news is sent to, and what became of it."""

import typer

from service.cli.console import output
from service.cli.database import opened_database
from service.cli.refusals import refusals_told
from service.documents.rendering import printable
from service.storage.outbox import OutboxStore
from service.usecases.webhooks import Webhooks

app = typer.Typer(no_args_is_help=True, help="See where news is sent to.")


@app.callback()
def _group() -> None:
    """Keep `list` a command of its own while it is the only one."""


@app.command("list")
@refusals_told()
def list_() -> None:
    """List the webhooks of all accounts, oldest first, with what their newest message came to; never their secrets."""
    with opened_database() as database:
        store = OutboxStore(database)
        kept = Webhooks(store)
        found = [(row.account, kept.find(row.id)) for row in store.all()]
    for account, one in found:
        newest = next(iter(one.get("messages", ())), None)
        told = "nothing sent" if newest is None else f"{newest['event']} {newest['created']}: {newest['outcome']}"
        parts = (one["id"], printable(account) or "-", printable(one["url"]), " ".join(one["events"]), printable(told))
        output().print("  ".join(parts), soft_wrap=True)
    if not found:
        output().print("no webhooks")
