"""Read a question as a customer says it: the fields of a request, and what is to be asked."""

from pydantic import JsonValue, TypeAdapter

from service.documents.money import money_of
from service.documents.question_reading import FieldChoice, OpenField, QuestionText, ReadQuestion, UnderstoodField
from service.reading.questions.facts import QuestionReading
from service.usecases.library import Edition, Library
from service.usecases.long_work import begin_long_work
from service.usecases.unknown_car import car_of, said_of

_MOST_AT_ONCE = 2_000
"""Characters: a hundred take a millisecond or two."""
_REQUEST: TypeAdapter[dict[str, JsonValue]] = TypeAdapter(dict[str, JsonValue])
_VALUE: TypeAdapter[JsonValue] = TypeAdapter(JsonValue)


def read_question(library: Library, asked: QuestionText) -> ReadQuestion:
    """What a question says by the words of a revision. Raises RequestFaultsError for an unknown one, NoCatalogError."""
    edition = library.edition_for(asked.revision)
    return question_in(edition, asked.text)


def question_in(edition: Edition, text: str) -> ReadQuestion:
    """What a question says by the words of an edition."""
    if len(text) > _MOST_AT_ONCE:
        begin_long_work()
    return told(edition, edition.question_reader.read(text))


def told(edition: Edition, reading: QuestionReading) -> ReadQuestion:
    """A reading as the API tells it."""
    unknown = reading.unknown
    return ReadQuestion(
        revision=edition.number,
        **money_of(edition.revision),
        request=_REQUEST.validate_python(reading.request),
        understood=[
            UnderstoodField(words=x.words, field=x.field, value=_VALUE.validate_python(x.value), says=x.says)
            for x in reading.understood
        ],
        open=[
            OpenField(
                field=x.field,
                asks=x.asks,
                choices=[FieldChoice(value=_VALUE.validate_python(y.value), says=y.says) for y in x.choices],
            )
            for x in reading.open
        ],
        unread=list(reading.unread),
        unknown_car=None if unknown is None else said_of(edition, car_of(unknown)),
    )
