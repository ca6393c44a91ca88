"""Any text is read: what is understood quotes it, what is asserted is a request, and time grows with the text alone."""

import json
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from service.documents.question_reading import MOST_TEXT
from service.documents.request import BillRequest, Wishes
from service.reading.questions.facts import QuestionReading
from service.usecases.read_question import question_in
from service.usecases.resolve_request import resolve_request
from tests.reading.question_catalogs import editions
from tests.reading.questions import questions
from tests.support.growth import assert_linear

CATALOGS = sorted(editions())
_SAID = [x.text for x in questions()]
_WORDS = sorted({word for text in _SAID for word in text.split()})
_SCRAPS = st.lists(st.sampled_from((*_WORDS, ",", ".", "-", '"', "not", "or", "1,5", "0", "999999")), max_size=25)
TEXTS = st.one_of(
    _SCRAPS.map(" ".join),
    st.lists(st.sampled_from(_SAID), min_size=1, max_size=3).map(". ".join),
    st.text(max_size=120),
    st.binary(max_size=80).map(lambda raw: raw.decode("utf-16", "replace")),
)


def assert_sound(catalog: str, text: str) -> None:
    """The reading quotes the text, its request is valid, and each field is either asserted or asked."""
    edition = editions()[catalog]
    told = question_in(edition, text)
    json.dumps(told)
    for one in told["understood"]:
        assert one["words"] in text
        assert one["words"]
        assert one["says"]
    assert all(run in text for run in told["unread"])
    request: dict[str, Any] = dict(told["request"])
    asked = [one["field"] for one in told["open"]]
    assert len(asked) == len(set(asked))
    assert all(field in Wishes.model_fields for field in (*request, *asked))
    scalar = {field for field in request if field not in ("addons", "clearances")}
    assert not scalar.intersection(asked)
    assert ("chassis" in request) != ("chassis" in asked)
    assert ("layout" in request) != ("layout" in asked)
    revision = edition.revision
    complete = {"chassis": next(iter(revision.chassis)), "layout": next(iter(revision.layouts))} | request
    BillRequest.model_validate(complete)
    if {"chassis", "layout"} <= request.keys():
        resolve_request(BillRequest.model_validate(request), revision)


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(CATALOGS), TEXTS)
@example("seed", "")
@example("seed", "\u00bd bar boost \u0663 kW e\u0301ssai \ud800 \ue000 \U0001f600")
@example("seed", "0 kW, 0 bar boost, 0 EUR budget, 99999999999 hp, 999999 m hose, 99999 mm room at the left")
@example("fourth", "turbo turbo turbo 1.left 2.top bank bank 3/0 inch 1/2/3 -- '' \"\"")
def test_any_text_is_read_soundly(catalog: str, text: str) -> None:
    assert_sound(catalog, text)


def test_labelled_questions_make_requests_that_are_taken() -> None:
    for one in questions()[::4]:
        assert_sound(one.catalog, one.text)


def test_case_and_kinds_of_signs_change_nothing() -> None:
    reader = editions()["seed"].question_reader
    for one in [x for x in questions() if x.catalog == "seed"][::4]:
        plain = reader.read(one.text)
        signs = one.text.upper().replace("-", "\u2011").replace("'", "\u2019").replace(" ", "\u00a0")
        assert _told(reader.read(signs)) == _told(plain), one.text


def _told(reading: QuestionReading) -> tuple[object, list[str]]:
    return reading.request, [one.field for one in reading.open]


@pytest.mark.parametrize(
    "piece",
    ["fennic 2.0 ", "turbo, ", "a gauge at the left with 30 mm room and ", "1,5 bar or ", '"6', "my mate's has 9 kW, "],
)
def test_time_grows_with_the_text_alone(piece: str) -> None:
    reader = editions()["seed"].question_reader
    assert_linear(reader.read, lambda size: piece * (size // len(piece)), MOST_TEXT // 10)
