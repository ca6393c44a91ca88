"""Lists by page: where a page begins, and the link to the next one."""

from collections.abc import Mapping
from urllib.parse import urlencode

from fastapi import Request

from service.web.cursors import Cursor, read_cursor
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.queries import PageQuery


def start_of(given: PageQuery, section: str, filters: Mapping[str, str]) -> Cursor:
    """Where a page begins; revision 0 stands for the one that the query names. Raises InvalidQueryError."""
    if given.cursor is None:
        return Cursor(0, 0)
    start = read_cursor(given.cursor, section, filters)
    if given.revision not in (None, start.revision):
        raise InvalidQueryError(
            ParameterFault("revision", str(given.revision), f"{start.revision}, where the cursor began, or nothing")
        )
    return start


def next_path(request: Request, given: PageQuery, cursor: str) -> str:
    """The path of the next page: the same list with the same filters."""
    return f"{request.url.path}?{urlencode({**given.filters(), 'limit': given.limit, 'cursor': cursor})}"


def next_header(path: str) -> dict[str, str]:
    """The header that tells the same as `next`."""
    return {"Link": f'<{path}>; rel="next"'}
