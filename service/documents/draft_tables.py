"""Tables that were brought into a draft: what they change in it, and what they leave as it is."""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.draft import DraftFault, EditKind


class SectionTaken(TypedDict):
    """A section of which there was a table: how its objects are, held against the draft's base."""

    section: str
    objects: Annotated[int, Field(description="how many the tables have")]
    same: Annotated[int, Field(description="as in the base")]
    added: int
    changed: int
    removed: Annotated[int, Field(description="in the base, and without a row in the table of the section")]
    kept: Annotated[
        int, Field(description="as in the base, while the draft has them otherwise: those stay as the draft has them")
    ]


class TableEdit(TypedDict):
    """An object that the tables make another one in the draft; `fields` are the top-level ones that differ."""

    section: str
    key: str
    what: EditKind
    fields: list[str]


class TableDraftFault(DraftFault):
    """What does not hold in the draft with the tables in it."""

    place: Annotated[str | None, Field(description="sheet, row and column that tell it; null: no table does")]


class TablesTaken(TypedDict):
    """What became of tables: all or nothing of them is taken."""

    draft: str
    base: int
    version: Annotated[int, Field(description="of the draft, afterwards")]
    dry_run: Annotated[bool, Field(description="true: nothing was kept")]
    sections: list[SectionTaken]
    untouched: Annotated[list[str], Field(description="sections of which there was no table: they stay as they are")]
    edits: Annotated[list[TableEdit], Field(description="the first 100")]
    more_edits: Annotated[int, Field(description="how many there are besides")]
    faults: Annotated[list[TableDraftFault], Field(description="the first 20")]
    more_faults: Annotated[int, Field(description="how many there are besides")]
