"""What the pages of the workshop share: who works at them, and what an edit does."""

from collections.abc import Callable
from urllib.parse import quote, unquote

from fastapi import Request
from starlette.responses import Response

from service.documents.impact import ImpactAnswer
from service.usecases.draft_contents import Contents, edit_impact, revision_impact, without_edit
from service.usecases.drafts import Drafts
from service.usecases.publish import Ready, impact_on, looked_at
from service.web.access import caller_of
from service.web.counter.visits import is_secure
from service.web.errors import OverloadedError
from service.web.middleware import COOKIES
from service.web.reckonings import Reckonings, kept_questions
from service.web.resources import Resources

PATH = "/workshop"
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
        new_meter = self._resources.lanes.paced
        return await self._get(
            ("impact on", ready.base, *ready.name),
            lambda: impact_on(self._drafts.library, ready, self._kept, new_meter),
        )

    async def of_edit(self, contents: Contents, section: str, key: str) -> tuple[ImpactAnswer | None, bool]:
        """What one edit of a draft does, and whether it is told alone: others may not hold together without it.

        Raises as `of_draft`.
        """
        without = None
        if len(contents.edits) > 1:
            without = await self._resources.look(without_edit, contents, section, key)
        if without is None:
            return await self.of_draft(contents.draft.id), len(contents.edits) <= 1
        alone = without
        new_meter = self._resources.lanes.paced
        told = await self._get(
            ("edit", contents.draft.id, contents.draft.version, section, key),
            lambda: edit_impact(contents, alone, self._kept, new_meter),
        )
        return told, True

    async def of_revisions(self, before: int, after: int) -> ImpactAnswer | None:
        """What one revision does to the questions of another."""
        library, new_meter = self._drafts.library, self._resources.lanes.paced
        return await self._get(
            ("impact", before, after), lambda: revision_impact(library, before, after, self._kept, new_meter)
        )

    async def _get(self, name: tuple[object, ...], call: Callable[[], ImpactAnswer]) -> ImpactAnswer | None:
        newest = await self._resources.look(self._kept.newest)
        try:
            told: ImpactAnswer | None = self._reckonings.get((*name, newest), call)
        except OverloadedError:
            return None  # others are waiting: whoever asks again finds a place
        return told
