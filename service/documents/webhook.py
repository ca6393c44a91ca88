"""Endpoints for news: what is sent to make one, and what is told of it."""

from typing import Annotated, Literal, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.fields import Document

EventName = Literal["revision.published", "inquiry.answered"]


Url = Annotated[
    str,
    Field(
        min_length=1,
        max_length=2_000,
        pattern=r"^https?://[!-~]+$",
        description="an address that takes POST: https, on a host that the public reaches; no user, no fragment",
    ),
]
Events = Annotated[
    list[EventName],
    Field(
        min_length=1,
        max_length=2,
        description="revision.published: a revision of the catalog is there; inquiry.answered: an inquiry of the"
        " account has a reply",
    ),
]


class NewWebhook(Document):
    """Where news is to be sent, and of what."""

    url: Url
    events: Events


class WebhookChange(Document):
    """What becomes of a webhook; what is not told stays as it is."""

    url: Url | None = None
    events: Events | None = None
    active: Annotated[
        bool | None, Field(description="false: nothing is sent, and no news is kept for it; what waits is sent later")
    ] = None


class MessageTold(TypedDict):
    """A message that was sent, or waits to be."""

    id: Annotated[str, Field(description="the `webhook-id` that it is sent with, the same each time")]
    event: str
    created: Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")]
    tries: Annotated[int, Field(description="how often it was sent")]
    outcome: Annotated[str, Field(description="waiting, delivered, given up, or what the last try came to")]
    due: Annotated[str | None, Field(description="when it is sent next, in UTC; null: not any more")]


class WebhookTold(TypedDict):
    """An endpoint; its secret is told once, when it is made or replaced."""

    id: str
    url: str
    events: list[str]
    active: Annotated[bool, Field(description="false: nothing is sent until it is changed")]
    created: Annotated[str, Field(json_schema_extra={"format": "date-time"}, description="in UTC")]
    secret: NotRequired[Annotated[str, Field(description="signs what is sent: Standard Webhooks, v1; told this once")]]
    old_secret_ends: NotRequired[
        Annotated[
            str,
            Field(
                json_schema_extra={"format": "date-time"},
                description="in UTC: until then what is sent has a second signature, by the secret before this one",
            ),
        ]
    ]
    messages: NotRequired[Annotated[list[MessageTold], Field(description="newest first, by page")]]
    next: NotRequired[Annotated[str, Field(description="the path of the next page; missing on the last one")]]


class WebhookList(TypedDict):
    """The endpoints of an account, oldest first."""

    results: list[WebhookTold]
