"""The headers If-Match and If-None-Match of an edit: under which state of the thing it is meant."""

import re
from typing import Any

from fastapi import Request

from service.documents.rendering import rendered
from service.usecases.preconditions import ANY, Precondition
from service.web.errors import InvalidQueryError, ParameterFault, PreconditionRequiredError

IF_MATCH, IF_NONE_MATCH = "If-Match", "If-None-Match"

_MOST_TAGS = 20
_LONGEST = 2_000
_LIST = re.compile(r'[ \t]*((?:W/)?"[!#-~]*")[ \t]*')


async def precondition_of(request: Request) -> Precondition:
    """Read the precondition of an edit.

    Raises PreconditionRequiredError where there is none, InvalidQueryError for what is no list of entity tags.
    """
    given, none = (", ".join(request.headers.getlist(name)).strip() for name in (IF_MATCH, IF_NONE_MATCH))
    if none not in ("", ANY):
        raise InvalidQueryError(ParameterFault(IF_NONE_MATCH, rendered(none), "*: there must be no such thing yet"))
    if not (given or none):
        raise PreconditionRequiredError
    return Precondition(_tags(given) if given else None, is_new=none == ANY)


def _tags(given: str) -> tuple[str, ...]:
    """The tags that a thing may have; weak ones, which never match, stay as they are."""
    if given == ANY:
        return (ANY,)
    parts = given[:_LONGEST].split(",")
    found = [_LIST.fullmatch(part) for part in parts[:_MOST_TAGS]]
    tags = tuple(match[1] for match in found if match is not None)
    if len(tags) < len(parts) or len(given) > _LONGEST:
        raise InvalidQueryError(
            ParameterFault(IF_MATCH, rendered(given), f"* or up to {_MOST_TAGS} entity tags as ETag has them")
        )
    return tags


def parameters(*, may_be_new: bool) -> list[dict[str, Any]]:
    """The description of the headers."""
    both = [
        {
            "name": IF_MATCH,
            "in": "header",
            "required": not may_be_new,
            "description": "the ETag of the object as you saw it; 412 where it is another by now",
            "schema": {"type": "string", "examples": [ANY]},
        },
        {
            "name": IF_NONE_MATCH,
            "in": "header",
            "required": False,
            "description": "`*` makes a new object: 412 where there is one",
            "schema": {"type": "string", "enum": [ANY]},
        },
    ]
    return both if may_be_new else both[:1]
