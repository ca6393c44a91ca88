"""`portwright ask`: one question, its answer as a table or as JSON."""

import json
import re
from collections.abc import Mapping
from typing import Annotated, Any

import typer
from pydantic import ValidationError

from service.cli.answer_table import answer_table
from service.cli.console import output
from service.cli.database import revision_store
from service.cli.refusals import ExitCode, refusals_told, refuse_question
from service.documents.faults import faults_of
from service.documents.rendering import rendered
from service.documents.request import BillRequest, OrderBy
from service.usecases.errors import RequestFault
from service.usecases.find_bills import find_bills
from service.usecases.library import Library

_CLEARANCE = re.compile(r"(?P<spot>[^:]*):(?P<field>axial_mm|across_mm)=(?P<room>[+-]?\d+(\.\d+)?)")


@refusals_told()
def ask(
    chassis: Annotated[str, typer.Argument(help="The car, by its id.")],
    layout: Annotated[str, typer.Argument(help="How fuel runs, by its id.")],
    fuel: Annotated[str | None, typer.Option(help="Default: the catalog's first.")] = None,
    power_kw: Annotated[float | None, typer.Option(help="Default: the car's stock power.")] = None,
    pump_l_h: Annotated[float | None, typer.Option(help="What the pump moves, with a return.")] = None,
    feed_hose_m: Annotated[float | None, typer.Option(help="Length of your own feed hose.")] = None,
    return_hose_m: Annotated[float | None, typer.Option(help="Length of your own return hose.")] = None,
    boost_kpa: Annotated[float | None, typer.Option(help="Beyond that of the add-ons.")] = None,
    addons: Annotated[list[str] | None, typer.Option("--addon", help="Equipment on the car; repeatable.")] = None,
    clearances: Annotated[
        list[str] | None,
        typer.Option("--clearance", metavar="SPOT:axial_mm=N", help="Or SPOT:across_mm=N; repeatable."),
    ] = None,
    gauge: Annotated[str | None, typer.Option(help="none, any, or a spot.")] = None,
    finish: Annotated[str | None, typer.Option(help="For the rail and all that comes in it.")] = None,
    exclude: Annotated[list[str] | None, typer.Option(help="A SKU that must not be used; repeatable.")] = None,
    in_stock_only: Annotated[bool, typer.Option("--in-stock-only", help="Only what lies in stock.")] = False,
    no_unsold: Annotated[bool, typer.Option("--no-unsold", help="Nothing bought elsewhere.")] = False,
    max_price: Annotated[int | None, typer.Option(help="In minor units of the currency (cents).")] = None,
    limit: Annotated[int | None, typer.Option(help="How many bills to show, 1 to 100; default 10.")] = None,
    no_group_variants: Annotated[bool, typer.Option("--no-group-variants", help="Each variant as a bill.")] = False,
    order_by: Annotated[OrderBy | None, typer.Option(help="Default: price.")] = None,
    revision: Annotated[int | None, typer.Option(help="Of the catalog; default: the newest.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="The answer as the API gives it.")] = False,
) -> None:
    """Ask what a car needs: complete bills of material, with the reason for every line."""
    given = dict(locals())
    shown_as_json = given.pop("as_json")
    given["allow_unsold"] = not given.pop("no_unsold")
    given["group_variants"] = not given.pop("no_group_variants")
    question = _question(given)
    with revision_store() as store:
        answer = find_bills(Library(store), question)
    if shown_as_json:
        typer.echo(json.dumps(answer, ensure_ascii=False, indent=2))
    else:
        output().print(answer_table(answer))
    if answer["total_valid"] == 0:
        raise typer.Exit(ExitCode.NO)


def _question(given: Mapping[str, Any]) -> BillRequest:
    """Make the request of the options that were given; all faults of their values are told at once."""
    fields = {name: value for name, value in given.items() if value not in (None, [])}
    wanted = fields.pop("clearances", [])
    read = [_CLEARANCE.fullmatch(text) for text in wanted]
    faults = [
        RequestFault("/clearances", rendered(text), "SPOT:axial_mm=NUMBER or SPOT:across_mm=NUMBER")
        for text, match in zip(wanted, read, strict=True)
        if match is None
    ]
    fields["clearances"] = [{"spot": match["spot"], match["field"]: float(match["room"])} for match in read if match]
    try:
        question = BillRequest.model_validate(fields)
    except ValidationError as error:
        faults += [RequestFault(fault.pointer, fault.found, fault.expected) for fault in faults_of(error)]
    if faults:
        refuse_question(tuple(faults))
    return question
