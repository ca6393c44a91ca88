"""The message files: nothing is left untranslated, and every placeholder of a message stands in its translation."""

import re

import pytest

from service.explain.tongues import MESSAGES
from tests.support.messages import ids, in_file, in_source

LANGUAGES = [path.stem for path in MESSAGES.glob("*.po")]
_PLACEHOLDER = re.compile(r"\{[^}]*\}")


def test_german_ships() -> None:
    """It stands beside the module that reads it, so that it is in the wheel."""
    assert "de" in LANGUAGES


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_untranslated(language: str) -> None:
    """`python -m tests.support.messages` brings new messages into the files, and takes old ones out."""
    source, there = ids(in_source()), in_file(language)
    assert source - ids(there) == set(), "messages without a translation"
    assert ids(there) - source == set(), "translations of what is said no longer"
    untranslated = [message.id for message in there if message.id and not all(_texts(message.string))]
    assert untranslated == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_placeholders_are_those_of_the_message(language: str) -> None:
    """Each form has all of them, and none besides."""
    wrong = [
        (message.id, form)
        for message in in_file(language)
        if message.id
        for text, form in zip(_texts(message.id), _texts(message.string), strict=True)
        if sorted(set(_PLACEHOLDER.findall(text))) != sorted(set(_PLACEHOLDER.findall(form)))
    ]
    assert wrong == []


def _texts(said: str | tuple[str, ...] | list[str]) -> tuple[str, ...]:
    return (said,) if isinstance(said, str) else tuple(said)
