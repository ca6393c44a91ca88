"""`portwright demo`: the catalog that comes with Portwright, one real question with its answer, then the API."""

import json
import os
from collections.abc import Iterator
from itertools import chain, product
from typing import Annotated

import typer

from service.access.roles import Role
from service.cli.answer_table import answer_table
from service.cli.console import output
from service.cli.database import revision_store
from service.cli.publishing import publish
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.cli.serve import LOOPBACK, Port, at, free_port, run
from service.documents.answer import Answer
from service.documents.catalog import Catalog
from service.documents.folder import load_catalog, seed_folder
from service.documents.request import BillRequest
from service.settings import PREFIX, Settings, data_folder, sqlite_url
from service.usecases.find_bills import find_bills
from service.usecases.library import Library

_BILLS_SHOWN = 2


@refusals_told()
def demo(
    once: Annotated[bool, typer.Option("--once", help="Stop after the answer instead of serving.")] = False,
    port: Port = 8000,
) -> None:
    """Import the seed catalog, answer one real question, and serve the API on this machine."""
    listening_port = 0 if once else free_port(LOOPBACK, port)
    url = sqlite_url(data_folder() / "demo.sqlite3")
    catalog = load_catalog(seed_folder())
    with revision_store(url) as store:
        library = Library(store)
        publish(catalog, library)
        found = next(chain(_answered(catalog, library, _BILLS_SHOWN), _answered(catalog, library, 1)), None)
    if found is None:
        refuse("no question has an answer in the seed catalog", ExitCode.NO)
    question, answer = found
    console = output()
    console.print(_in_words(catalog, question), style="bold", end="\n\n")
    console.print(answer_table(answer))
    if not once:
        console.print(f"\nServing on http://{at(LOOPBACK, listening_port)}. The same question there:")
        console.print(_curl(question, listening_port), soft_wrap=True)
        os.environ.setdefault(f"{PREFIX}WITHOUT_KEY", Role.ADMIN.value)  # invented data, for who sits here
        run(Settings(database_url=url), LOOPBACK, listening_port)


def _answered(catalog: Catalog, library: Library, least: int) -> Iterator[tuple[BillRequest, Answer]]:
    """Yield the questions without a wish that have at least so many bills, in the order of the catalog."""
    for chassis, layout in product(catalog.chassis, catalog.layouts):
        fields = {"chassis": chassis.id, "layout": layout.id, "limit": _BILLS_SHOWN}
        question = BillRequest.model_validate(fields)
        answer = find_bills(library, question)
        if answer["total_valid"] >= least:
            yield question, answer


def _in_words(catalog: Catalog, question: BillRequest) -> str:
    chassis = next(one for one in catalog.chassis if one.id == question.chassis)
    layout = next(one for one in catalog.layouts if one.id == question.layout)
    return (
        f"{chassis.name}, engine {chassis.engine}, {chassis.stock_kw:g} kW, on {catalog.fuels[0].name}. "
        f"{layout.name}: {layout.summary.rstrip('.')}. What does it need?"
    )


def _curl(question: BillRequest, port: int) -> str:
    body = json.dumps(question.model_dump(include={"chassis", "layout", "limit"}))
    return f"curl -s http://{at(LOOPBACK, port)}/v1/bills -H 'Content-Type: application/json' -d '{body}'"
