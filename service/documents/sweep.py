"""A sweep: every standing question asked of two catalogs, in the background, with its progress."""

from typing import Annotated, Literal

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.fields import Document
from service.documents.request import RevisionNumber

SweepStatus = Literal["running", "done", "cancelled"]
DraftId = Annotated[str, Field(pattern=r"^[A-Za-z0-9]{1,64}$", description="the id of a draft")]


class BegunSweep(Document):
    """What is held against what."""

    from_: Annotated[
        RevisionNumber, Field(alias="from", description="the number of the revision that is taken as it was")
    ]
    to: Annotated[
        RevisionNumber | DraftId,
        Field(description="the number of the revision that is held against it, or the id of a draft"),
    ]


Sweep = TypedDict(
    "Sweep",
    {
        "id": str,
        "from": Annotated[int | str, Field(description="the revision that is taken as it was")],
        "to": Annotated[int | str, Field(description="the revision or the draft that is held against it")],
        "status": SweepStatus,
        "begun": Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")],
        "done": Annotated[int, Field(description="parts of the work that are done: questions, then changes undone")],
        "total": Annotated[int | None, Field(description="parts in all, as far as that is known; null: not yet")],
        "impact": Annotated[str | None, Field(description="path of the impact; null until it is there")],
    },
)
"""How far a sweep is."""
