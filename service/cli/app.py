"""The commands of `portwright` put together."""

from typing import Annotated

import typer

from service import __version__
from service.cli import catalog, draft, inquiries, keys, order, webhooks
from service.cli.ask import ask
from service.cli.contract import contract
from service.cli.demo import demo
from service.cli.next_parts import next_parts
from service.cli.serve import serve
from service.cli.upkeep import backup, erase, restore, tidy, verify

app = typer.Typer(
    name="portwright",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help="What a car needs to run its fuel: complete bills of material, with the reason for every line.",
    epilog="Exit codes: 0 done, 1 no valid bill, a catalog with faults or an order that is not complete, 2 bad input, "
    "3 not possible now.",
)
app.add_typer(catalog.app, name="catalog")
app.add_typer(draft.app, name="draft")
app.add_typer(order.app, name="order")
app.add_typer(inquiries.app, name="inquiries")
app.add_typer(keys.app, name="key")
app.add_typer(webhooks.app, name="webhook")
for command in (demo, serve, ask, contract, next_parts, backup, restore, verify, tidy, erase):
    app.command()(command)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(__version__)
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Take the options of all commands."""
