"""A question that the catalog does not answer well, sent to the workshop: what is sent, kept and listed."""

from typing import Annotated, Any, Literal

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.answer import Repair, Story
from service.documents.fields import Document, Text
from service.documents.money import KeptInMoney
from service.documents.request import BillRequest
from service.domain.vehicles import Duty

_CONTACT_PATTERN = r"^[^\x00-\x1f\x7f-\x9f]*[^\s\x00-\x1f\x7f-\x9f][^\x00-\x1f\x7f-\x9f]*$"

Contact = Annotated[
    str,
    Field(
        min_length=1,
        max_length=200,
        pattern=_CONTACT_PATTERN,
        description="how to reach who asks: one line, never given out again by the API",
    ),
]


InquiryStatus = Literal["open", "answered", "closed"]
Reply = Annotated[Text, Field(min_length=1, description="what the workshop answers, in its own words")]


class SentInquiry(Document):
    """A whole question, and how to reach who asks it."""

    request: BillRequest
    contact: Contact
    note: Annotated[Text, Field(max_length=1_000, description="what else the workshop should know")] = ""


class Missing(TypedDict):
    """What the catalog lacked, as inquiries are grouped: by the text, which says the rest in words."""

    rule: Annotated[str | None, Field(description="the rule that stops what comes nearest; null where none does")]
    spot: Annotated[str | None, Field(description="null: the rail, or the bill as a whole")]
    duty: Duty | None
    text: str


class JudgedInquiry(KeptInMoney):
    """A question as it was judged by the service itself; without what is personal."""

    id: Annotated[str, Field(description="names the inquiry until it is deleted")]
    revision: Annotated[int, Field(description="the revision of the catalog that was asked")]
    received: Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")]
    request: Annotated[dict[str, Any], Field(description="as it was understood; what has its default is left out")]
    total_valid: Annotated[int, Field(description="valid bills (with group_variants: groups); they were not enough")]
    missing: Missing
    conflicts: list[list[str]]
    stories: list[Story]
    repairs: list[Repair]


class Inquiry(JudgedInquiry):
    """A question as the workshop keeps it, with what became of it; without what is personal."""

    status: InquiryStatus
    reply: Annotated[str | None, Field(description="what the workshop answered; null where it has not")]
    answered: Annotated[
        str | None, Field(json_schema_extra={"format": "date-time"}, description="when the reply was given, in UTC")
    ]


class InquiryChange(Document):
    """What becomes of an inquiry; what is not told stays as it is, a reply of null is taken back."""

    status: InquiryStatus | None = None
    reply: Reply | None = None


class WorkshopInquiry(Inquiry):
    """An inquiry with what only the workshop sees."""

    contact: str
    note: str


class InquiryGroup(TypedDict):
    """Inquiries that lacked the same: how many there are, and the newest of them."""

    missing: str
    count: int
    newest: str
    inquiries: list[WorkshopInquiry]
