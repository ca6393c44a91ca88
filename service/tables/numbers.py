"""Numbers as spreadsheets and people write them in cells: with a comma or a point, by the habit of their table."""

import re
from collections.abc import Iterable
from typing import Literal

from service.documents.amounts import AmountError, measure_in, number_in

Habit = Literal[".", ","]
"""What stands before the decimals."""

_SIMPLE = re.compile(r"([+-]?)(\d{0,40})(?:([.,])(\d{0,40}))?([eE][+-]?\d{1,3})?")
_DIGITS_APART = 3


def habit_of(texts: Iterable[str], usual: Habit | None) -> Habit | None:
    """The habit that numbers of a table agree on, as far as they tell one; where none tells, the usual one."""
    told = {found for text in texts if (found := _told(text)) is not None}
    return usual if not told else told.pop() if len(told) == 1 else None


def number_from(text: str, field: str, habit: Habit | None) -> float | int:
    """The number that a text is, in the unit that the field's name ends with; another unit of its kind may be told.

    Raises AmountError for what is no number or could be two.
    """
    plain = text.strip().replace("\u2212", "-")
    found = _SIMPLE.fullmatch(plain)
    if found is not None and (found[2] or found[4]):
        sign, whole, mark, rest, power = found.groups()
        if mark is None and power is None:
            return int(f"{sign}{whole}")
        if mark is None or mark == habit or not _may_be_two(whole, rest, power):
            return float(f"{sign}{whole or 0}.{rest or 0}{power or ''}")
        raise AmountError(f"a number that is one thing only: {whole}{rest}, or {whole} and decimals {rest}")
    try:
        number = float(number_in(plain))
    except AmountError:
        return measure_in(plain, field)
    return int(number) if number.is_integer() and "." not in plain and "," not in plain else number


def _told(text: str) -> Habit | None:
    found = _SIMPLE.fullmatch(text.strip())
    if found is None or found[3] is None or _may_be_two(found[2], found[4], found[5]):
        return None
    return "." if found[3] == "." else ","


def _may_be_two(whole: str, rest: str, power: str | None) -> bool:
    """Whether the sign between may stand before decimals or part thousands."""
    return len(rest) == _DIGITS_APART and 1 <= len(whole) <= _DIGITS_APART and whole[0] != "0" and power is None
