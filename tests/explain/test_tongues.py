"""Answers in another language: over random catalogs, with names that the catalog does not have, and amounts."""

import re
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest
from pydantic_core import to_json

from service.documents.catalog import Catalog
from service.documents.compile import compile_revision
from service.documents.fields import LanguageTag
from service.domain import units
from service.domain.money import priced, priced_anew
from service.domain.tongue import Tongue, called, named, speaking
from service.explain.tongues import tongue_of
from tests.explain.answers import answered, texts
from tests.support.catalogs import changed, small_catalog
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_request

IN_GERMAN = {"/maker/second_language": "de"}
_UNFILLED = re.compile(r"[{}]")


def tongue(catalog: dict[str, Any]) -> Tongue:
    """The second language of a catalog."""
    found = tongue_of(compile_revision(Catalog.model_validate(catalog), 1))
    assert found is not None
    return found


@pytest.fixture(name="german", scope="module")
def _german() -> Tongue:
    return tongue(changed(small_catalog(), IN_GERMAN))


@pytest.mark.parametrize("seed", range(12))
def test_no_placeholder_is_left(seed: int, german: Tongue) -> None:
    """Whatever is found, and whatever stands in the way: every text is whole, and there are as many as in English."""
    rng = Random(seed)
    catalog = random_catalog(rng)
    for _ in range(3):
        asked = random_request(rng, catalog, wish_percent=50)
        english = list(texts(answered(catalog, asked)))
        with speaking(german):
            told = list(texts(answered(catalog, asked)))
        assert len(told) == len(english)
        assert [text for text in told if _UNFILLED.search(text)] == []


def test_a_name_that_is_not_told_stays_english() -> None:
    """And an answer that has it says that it is in both languages, wherever it stands in a text; another does not."""
    some = changed(small_catalog(), IN_GERMAN | {"/fuels/0/second_name": "Benzin", "/items/0/name": 'A "rail" Ä (5)'})
    found = tongue(some)
    said = [
        {"name": 'A "rail" Ä (5)'},
        {"text": 'Passt: A "rail" Ä (5), Benzin.'},
        {"name": "Benzin"},
        {"text": 'A "rail" Ä (6)'},
    ]
    assert [found.languages(to_json(one)) for one in said] == ["de, en", "de, en", "de", "de"]
    with speaking(found):
        assert named(some["fuels"][0]["name"]) == "Benzin"
        assert named(some["items"][0]["name"]) == some["items"][0]["name"]


def test_a_language_without_messages_has_its_names() -> None:
    """The maker's choice is free; what is not translated stays English, and is told to be."""
    found = tongue(changed(small_catalog(), {"/maker/second_language": "fi", "/fuels/0/second_name": "Bensiini"}))
    with speaking(found):
        assert named(small_catalog()["fuels"][0]["name"]) == "Bensiini"
        assert units.pressure(351.5) == "351,5 kPa (51 psi)"
    assert found.languages(b"{}") == "fi, en"


def test_a_form_of_a_language_has_its_messages() -> None:
    """German as in Switzerland is German, with the numbers of its own (CLDR: a point before decimals)."""
    found = tongue(changed(small_catalog(), {"/maker/second_language": "de-CH"}))
    with speaking(found):
        assert called("the left spot") == "die Stelle links"
        assert units.length(7.4) == "7.4 mm (0.29 in)"


@pytest.mark.parametrize(
    ("amount", "currency", "english", "told"),
    [
        (123450, "EUR", "EUR 1,234.50", "1.234,50 EUR"),
        (123450, "JPY", "JPY 123,450", "123.450 JPY"),
        (123450, "KWD", "KWD 123.450", "123,450 KWD"),
        (5, "OVC", "OVC 0.05", "0,05 OVC"),
    ],
)
def test_amounts(amount: int, currency: str, english: str, told: str, german: Tongue) -> None:
    """As CLDR has them for German, with as many decimals as the currency has (ISO 4217)."""
    assert priced(amount, currency) == english
    with speaking(german):
        assert priced(amount, currency).replace("\u00a0", " ") == told
        assert priced_anew(english).replace("\u00a0", " ") == told


def test_figures(german: Tongue) -> None:
    """With a decimal comma, in both systems of units."""
    with speaking(german):
        assert units.length(7.4) == "7,4 mm (0,29 in)"
        assert units.percent(0.213) == "21,3 %"
    assert units.length(7.4) == "7.4 mm (0.29 in)"


def test_english_is_no_second_language() -> None:
    """The catalog is in English already; a tag has the form of BCP 47."""
    for tag in ("en", "en-GB", "d", "de_AT", "deutsch-"):
        assert list(_faults(tag)), tag
    for tag in ("de", "pt-BR", "zh-Hant-TW"):
        assert not list(_faults(tag)), tag


def _faults(tag: str) -> Iterator[str]:
    try:
        Catalog.model_validate(changed(small_catalog(), {"/maker/second_language": tag}))
    except ValueError as error:
        yield str(error)


def test_tags_are_documented() -> None:
    """The field says what is to be written."""
    assert "BCP 47" in str(LanguageTag)
