"""Drafts of the catalog as they cross the edge: begun, edited, moved to a newer revision, published."""

from typing import Annotated, Literal, NotRequired

from pydantic import BeforeValidator, Field
from typing_extensions import TypedDict

from service.documents.catalog import Addon, Chassis, Fuel, Item, Layout, Maker, Material, Policies, PortStandard
from service.documents.catalog_cases import AnyCatalogCase
from service.documents.catalog_joints import Joint
from service.documents.fields import Document, Name, whole
from service.documents.fuel_order import FuelOrder
from service.documents.money import InMoney

_SAYS_SOMETHING = r"^[^\x00-\x1f\x7f-\x9f]*[^\s\x00-\x1f\x7f-\x9f][^\x00-\x1f\x7f-\x9f]*$"

Author = Annotated[
    str, Field(min_length=1, max_length=120, pattern=_SAYS_SOMETHING, description="who does this, in one line")
]
Reason = Annotated[
    str, Field(min_length=1, max_length=1_000, pattern=_SAYS_SOMETHING, description="why, in one line, kept for good")
]
Number = Annotated[int, Field(ge=1, le=2**31 - 1), BeforeValidator(whole)]
CatalogObject = Item | Chassis | Layout | Addon | Fuel | Material | PortStandard | Joint | AnyCatalogCase
SectionName = Literal[
    "items", "chassis", "layouts", "addons", "fuels", "materials", "port_standards", "joints", "contract_cases"
]
Moment = Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")]
EditKind = Literal["added", "changed", "removed"]


class BegunDraft(Document):
    """A draft to begin: a named working copy of a revision."""

    name: Name
    author: Author | None = None
    base: Annotated[Number | None, Field(description="the revision to start from; default: the newest")] = None


class DraftMove(Document):
    """How a draft moves to the newest revision."""

    author: Author | None = None
    keep: Annotated[
        Literal["draft", "newest"] | None,
        Field(description="whose state stays where both have changed an object; default: then nothing moves"),
    ] = None


class Publication(Document):
    """Who publishes, and why."""

    author: Author
    reason: Reason
    accept: Annotated[Reason | None, Field(description="why, although promises are broken or bills lost")] = None


class DraftFault(TypedDict):
    """What does not hold in the catalog as the draft has it."""

    section: str
    key: Annotated[str, Field(description="of the object; empty where the section as a whole is at fault")]
    pointer: Annotated[str, Field(description="JSON Pointer within the object")]
    found: str
    expected: str


class Faults(TypedDict):
    """The first faults of a draft; only one without any is published."""

    faults: list[DraftFault]
    more_faults: Annotated[int, Field(description="how many there are besides")]


class DraftHead(TypedDict):
    """A draft without its content."""

    id: str
    name: str
    author: str | None
    base: Annotated[int, Field(description="the revision that it starts from")]
    version: Annotated[int, Field(description="counts what was done to it")]
    begun: Moment
    changed: Moment
    published: Annotated[int | None, Field(description="the revision that it became: nothing changes it any more")]


class DraftPage(TypedDict):
    """Drafts, the newest first."""

    results: list[DraftHead]
    next: NotRequired[Annotated[str, Field(description="path of the next page")]]


class Draft(DraftHead, Faults):
    """A draft: how much it has otherwise than its base, and what does not hold in it."""

    edits: Annotated[dict[EditKind, int], Field(description="objects that it has otherwise than its base")]


class ObjectHead(TypedDict):
    """An object in a draft without its content."""

    draft: str
    section: str
    key: str
    etag: Annotated[str | None, Field(description="for If-Match, as the header has it; null: it is removed")]
    what: Annotated[EditKind | None, Field(description="against the base; null: as it is there")]
    author: Annotated[str | None, Field(description="who changed it last in this draft")]
    changed: Moment | None


class DraftObject(ObjectHead, InMoney):
    """An object of the catalog as it stands in a draft."""

    result: CatalogObject


class DraftMaker(ObjectHead):
    """The maker as the draft has it."""

    result: Maker


class DraftPolicies(ObjectHead):
    """The policies as the draft has them."""

    result: Policies


class DraftFuelOrder(ObjectHead):
    """The order of fuels as the draft has it: the first is what is asked where no fuel is told."""

    result: FuelOrder


class EditedObject(ObjectHead, InMoney, Faults):
    """An object after an edit, with the faults of the whole draft."""

    result: CatalogObject | None


class EditedMaker(ObjectHead, Faults):
    """The maker after an edit, with the faults of the whole draft."""

    result: Maker


class EditedPolicies(ObjectHead, Faults):
    """The policies after an edit, with the faults of the whole draft."""

    result: Policies


class EditedFuelOrder(ObjectHead, Faults):
    """The order of fuels after an edit, with the faults of the whole draft."""

    result: FuelOrder


class DraftChange(TypedDict):
    """An object that a draft has otherwise than its base."""

    section: str
    key: str
    what: EditKind
    fields: Annotated[list[str], Field(description="the top-level fields that differ, where it is in both")]
    etag: Annotated[str | None, Field(description="null: it is removed")]
    author: str | None
    changed: Moment


class DraftChanges(TypedDict):
    """What a draft has otherwise than its base, in the order in which it was done."""

    draft: str
    base: int
    results: list[DraftChange]
    next: NotRequired[Annotated[str, Field(description="path of the next page")]]


class TrailEntry(TypedDict):
    """Something that was done: who, when, what, why."""

    done: Moment
    author: str | None
    what: Annotated[str, Field(description="begun, added, changed, removed, rebased, published or discarded")]
    reason: str | None
    version: int | None
    section: str | None
    key: str | None
    fields: Annotated[list[str], Field(description="the top-level fields of the object that were changed")]
    revision: Annotated[int | None, Field(description="that was taken as base, or made")]


class DraftTrail(TypedDict):
    """All that was done to a draft, oldest first."""

    draft: str
    results: list[TrailEntry]
    next: NotRequired[Annotated[str, Field(description="path of the next page")]]


class Published(TypedDict):
    """A revision that was published just now."""

    revision: int
    published: Moment
    digest: Annotated[str, Field(description="of the content: equal catalogs have equal ones")]
    author: str
    reason: str
    accept: str | None
    draft: Annotated[str | None, Field(description="the draft that it was; null: an old revision was restored")]
