"""Which part next: what the maker should make, what it must be, and one touch that makes it a draft part to try."""

from collections.abc import Callable
from dataclasses import dataclass

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import Response

from service.documents.next_part import NextPart
from service.documents.request import BillRequest
from service.domain import units
from service.impact.wishes import asked_told, names_in
from service.usecases.draft_part import begin_with, document_of, name_of
from service.usecases.errors import NotFoundError
from service.usecases.impact import NewMeter
from service.usecases.library import Edition, Library
from service.usecases.next_parts import next_parts_in
from service.usecases.standing import KeptQuestions
from service.web.counter.forms import own_form
from service.web.counter.question_form import link_of
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.workshop_desk import PATH, keep_who, who_works
from service.web.counter.workshop_objects import object_path
from service.web.errors import OverloadedError
from service.web.handing import go_elsewhere
from service.web.pages.workshop_pictures import picture_of
from service.web.reckonings import AppReckonings, Reckonings, kept_questions
from service.web.resources import AppDrafts, AppResources, Resources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_MOST_SHOWN = 40
_MOST_QUESTIONS = 12
_HERE = f"{PATH}/next-parts"


@dataclass(frozen=True)
class Card:
    """A part to make: what it is called, how it looks, what it must be, and the questions that it answers."""

    part: NextPart
    name: str
    picture: Markup
    needs: list[tuple[str, str]]
    questions: list[tuple[str, str]]


@router.get(_HERE)
async def next_parts(request: Request, resources: AppResources, reckonings: AppReckonings) -> Response:
    go_elsewhere()
    number, told = await _told(request, resources, reckonings)
    return await resources.look(_page, request, resources.library, number, told)


def _page(request: Request, library: Library, number: int, told: list[NextPart] | None) -> Response:
    edition = library.edition(number)
    return shown(
        request,
        "workshop_next_parts.html",
        number=number,
        is_waiting=told is None,
        cards=[_card(part, edition) for part in (told or [])[:_MOST_SHOWN]],
        more=max(len(told or []) - _MOST_SHOWN, 0),
        most=_MOST_QUESTIONS,
        who=who_works(request),
    )


@router.post(_HERE)
async def try_one(request: Request, resources: AppResources, drafts: AppDrafts, reckonings: AppReckonings) -> Response:
    """Begin a draft with the part, and go to where its impact is seen."""
    go_elsewhere()
    form = await own_form(request)
    told = (await _told(request, resources, reckonings))[1]
    part = next((one for one in told or [] if _name(one) == form.get("part", "")), None)
    if part is None:
        raise NotFoundError("part to make", form.get("part", ""))
    author = form.get("author", "").strip()
    begun, sku = await resources.write(begin_with, drafts, part, author or None)
    return keep_who(gone_to(f"{object_path(begun.id, 'items', sku)}?saved=tried"), author, request)


async def _told(request: Request, resources: Resources, reckonings: Reckonings) -> tuple[int, list[NextPart] | None]:
    """The newest revision and the parts for it; None while they are worked out."""
    library, kept = resources.library, kept_questions(request)
    number, newest = await resources.look(_what_counts, library, kept)
    new_meter = resources.lanes.paced
    try:
        told: list[NextPart] | None = reckonings.get(
            ("next-parts", number, newest), lambda: _reckoned(library, kept, number, new_meter)
        )
    except OverloadedError:
        return number, None
    return number, told


def _what_counts(library: Library, kept: KeptQuestions) -> tuple[int, tuple[object, ...]]:
    """The number of the newest revision, and what tells whether other questions stand by now."""
    return library.edition().number, kept.newest()


def _reckoned(library: Library, kept: KeptQuestions, number: int, new_meter: NewMeter) -> list[NextPart]:
    return next_parts_in(library.edition(number), kept.gather(), new_meter)


def _name(part: NextPart) -> str:
    """What a form calls a part."""
    return ",".join([part["kind"], *(f"{port['standard']}:{port['end']}" for port in part["ports"])])


def _card(part: NextPart, edition: Edition) -> Card:
    catalog = edition.catalog
    return Card(
        part,
        name_of(part, catalog.port_standards),
        picture_of(document_of(part, catalog), catalog),
        _needs(part, edition),
        _questions(part, edition),
    )


def _questions(part: NextPart, edition: Edition) -> list[tuple[str, str]]:
    """The questions in words with their links, each once, though it stands in the catalog and was asked as well."""
    names = names_in(edition.catalog)
    asked = [(BillRequest.model_validate(one["request"]), one["origin"] == "asked") for one in part["questions"]]
    told = {link_of(request): asked_told(request, names) for request, _ in asked}
    stands = {link_of(request) for request, is_asked in asked if not is_asked}
    was_asked = {link_of(request) for request, is_asked in asked if is_asked}
    both = {link: " (asked as well)" if link in stands else " (asked)" for link in was_asked}
    return [(link, words + both.get(link, "")) for link, words in told.items()]


def _needs(part: NextPart, edition: Edition) -> list[tuple[str, str]]:
    """What the part has to be, each with its figure."""
    needs = part["needs"]
    fuels = edition.revision.fuels
    told = [
        ("Stands proud at least", _figure(needs["standout_mm_at_least"], units.length)),
        ("Stands proud at most", _figure(needs["standout_mm_at_most"], units.length)),
        ("Across at most", _figure(needs["across_mm_at_most"], units.length)),
        ("Pressure at least", units.pressure(needs["kpa_at_least"])),
        ("Fuels", ", ".join(fuels[id_].name if id_ in fuels else id_ for id_ in needs["fuels"])),
        ("Bore at least", _figure(needs["bore_mm_at_least"], units.length)),
        ("For power of", units.power(needs["power_kw_at_least"])),
    ]
    return [(title, figure) for title, figure in told if figure]


def _figure(value: float | None, words: Callable[[float], str]) -> str:
    return "" if value is None else words(value)
