"""Cursors: a place in a list, tied to the revision in which the list began and to its filters."""

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass

from service.documents.rendering import rendered
from service.web.errors import InvalidQueryError, ParameterFault

CURSOR_LENGTH = 80

_CONTENT = re.compile(r"([1-9][0-9]{0,9})\.([1-9][0-9]{0,9})\.([0-9a-f]{16})")


@dataclass(frozen=True)
class Cursor:
    """The next entry of a list is number `offset`, from 0, in revision number `revision`."""

    revision: int
    offset: int


def write_cursor(cursor: Cursor, section: str, filters: Mapping[str, str]) -> str:
    """Write a cursor for a section of the catalog and the filters as they are set."""
    content = f"{cursor.revision}.{cursor.offset}.{_digest(section, filters)}"
    return base64.urlsafe_b64encode(content.encode()).rstrip(b"=").decode()


def read_cursor(text: str, section: str, filters: Mapping[str, str]) -> Cursor:
    """Read a cursor again.

    Raises:
        InvalidQueryError: for what was not written by `write_cursor`, or for another section or other filters.
    """
    match = _CONTENT.fullmatch(_decoded(text))
    if match is None or base64.urlsafe_b64encode(match[0].encode()).rstrip(b"=").decode() != text:
        raise _refused(text, "the cursor of a `next` link, unchanged")
    if match[3] != _digest(section, filters):
        raise _refused(text, "a cursor of this very list, with the filters that it began with")
    return Cursor(int(match[1]), int(match[2]))


def _decoded(text: str) -> str:
    try:
        return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4)).decode("ascii")
    except ValueError:
        return ""


def _digest(section: str, filters: Mapping[str, str]) -> str:
    told = json.dumps([section, sorted(filters.items())])
    return hashlib.sha256(told.encode()).hexdigest()[:16]


def _refused(text: str, expected: str) -> InvalidQueryError:
    return InvalidQueryError(ParameterFault("cursor", rendered(text), expected))
