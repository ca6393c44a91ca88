"""Lists by page: where a page begins, and the link to the next one."""

from collections.abc import Mapping
from typing import NamedTuple
from urllib.parse import urlencode

from fastapi import Request

from service.web.cursors import Cursor, read_cursor, write_cursor
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.queries import ListQuery, PageQuery


def start_of(given: ListQuery, section: str, filters: Mapping[str, str] | None = None) -> Cursor:
    """Where a page begins; revision 0 stands for the one that the query names. Raises InvalidQueryError.

    `filters`: what narrows the list, where that is not what the query says.
    """
    if given.cursor is None:
        return Cursor(0, 0)
    start = read_cursor(given.cursor, section, given.filters() if filters is None else filters)
    if isinstance(given, PageQuery) and given.revision not in (None, start.revision):
        raise InvalidQueryError(
            ParameterFault("revision", str(given.revision), f"{start.revision}, where the cursor began, or nothing")
        )
    return start


class Onward(NamedTuple):
    """The way to the next page, as a field of the page and as a header; both are empty on the last one."""

    field: dict[str, str]
    header: dict[str, str]


def onward(
    request: Request, given: ListQuery, section: str, cursor: Cursor | None, filters: Mapping[str, str] | None = None
) -> Onward:
    """The way to the page of the same list that begins at a cursor; None: there is none."""
    if cursor is None:
        return Onward({}, {})
    text = write_cursor(cursor, section, given.filters() if filters is None else filters)
    path = f"{request.url.path}?{urlencode({**given.filters(), 'limit': given.limit, 'cursor': text})}"
    return Onward({"next": path}, next_header(path))


def next_header(path: str) -> dict[str, str]:
    """The header that tells the same as `next`."""
    return {"Link": f'<{path}>; rel="next"'}
