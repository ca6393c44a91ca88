"""Global Trade Item Numbers: their check digit, and when two of them name the same thing."""

LENGTHS = (8, 12, 13, 14)
_LONGEST = 14


def check_digit(digits: str) -> int:
    """The check digit that follows these digits.

    Source: GS1 General Specifications, section 7.9: from the right the digits count three and one by turns, and the
    check digit brings their sum to a multiple of ten.
    """
    return -sum(int(digit) * (1 if place % 2 else 3) for place, digit in enumerate(reversed(digits))) % 10


def is_gtin(text: str) -> bool:
    """Whether a text has the digits of a GTIN, whatever its check digit is."""
    return len(text) in LENGTHS and text.isascii() and text.isdecimal()


def same_number(gtin: str) -> str:
    """The same text for each way of writing a GTIN: shorter ones have zeros before them.

    Source: GS1 General Specifications, section 7.8.
    """
    return gtin.zfill(_LONGEST)
