"""Query strings read strictly: every name known, none twice, every value right."""

import re
from collections import Counter
from collections.abc import Awaitable, Callable, Collection, Sequence
from typing import Annotated, Any, Literal, TypeVar, get_args

from fastapi import Depends, Request
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from service.documents.catalog import Kind
from service.documents.draft import Author, Reason
from service.documents.faults import MOST_TOLD
from service.documents.fields import ID_PATTERN, Id
from service.documents.nearest import nearest
from service.documents.rendering import printable, rendered
from service.web.cursors import CURSOR_LENGTH
from service.web.errors import InvalidQueryError, ParameterFault

DEFAULT_LIMIT = 50
MAX_LIMIT = 200

_ID = ID_PATTERN[1:-1]
_DIGITS = re.compile(r"[0-9]{1,10}")


def _digits(value: object) -> object:
    return int(value) if isinstance(value, str) and _DIGITS.fullmatch(value) else value


def _flag(value: object) -> object:
    return {"true": True, "false": False}.get(value, value) if isinstance(value, str) else value


class NoQuery(BaseModel):
    """No query parameter at all. The description of each field also tells a caller what would be right."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class RevisionQuery(NoQuery):
    """Which revision is asked."""

    revision: Annotated[
        Annotated[int, Field(ge=1, le=2**31 - 1), BeforeValidator(_digits)] | None,
        Field(description="the number of a revision, from 1; default: the newest", examples=[1]),
    ] = None


Limit = Annotated[
    int,
    Field(ge=1, le=MAX_LIMIT, description=f"how many at most, a whole number from 1 to {MAX_LIMIT}", examples=[1]),
    BeforeValidator(_digits),
]
CursorText = Annotated[
    str | None,
    Field(
        max_length=CURSOR_LENGTH,
        description="where to go on: the cursor of a `next` link, unchanged, with the same filters",
    ),
]


class ListQuery(NoQuery):
    """A page of a list that is of no one revision."""

    limit: Limit = DEFAULT_LIMIT
    cursor: CursorText = None

    def filters(self) -> dict[str, str]:
        """Return the filters that are set: none."""
        return {}


class SinceQuery(NoQuery):
    """What changed since a revision."""

    since: Annotated[
        int,
        Field(ge=1, le=2**31 - 1, description="the number of a revision, from 1", examples=[1]),
        BeforeValidator(_digits),
    ]


class EditQuery(NoQuery):
    """Who edits, and why."""

    author: Annotated[Author | None, Field(description="who does this, in one line")] = None
    reason: Annotated[Reason | None, Field(description="why, in one line, kept for good")] = None


class TablesQuery(EditQuery):
    """How tables are brought into a draft."""

    table: Annotated[
        str | None,
        Field(
            max_length=31,
            description="the table that a single CSV file is, such as items.ports; default: the one with its heads",
            examples=["items"],
        ),
    ] = None
    dry_run: Annotated[
        bool, Field(description="true: only tell what would change; default: false"), BeforeValidator(_flag)
    ] = False
    replace: Annotated[
        bool,
        Field(description="true: the tables count, also where the draft was edited otherwise; default: false"),
        BeforeValidator(_flag),
    ] = False


class AuthorQuery(NoQuery):
    """Who does it."""

    author: Annotated[Author | None, Field(description="who does this, in one line")] = None


class PageQuery(ListQuery, RevisionQuery):
    """A page of a list."""

    def filters(self) -> dict[str, str]:
        """Return the filters that are set, as they are written: all but the paging itself."""
        told = self.model_dump(include=set(type(self).model_fields) - _PAGING, exclude_none=True)
        return {name: _WRITTEN.get(value, value) for name, value in told.items()}


def _words(example: str) -> Any:
    return Field(
        min_length=1,
        max_length=120,
        description="words, 1 to 120 characters; leaves what holds all of them, or near spellings, in its names, its"
        " id or what it is",
        examples=[example],
    )


class ChassisQuery(PageQuery):
    """A page of the cars, narrowed by words."""

    q: Annotated[str | None, _words("brook")] = None


class ItemsQuery(PageQuery):
    """A page of the items, narrowed by filters that must all hold."""

    q: Annotated[str | None, _words("rail")] = None
    sku: Annotated[
        str | None,
        Field(
            max_length=8_000,
            pattern=f"^{_ID}(,{_ID}){{0,{MAX_LIMIT - 1}}}$",
            description=f"SKUs in any case, split by commas, at most {MAX_LIMIT}; `not_found` has those that are none",
            examples=["RAIL-S"],
        ),
    ] = None
    status: Annotated[
        Literal["active", "retired"] | None, Field(description="active or retired", examples=["active"])
    ] = None
    sold: Annotated[
        bool | None,
        Field(description="true: what the maker sells; false: what is bought elsewhere", examples=[True]),
        BeforeValidator(_flag),
    ] = None
    kind: Annotated[
        Kind | None, Field(description=f"a kind of item: {', '.join(get_args(Kind))}", examples=["gauge"])
    ] = None
    mates: Annotated[
        str | None,
        Field(
            max_length=130,
            pattern=ID_PATTERN[:-1] + ":(male|female)$",
            description="STANDARD:END, that is the id of a port standard, then :male or :female; leaves the items"
            " with a port that mates with that end",
            examples=["taper-1/8:female"],
        ),
    ] = None
    fits: Annotated[
        Id | None,
        Field(
            description="the id of a chassis; leaves the items that stand in a bill for it, at its stock power on the"
            " catalog's first fuel, with or without a gauge",
            examples=["brook"],
        ),
    ] = None

    def skus(self) -> list[str]:
        """The SKUs as they are asked for."""
        return [] if self.sku is None else list(dict.fromkeys(self.sku.split(",")))

    def mating_end(self) -> tuple[str, str] | None:
        """Split `mates` into the port standard's id and the end."""
        if self.mates is None:
            return None
        standard, end = self.mates.rsplit(":", 1)
        return standard, end


_PAGING = frozenset(PageQuery.model_fields)
_WRITTEN = {True: "true", False: "false"}
_MARKETING = "utm_"
"""How the parameters begin that shops hang on links to see where people come from: they are left alone."""
Query = TypeVar("Query", bound=NoQuery)


def query_of(model: type[Query]) -> Callable[[Request], Awaitable[Query]]:
    """Make a dependency that reads the query string as `model`.

    Raises:
        InvalidQueryError: with every fault.
    """

    async def read(request: Request) -> Query:
        return read_query(model, request.query_params.multi_items())

    return read


NothingAsked = Annotated[NoQuery, Depends(query_of(NoQuery))]
RevisionAsked = Annotated[RevisionQuery, Depends(query_of(RevisionQuery))]
ListAsked = Annotated[ListQuery, Depends(query_of(ListQuery))]


def read_query(model: type[Query], given: Sequence[tuple[str, str]]) -> Query:
    """Read names and values as `model`. Raises InvalidQueryError with the first faults and a count of the others."""
    given = [(name, value) for name, value in given if not name.startswith(_MARKETING)]
    counts = Counter(name for name, _ in given)
    often = [(name, count) for name, count in counts.items() if count > 1]
    unknown = [name for name in counts if name not in model.model_fields]
    faults = [_given_often(name, count) for name, count in often[:MOST_TOLD]]
    query = None
    try:
        query = model.model_validate({name: value for name, value in given if name in model.model_fields})
    except ValidationError as error:
        faults += [_wrong(detail, model) for detail in error.errors(include_url=False)]
    faults += [_not_known(name, model) for name in unknown[:MOST_TOLD]]
    if query is None or faults:
        untold = len(often[MOST_TOLD:]) + len(unknown[MOST_TOLD:])
        raise InvalidQueryError(*faults[:MOST_TOLD], more=len(faults[MOST_TOLD:]) + untold)
    return query


def parameters_of(model: type[NoQuery]) -> list[dict[str, Any]]:
    """Describe the query parameters of `model` for the OpenAPI document."""
    told = model.model_json_schema()
    return [
        {"name": name, "in": "query", "required": name in told.get("required", ())}
        | {"schema": _parameter_schema(schema), "description": schema["description"]}
        for name, schema in told.get("properties", {}).items()
    ]


def _parameter_schema(schema: dict[str, Any]) -> dict[str, Any]:
    """A parameter that is not given is no null: of `anyOf` something or null, the something stays."""
    told = {key: value for key, value in schema.items() if key not in ("anyOf", "title", "description")}
    if told.get("default", 0) is None:
        del told["default"]
    for choice in schema.get("anyOf", []):
        if choice != {"type": "null"}:
            told |= choice
    return told


def _given_often(name: str, count: int) -> ParameterFault:
    return ParameterFault(printable(name), f"it {count} times", "it once")


def _wrong(detail: Any, model: type[NoQuery]) -> ParameterFault:
    name = str(detail["loc"][0])
    return ParameterFault(name, rendered(detail["input"]), model.model_fields[name].description or "another value")


def names_told(known: Collection[str]) -> str:
    """Say which parameters of the query there are."""
    return f"one of {', '.join(known)}" if known else "no query parameter at all"


def _not_known(name: str, model: type[NoQuery]) -> ParameterFault:
    known = model.model_fields
    names = names_told(known)
    return ParameterFault(printable(name), "this name", names, tuple(nearest(name, known)))
