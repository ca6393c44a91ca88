"""What the pages of the workshop share: who works at them, and what an edit does."""

from collections.abc import Callable
from typing import Annotated, NamedTuple, TypeVar
from urllib.parse import quote, unquote

from fastapi import Depends, Request
from starlette.responses import Response

from service.documents.impact import ImpactAnswer
from service.usecases.draft_contents import Contents, answers_in_base, edit_impact, revision_impact, without_edit
from service.usecases.drafts import Drafts
from service.usecases.publish import Ready, impact_on, looked_at
from service.usecases.standing import KeptQuestions
from service.web.access import caller_of
from service.web.counter.visits import is_secure
from service.web.errors import OverloadedError
from service.web.middleware import COOKIES
from service.web.reckonings import AppReckonings, Reckonings, kept_questions
from service.web.resources import AppDrafts, AppResources, Resources

PATH = "/workshop"
SOON_S = 1.0
"""So long the page of an edit waits for what it does."""
_WHO = f"{COOKIES}who"
_MOST_WHO = 40
_YEAR_S = 365 * 24 * 3600


def who_works(request: Request) -> str:
    """Who said last in this browser that they work here, else whose key it is; nothing where nobody is known."""
    told = unquote(request.cookies.get(_WHO, ""))[:_MOST_WHO]
    return told if told and told.isprintable() else caller_of(request.scope).account


def keep_who(response: Response, name: str, request: Request) -> Response:
    """Have the browser keep who works here, so that nobody types it twice."""
    kept = quote(name.strip()[:_MOST_WHO])
    if kept:
        response.set_cookie(_WHO, kept, max_age=_YEAR_S, httponly=True, samesite="lax", secure=is_secure(request))
    return response


T = TypeVar("T")


class Effect(NamedTuple):
    """What an edit does. `is_alone`: it is told alone, else of the whole draft, as others do not hold together without
    it; `is_whole`: no question is left to be asked."""

    told: ImpactAnswer
    is_alone: bool = True
    is_whole: bool = True


class Foresight:
    """What drafts do to the standing questions, worked out behind people; None while it is not there yet.

    All that the pages know of an impact comes by here.
    """

    def __init__(self, request: Request, resources: Resources, drafts: Drafts, reckonings: Reckonings) -> None:
        self._kept = kept_questions(request)
        self._resources = resources
        self._drafts = drafts
        self._reckonings = reckonings

    async def of_draft(self, id_: str) -> ImpactAnswer | None:
        """What a draft does to its base. Raises ConflictError where something does not hold in it."""
        return await self.of(await self._resources.look(looked_at, self._drafts, id_))

    async def of(self, ready: Ready) -> ImpactAnswer | None:
        """What publishing this does to its base."""
        new_meter, remembered = self._resources.lanes.paced, self._reckonings.remembered
        return await self._get(
            ("impact on", ready.base, *ready.name),
            lambda: impact_on(self._drafts.library, ready, self._kept, new_meter, remembered),
        )

    async def of_edit(self, contents: Contents, section: str, key: str) -> "Effect | None":
        """What one edit of a draft does: first to what the catalog and partners ask, then to what was really asked.

        What is there within a second is waited for. Raises as `of_draft`.
        """
        look = self._resources.look
        without = await look(without_edit, contents, section, key)
        if without is None:
            told = await self.of_draft(contents.draft.id)
            return None if told is None else Effect(told, is_alone=False)
        await look(lambda: contents.whole)
        new_meter, remembered = self._resources.lanes.paced, self._reckonings.remembered

        def of(kept: KeptQuestions) -> Callable[[], ImpactAnswer]:
            return lambda: edit_impact(contents, without, kept, new_meter, remembered)

        named = contents.draft.id, contents.draft.version, section, key
        first = await self._get(("edit", *named, "first"), of(self._kept.without_asked()), within_s=SOON_S)
        whole = await self._get(("edit", *named), of(self._kept), within_s=0.0 if first is None else SOON_S / 4)
        told = whole or first
        return None if told is None else Effect(told, is_whole=whole is not None)

    async def expect(self, base: int) -> None:
        """Have the base of a draft asked its questions, which the impact of any edit needs."""
        library, new_meter, remembered = self._drafts.library, self._resources.lanes.paced, self._reckonings.remembered
        await self._get(("answers", base), lambda: answers_in_base(library, base, self._kept, new_meter, remembered))

    async def of_revisions(self, before: int, after: int) -> ImpactAnswer | None:
        """What one revision does to the questions of another."""
        library, new_meter = self._drafts.library, self._resources.lanes.paced
        return await self._get(
            ("impact", before, after), lambda: revision_impact(library, before, after, self._kept, new_meter)
        )

    async def _get(self, name: tuple[object, ...], call: Callable[[], T], within_s: float = 0.0) -> T | None:
        newest = await self._resources.look(self._kept.newest)
        try:
            told: T | None = await self._reckonings.soon((*name, newest), call, within_s)
        except OverloadedError:
            return None  # others are waiting: whoever asks again finds a place
        return told


async def _foresight(
    request: Request, resources: AppResources, drafts: AppDrafts, reckonings: AppReckonings
) -> Foresight:
    return Foresight(request, resources, drafts, reckonings)


AppForesight = Annotated[Foresight, Depends(_foresight)]
