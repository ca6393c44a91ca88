"""In which language to answer: the header Accept-Language, read as RFC 9110, section 12.5.4, has it."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache, partial
from typing import Annotated, Any

from fastapi import Depends, Request

from service.domain.revision import Revision
from service.domain.tongue import ENGLISH, Tongue, speaking
from service.explain.tongues import tongue_of
from service.web.representations import CONTENT_LANGUAGE

ACCEPT_LANGUAGE = "Accept-Language"
_ENGLISH_FIRST = re.compile(r"\s*en(-[a-z0-9-]+)?\s*(,|$)", re.IGNORECASE)
"""English before all others, and liked as well as any: no other language can be liked better."""
_LONGEST = 400
"""Of a longer header the beginning is read; a browser sends sixty characters."""


def wished(headers: list[str]) -> str:
    """The header as it is known by: empty where English is liked best, whatever else there is."""
    given = ",".join(headers)[:_LONGEST]
    return "" if not given or _ENGLISH_FIRST.match(given) else given


async def languages_of(request: Request) -> str:
    """Read what languages the caller wishes for: as `wished` has it."""
    return wished(request.headers.getlist(ACCEPT_LANGUAGE))


PARAMETER: dict[str, Any] = {
    "name": ACCEPT_LANGUAGE,
    "in": "header",
    "required": False,
    "description": "the languages that are wished for, with weights: the texts are English, or in the second language "
    "of the catalog where that is liked better; facts, ids and prices are the same",
    "schema": {"type": "string"},
    "example": "de, en;q=0.5",
}
AppLanguages = Annotated[str, Depends(languages_of)]


@lru_cache(1024)
def _is_liked_better(wish: str, tag: str) -> bool:
    """Whether a language is liked better than English."""
    from werkzeug.datastructures import LanguageAccept
    from werkzeug.http import parse_accept_header

    return parse_accept_header(wish, LanguageAccept).best_match([ENGLISH, tag], ENGLISH) == tag


def tongue_for(wish: str, revision: Revision) -> Tongue | None:
    """The tongue to word an answer in; None: English, which is given to whoever likes no language that there is."""
    second = revision.second
    if not wish or second is None or not _is_liked_better(wish, second.tag):
        return None
    return tongue_of(revision)


@contextmanager
def worded(wish: str, revision: Revision) -> Iterator[Callable[[bytes], dict[str, str]]]:
    """Word an answer of a revision in the language that is wished for; gives what makes the headers that tell it of the
    answer as JSON: two languages where some of it stays English."""
    tongue = tongue_for(wish, revision)
    with speaking(tongue):
        yield partial(_told, tongue)


def _told(tongue: Tongue | None, answer: bytes) -> dict[str, str]:
    return {CONTENT_LANGUAGE: ENGLISH if tongue is None else tongue.languages(answer), "Vary": ACCEPT_LANGUAGE}
