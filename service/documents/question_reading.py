"""Reading a question: the body of POST /v1/questions/read, and what was read."""

from typing import Annotated

from pydantic import Field, JsonValue
from typing_extensions import TypedDict

from service.documents.fields import Document
from service.documents.money import InMoney
from service.documents.request import AskedRevision
from service.documents.unknown_car import UnknownCarSaid

MOST_TEXT = 10_000


class QuestionText(Document):
    """A question as a customer says it."""

    text: Annotated[
        str,
        Field(max_length=MOST_TEXT, description="what was said or written: the car, how its fuel is to run, wishes"),
    ]
    revision: AskedRevision = None


class UnderstoodField(TypedDict):
    """A field of the request that the text tells."""

    words: Annotated[str, Field(description="the words that say it, as they stand in the text")]
    field: str
    value: Annotated[JsonValue, Field(description="null where the words only narrow what is open")]
    says: Annotated[str, Field(description="the value in words")]


class FieldChoice(TypedDict):
    """A value that may be meant."""

    value: Annotated[JsonValue, Field(description="null: none of these")]
    says: str


class OpenField(TypedDict):
    """A field that has to be asked: it is missing, said twice, or may mean two things."""

    field: str
    asks: Annotated[str, Field(description="the question for the customer")]
    choices: Annotated[list[FieldChoice], Field(description="what suits the text first; empty: a figure is to be told")]


class ReadQuestion(InMoney):
    """A question as it was read."""

    revision: int
    request: Annotated[
        dict[str, JsonValue],
        Field(description="fields of POST /v1/bills, which takes them once chassis and layout are among them"),
    ]
    understood: list[UnderstoodField]
    open: list[OpenField]
    unread: Annotated[list[str], Field(description="words that nothing was made of and that may matter")]
    unknown_car: Annotated[
        UnknownCarSaid | None,
        Field(
            description="where the car that is named may be one that is not in the catalog: what is told of it, and"
            " what can be said now; null: no such car is named"
        ),
    ]
