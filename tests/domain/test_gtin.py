"""Check digits of GTINs against numbers that GS1's own offices show how to reckon."""

import pytest

from service.domain.gtin import check_digit, is_gtin, same_number

PUBLISHED = {
    "8904000210037": "GS1 India, Check digit: 'The complete number is: 890 4000 21003 7'",
    "6291041500213": "GS1 Hong Kong, Check digit calculator: the example of a 13 digit field, 629104150021 with 3",
}


@pytest.mark.published
@pytest.mark.parametrize("gtin", PUBLISHED)
def test_published_examples(gtin: str) -> None:
    """The last digit follows from the others, however many zeros stand before them."""
    assert check_digit(gtin[:-1]) == int(gtin[-1])
    padded = same_number(gtin)
    assert len(padded) == 14
    assert check_digit(padded[:-1]) == int(gtin[-1])


def test_one_wrong_digit_is_noticed() -> None:
    """A sum with the weights 3 and 1 notices each: both have no factor in common with ten."""
    for gtin in PUBLISHED:
        for place, digit in enumerate(gtin):
            for other in set("0123456789") - {digit}:
                wrong = gtin[:place] + other + gtin[place + 1 :]
                assert check_digit(wrong[:-1]) != int(wrong[-1])


@pytest.mark.parametrize(
    ("text", "is_one"),
    [
        ("12345670", True),
        ("123456789012", True),
        ("1" * 13, True),
        ("1" * 14, True),
        ("", False),
        ("1234567", False),
        ("12345678901", False),
        ("1" * 15, False),
        ("1234567O", False),
        ("\u0661" * 8, False),
    ],
)
def test_lengths(text: str, *, is_one: bool) -> None:
    """8, 12, 13 or 14 digits, ASCII ones."""
    assert is_gtin(text) is is_one
