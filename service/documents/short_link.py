"""A short link to a bill, as it is answered."""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict


class ShortLink(TypedDict):
    """What stands for a bill's key in a short link."""

    code: Annotated[str, Field(description="the same for the same key, until its end")]
    path: Annotated[str, Field(description="leads to the assembly sheet of the bill")]
