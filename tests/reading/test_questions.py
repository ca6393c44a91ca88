"""Some hundreds of questions, labelled before they were read: no field may be asserted wrongly."""

import pytest

from tests.reading.questions import verdicts


def test_no_field_is_asserted_wrongly() -> None:
    assert [(x.question.text, x.wrong) for x in verdicts() if x.wrong] == []


def test_what_is_said_is_understood() -> None:
    assert [(x.question.text, x.missed) for x in verdicts() if x.missed] == []


def test_what_a_careful_person_asks_is_asked() -> None:
    assert [(x.question.text, x.unasked) for x in verdicts() if x.unasked] == []


@pytest.mark.parametrize("catalog", ["seed", "second", "third", "fourth", "fifth", "sixth"])
def test_every_catalog_has_its_questions(catalog: str) -> None:
    assert sum(x.question.catalog == catalog for x in verdicts()) > 12
