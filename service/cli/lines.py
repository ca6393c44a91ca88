"""Lines that are kept for good: who does something, and why."""

from typing import Annotated

import typer
from pydantic import TypeAdapter, ValidationError

from service.documents import draft

AUTHOR: TypeAdapter[str] = TypeAdapter(draft.Author)
REASON: TypeAdapter[str] = TypeAdapter(draft.Reason)

AuthorOption = Annotated[str | None, typer.Option(metavar="NAME", help="Who does it, kept in the trail.")]
ReasonOption = Annotated[str | None, typer.Option(metavar="TEXT", help="Why, kept in the trail.")]


def line_of(text: str | None, kind: TypeAdapter[str]) -> str | None:
    """A line as it is kept; None where it says nothing. Raises typer.BadParameter for more than a line."""
    if text is None or not text.strip():
        return None
    try:
        line: str = kind.validate_python(text.strip())
    except ValidationError:
        raise typer.BadParameter("a reason or a name is one line of at most 1,000 or 120 characters") from None
    return line
