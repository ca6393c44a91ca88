"""Revisions in the workshop: who published which, when and why; what one has otherwise than another."""

from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Path, Request
from starlette.responses import Response

from service.documents.overlay import Sections
from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.web.counter.showing import PageRoute, shown
from service.web.counter.workshop_desk import PATH, AppForesight
from service.web.handing import go_elsewhere
from service.web.pages.workshop_words import ONE_OF, ToldChange, changes_told, counted, when
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_MOST_LISTED = 500
_MOST_CHANGES = 300
_MOST_SHOWN = 100
_MOST_DIGITS = 10


@router.get(f"{PATH}/revisions")
async def revisions(request: Request, resources: AppResources) -> Response:
    return await resources.look(_revisions, request, resources.library)


def _revisions(request: Request, library: Library) -> Response:
    found = library.summaries()
    return shown(
        request,
        "workshop_revisions.html",
        listed=found[:_MOST_LISTED],
        more=max(len(found) - _MOST_LISTED, 0),
        when=when,
    )


@router.get(f"{PATH}/revisions/{{number}}")
async def revision(request: Request, resources: AppResources, number: Annotated[str, Path(alias="number")]) -> Response:
    return await resources.look(_revision, request, resources.library, number)


def _revision(request: Request, library: Library, told: str) -> Response:
    newest = library.newest()
    number = _number(told, newest)
    summary = next(one for one in library.summaries() if one.number == number)
    after = library.catalog(number).texts
    before = library.catalog(number - 1).texts if number > 1 else after
    changes = changes_told(before, after)
    return shown(
        request,
        "workshop_revision.html",
        summary=summary,
        newest=newest,
        when=when,
        changes=changes[:_MOST_CHANGES],
        more=max(len(changes) - _MOST_CHANGES, 0),
        is_made=request.query_params.get("made") == "yes",
        one_of=ONE_OF,
    )


@router.get(f"{PATH}/diff")
async def diff(request: Request, resources: AppResources, foresight: AppForesight) -> Response:
    """What one revision has otherwise than another; where it is asked for, what that does to answers."""
    with_impact = request.query_params.get("impact") == "yes"
    if with_impact:
        go_elsewhere()
    library = resources.library
    newest, before, after = await resources.look(_asked, request, library)
    changes = await resources.look(_changes, library, before, after)
    effect = None
    if with_impact:
        effect = await foresight.of_revisions(before, after)
    values: dict[str, Any] = {"effect": effect, "counted": [] if effect is None else counted(effect["counts"])}
    return shown(
        request,
        "workshop_diff.html",
        before=before,
        after=after,
        newest=newest,
        changes=changes[:_MOST_CHANGES],
        more=max(len(changes) - _MOST_CHANGES, 0),
        with_impact=with_impact,
        to_impact=f"{PATH}/diff?{urlencode({'from': before, 'to': after, 'impact': 'yes'})}",
        most=_MOST_SHOWN,
        one_of=ONE_OF,
        **values,
    )


def _asked(request: Request, library: Library) -> tuple[int, int, int]:
    """The newest revision, and the two that are asked for: the last step where nothing is told."""
    newest = library.newest()
    given = request.query_params
    before = _number(given.get("from", "") or str(max(newest - 1, 1)), newest)
    return newest, before, _number(given.get("to", "") or str(newest), newest)


def _changes(library: Library, before: int, after: int) -> list[ToldChange]:
    old: Sections = library.catalog(before).texts
    return changes_told(old, library.catalog(after).texts)


def _number(told: str, newest: int) -> int:
    """The number of a revision that there is. Raises NotFoundError."""
    if not (told.isascii() and told.isdecimal() and len(told) <= _MOST_DIGITS and 1 <= int(told) <= newest):
        raise NotFoundError("revision", told)
    return int(told)
