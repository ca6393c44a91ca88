"""The three details of an answer: how long each is, and that none says what the full one does not."""

import json
import re
import statistics
from functools import cache
from random import Random
from typing import Any

import pytest
from pydantic_core import to_json, to_jsonable_python

from service.documents.request import BillRequest, Detail
from service.usecases.contract_cases import question_of
from service.usecases.find_bills import answer_in, found_in
from tests.seed.test_contract_cases import CASES, EDITION
from tests.support.details import faults
from tests.support.found import by_itself, sorted_lists, spelt_out
from tests.support.random_requests import random_request

KB = 1024
_RANDOM = 40


def _questions() -> list[BillRequest]:
    rng, catalog = Random(17), to_jsonable_python(EDITION.catalog.whole(), exclude_none=True)
    cases = [question_of(case.request).model_copy(update={"limit": 10}) for case in CASES]
    return cases + [BillRequest.model_validate(random_request(rng, catalog)) for _ in range(_RANDOM)]


QUESTIONS = _questions()


@cache
def _found(place: int, detail: Detail) -> bytes:
    return to_json(found_in(EDITION, QUESTIONS[place], detail))


@pytest.mark.parametrize(("detail", "median_kb", "most_kb"), [("brief", 8, 8), ("reasons", 45, 120), ("full", 85, 120)])
def test_answers_to_the_standing_cases_are_short(detail: Detail, median_kb: int, most_kb: int) -> None:
    """Ten bills at most, not compressed."""
    sizes = [len(_found(place, detail)) for place in range(len(CASES))]
    assert statistics.median(sizes) <= median_kb * KB
    assert max(sizes) <= most_kb * KB


@pytest.mark.parametrize("place", range(0, len(QUESTIONS), 3))
def test_the_full_answer_has_every_bill_as_it_is_by_itself(place: int) -> None:
    """The first one word for word in its order, all of them once what they repeat is put in."""
    whole: Any = json.loads(to_json(answer_in(EDITION, QUESTIONS[place])))
    full = json.loads(_found(place, "full"))
    assert [by_itself(bill) for bill in full["bills"][:1]] == whole["bills"][:1]
    assert spelt_out(full["bills"]) == [sorted_lists(bill) for bill in whole["bills"]]
    for name in ("total_valid", "ruled_out", "conflicts", "stories", "repairs", "alternatives", "more", "safety"):
        assert full[name] == whole[name]


@pytest.mark.parametrize("place", range(1, len(QUESTIONS), 3))
def test_less_detail_says_nothing_else(place: int) -> None:
    """What is told in short is the full answer with things left out, and the bytes are those of the document."""
    assert not list(faults(EDITION, QUESTIONS[place]))


def test_a_reason_names_all_spots_where_it_holds() -> None:
    """No line of an answer with reasons says the same of two spots apart."""
    for place in range(0, len(QUESTIONS), 5):
        for bill in json.loads(_found(place, "reasons"))["bills"]:
            for line in bill["lines"]:
                texts = [re.sub("the [^ ]+ spot", "the spot", reason["text"]) for reason in line["reasons"]]
                assert len(texts) == len(set(texts))


def test_no_float_has_more_than_six_digits() -> None:
    """Of none is more known."""
    for place in range(0, len(QUESTIONS), 5):
        json.loads(_found(place, "full"), parse_float=_of_six_digits)


def _of_six_digits(text: str) -> float:
    value = float(text)
    assert value == float(f"{value:.6g}"), text
    return value
