"""Amounts are worded in the currency's own units."""

import pytest

from service.domain.money import priced


@pytest.mark.parametrize(
    ("minor_units", "currency", "words"),
    [
        (0, "EUR", "EUR 0.00"),
        (7, "EUR", "EUR 0.07"),
        (123_456, "EUR", "EUR 1,234.56"),
        (123_456, "JPY", "JPY 123,456"),
        (123_456, "KWD", "KWD 123.456"),
        (100, "crowns", "crowns 1.00"),
    ],
)
def test_priced(minor_units: int, currency: str, words: str) -> None:
    """Decimals are those of ISO 4217; a currency that it does not list has two."""
    assert priced(minor_units, currency) == words
