"""Problem documents as they cross the edge: RFC 9457."""

from pydantic import BaseModel, Field

MEDIA_TYPE = "application/problem+json"
PAGES = "/v1/problems"


class ProblemError(BaseModel):
    """One fault: the place is a `pointer` into the body, or the name of a `parameter` of path or query."""

    pointer: str | None = Field(None, description="JSON Pointer as a URI fragment", examples=["#/power_kw"])
    parameter: str | None = Field(None, description="a path or query parameter, or a header", examples=["limit"])
    detail: str = Field(description="the fault in one sentence")
    found: str = Field(description="what stood there, cut short; `nothing` where it is missing")
    expected: str = Field(description="what would be right")
    nearest: list[str] = Field([], description="known ids or names that are alike, the nearest first")


class Problem(BaseModel):
    """A problem document. Tell problems apart by `type`; `detail` is for people and may change."""

    type: str = Field(description="a path that identifies the type and serves a page about it")
    title: str = Field(description="always the same for one type")
    status: int
    detail: str = Field(description="what went wrong this time, and how to put it right")
    instance: str = Field("", description="this very occurrence, by its request id")
    errors: list[ProblemError] = Field([], description="every fault, where there can be several; the first 20 of many")
    more: int | None = Field(None, description="how many faults there are besides those of `errors`; absent: none")
