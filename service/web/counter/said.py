"""Say it as the customer does: what a sentence says as chips, what is open as choices; both lead to the plain page.

What was said goes by POST and into no address; nothing of it is kept.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import APIRouter, Request
from pydantic import JsonValue
from starlette.responses import Response

from service.documents.question_parameters import query_of
from service.documents.question_reading import MOST_TEXT, OpenField, QuestionText, ReadQuestion
from service.documents.unknown_car import UnknownCarSaid
from service.domain.units import KPA_PER_PSI, KW_PER_HP
from service.domain.vehicles import Layout
from service.usecases.library import Library
from service.usecases.read_question import question_in
from service.web.counter.forms import own_form
from service.web.counter.question_form import NUMBERS
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.visits import visit_of
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.pages.faults import NAMES
from service.web.pages.pictures import Pictures
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_LISTED = ("addons", "exclude", "clearances", "have")


@dataclass(frozen=True)
class Chip:
    """A field that was understood, as the form sends it on; `name` None: it only narrows what is open."""

    name: str | None
    value: str
    says: str
    words: str


@dataclass(frozen=True)
class Open:
    """A field that is asked, with its choices as the form sends them; without any a figure is to be told."""

    name: str
    label: str
    asks: str
    choices: list[tuple[str, str, Layout | None]]
    is_number: bool


@router.get("/ask/said")
async def start() -> Response:
    return gone_to("/ask")


@router.post("/ask/said")
async def said(request: Request, resources: AppResources) -> Response:
    form = await own_form(request)
    text = form.get("text", "").strip()
    if not text:
        return gone_to("/ask")
    if len(text) > MOST_TEXT:
        raise InvalidQueryError(ParameterFault("text", f"{len(text)} characters", f"at most {MOST_TEXT}"))
    return await resources.run(_page, request, resources.library, text)


def _page(request: Request, library: Library, text: str) -> Response:
    edition = library.edition()
    read = question_in(edition, QuestionText(text=text).text)
    layouts = edition.revision.layouts
    return shown(
        request,
        "said.html",
        text=text,
        chips=_chips(read),
        open=[_open(one, layouts) for one in read["open"]],
        unread=read["unread"],
        unknown=read["unknown_car"],
        facts=_facts(read["unknown_car"], visit_of(request).units),
        pictures=Pictures(edition),
    )


def _chips(read: ReadQuestion) -> list[Chip]:
    """A chip for each thing that was understood; of a field that is told twice the first sends both."""
    sent = query_of(read["request"])
    chips = []
    for one in read["understood"]:
        name = one["field"]
        value = sent.pop(name, None)
        chips.append(Chip(None if value is None else name, value or "", one["says"], one["words"]))
    return chips


def _facts(said: UnknownCarSaid | None, units: str) -> dict[str, str]:
    """What is told of a car that is not in the catalog, as its form takes it: in hp and psi for who reads inches."""
    if said is None:
        return {}
    told = dict(said["car"])
    for name, factor in (("power_kw", KW_PER_HP), ("pressure_kpa", KPA_PER_PSI)):
        value = told.get(name)
        if isinstance(value, float):
            told[name] = round(value / factor if units == "inch" else value, 1)
    return {name: str(value).removesuffix(".0") for name, value in told.items()}


def _open(one: OpenField, layouts: Mapping[str, Layout]) -> Open:
    name = one["field"]
    choices = [(_sent(name, x["value"]), x["says"], layouts.get(str(x["value"]))) for x in one["choices"]]
    return Open(name, NAMES.get(name, name), one["asks"], choices, name in NUMBERS)


def _sent(name: str, value: JsonValue) -> str:
    """A value as the address of a question holds it; nothing for none of the choices."""
    whole = [value] if name in _LISTED and value is not None and not isinstance(value, list) else value
    return query_of({name: whole}).get(name, "")
