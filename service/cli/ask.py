"""`portwright ask`: one question, by ids and options or as a customer says it; its answer as a table or as JSON."""

import json
import re
from collections.abc import Mapping
from typing import Annotated, Any

import typer
from pydantic import ValidationError

from service.cli.answer_table import answer_table
from service.cli.console import output
from service.cli.database import revision_store
from service.cli.question_table import question_table
from service.cli.refusals import ExitCode, refusals_told, refuse_question
from service.documents.faults import faults_of
from service.documents.question_reading import QuestionText
from service.documents.rendering import rendered
from service.documents.request import BillRequest, OrderBy
from service.usecases.errors import RequestFault
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.usecases.read_question import read_question

_FORMS = {
    "pump": (("kpa", "l_h"), "KPA:L_H,KPA:L_H and so on, in numbers"),
    "pump_v": (("rated", "fed"), "RATED:FED, in numbers"),
    "injectors": (("static_l_h", "rated_kpa", "max_duty"), "L_H:KPA or L_H:KPA:DUTY, in numbers"),
}
"""Facts written as numbers with colons between them, and the form in which each is written."""
_LEAST_NUMBERS = 2
_CLEARANCE = re.compile(r"(?P<spot>[^:]*):(?P<field>axial_mm|across_mm)=(?P<room>[+-]?\d+(\.\d+)?)")


@refusals_told()
def ask(
    chassis: Annotated[
        str, typer.Argument(metavar="CHASSIS", help="The car, by its id; alone: the question, in the customer's words.")
    ],
    layout: Annotated[str | None, typer.Argument(help="How fuel runs, by its id.")] = None,
    fuel: Annotated[str | None, typer.Option(help="Default: the catalog's first.")] = None,
    power_kw: Annotated[float | None, typer.Option(help="Default: the car's stock power.")] = None,
    pump_l_h: Annotated[float | None, typer.Option(help="What the pump moves, with a return.")] = None,
    pump: Annotated[
        str | None, typer.Option(metavar="KPA:L_H,...", help="Its curve, pressures rising; default: the car's.")
    ] = None,
    pump_v: Annotated[
        str | None, typer.Option(metavar="RATED:FED", help="Volts of the pump's curve, and at the pump.")
    ] = None,
    set_kpa: Annotated[float | None, typer.Option(help="What the regulator is set to; default: the car's.")] = None,
    follows: Annotated[
        str | None, typer.Option(help="What the regulator holds its pressure over: manifold or atmosphere.")
    ] = None,
    injectors: Annotated[
        str | None,
        typer.Option(metavar="L_H:KPA[:DUTY]", help="Flow held open, at which pressure, the part of the time open."),
    ] = None,
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
    """Ask what a car needs: complete bills of material, with the reason for every line.

    A question in the customer's words is read first: what has to be asked back is told; where nothing is, its bills. An
    option settles what is open.
    """
    given = dict(locals())
    shown_as_json = given.pop("as_json")
    given["allow_unsold"] = not given.pop("no_unsold")
    given["group_variants"] = not given.pop("no_group_variants")
    with revision_store() as store:
        library = Library(store)
        if layout is None and not _read(library, given, shown_as_json=shown_as_json):
            return
        answer = find_bills(library, _question(given))
    if shown_as_json:
        typer.echo(json.dumps(answer, ensure_ascii=False, indent=2))
    else:
        output().print(answer_table(answer))
    if answer["total_valid"] == 0:
        raise typer.Exit(ExitCode.NO)


def _read(library: Library, given: dict[str, Any], *, shown_as_json: bool) -> bool:
    """Read the customer's words and put what they say beside the options, which go first; whether bills can be told.

    Leaves where something is open that no option settles.
    """
    text, revision = given.pop("chassis"), given["revision"]
    try:
        asked = QuestionText.model_validate({"text": text, "revision": revision})
    except ValidationError as error:
        refuse_question(
            tuple(
                RequestFault(fault.pointer.replace("/text", "/chassis"), fault.found, fault.expected)
                for fault in faults_of(error)
            )
        )
    told = read_question(library, asked)
    optional = {name for name, value in given.items() if value not in (None, [], False)}
    is_open = any(one["field"] not in optional for one in told["open"])
    if shown_as_json:
        typer.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        output().print(question_table(told, optional))
    if is_open:
        raise typer.Exit(ExitCode.NO)
    given.update({name: value for name, value in told["request"].items() if name not in optional})
    return not shown_as_json


def _question(given: Mapping[str, Any]) -> BillRequest:
    """Make the request of the options that were given; all faults of their values are told at once."""
    fields = {name: value for name, value in given.items() if value not in (None, [])}
    wanted = fields.pop("clearances", [])
    told = [one for one in wanted if not isinstance(one, str)]
    wanted = [one for one in wanted if isinstance(one, str)]
    read = [_CLEARANCE.fullmatch(text) for text in wanted]
    faults = [
        RequestFault("/clearances", rendered(text), "SPOT:axial_mm=NUMBER or SPOT:across_mm=NUMBER")
        for text, match in zip(wanted, read, strict=True)
        if match is None
    ]
    faults += _facts_read(fields)
    fields["clearances"] = told + [
        {"spot": match["spot"], match["field"]: float(match["room"])} for match in read if match
    ]
    try:
        question = BillRequest.model_validate(fields)
    except ValidationError as error:
        faults += [RequestFault(fault.pointer, fault.found, fault.expected) for fault in faults_of(error)]
    if faults:
        refuse_question(tuple(faults))
    return question


def _facts_read(fields: dict[str, Any]) -> list[RequestFault]:
    """Read the texts of facts into the fields of the request; what cannot be read is told."""
    faults = []
    for name in [name for name in _FORMS if name in fields]:
        text = fields.pop(name)
        told = [_numbers(one, _FORMS[name][0]) for one in (text.split(",") if name == "pump" else [text])]
        if all(told):
            fields[name] = told if name == "pump" else told[0]
        else:
            faults.append(RequestFault(f"/{name}", rendered(text), _FORMS[name][1]))
    regulator = {name: fields.pop(name) for name in ("set_kpa", "follows") if name in fields}
    if regulator:
        fields["regulator"] = regulator
    return faults


def _numbers(text: str, names: tuple[str, ...]) -> dict[str, float] | None:
    """Numbers with colons between them, by their names; None where they are not."""
    parts = text.split(":")
    if not _LEAST_NUMBERS <= len(parts) <= len(names):
        return None
    try:
        return dict(zip(names, map(float, parts), strict=False))
    except ValueError:
        return None
