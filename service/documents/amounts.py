"""Numbers as people write them in cells: with a comma or a point, with thousands apart, with a unit."""

import re
from decimal import Decimal

from service.domain.units import KW_PER_HP, MM_PER_IN

_KW_PER_PS = 0.73549875
_KPA_PER_PSI = 6.894757
_UNITS = {
    "_kw": {"kw": 1.0, "hp": KW_PER_HP, "bhp": KW_PER_HP, "ps": _KW_PER_PS},
    "_kpa": {"kpa": 1.0, "bar": 100.0, "mbar": 0.1, "psi": _KPA_PER_PSI},
    "_mm": {"mm": 1.0, "cm": 10.0, "in": MM_PER_IN, "inch": MM_PER_IN, '"': MM_PER_IN},
    "_m": {"m": 1.0, "cm": 0.01, "mm": 0.001},
    "_l_h": {"l/h": 1.0, "lph": 1.0, "l_h": 1.0},
}
"""By the end of a field's name: what its value may be told in, and the factor."""
# Sources: 1 PS = 75 kgf m/s = 0.73549875 kW; 1 psi = 6.894757 kPa (NIST SP 811:2008, appendix B.8).
_AMOUNT = re.compile(r"(?P<sign>[+-]?)(?P<number>\d[\d.,' \u00a0\u2019]*)(?P<unit>.*)", re.DOTALL)
_GROUPED = re.compile(r"\d{1,3}(?:([.,' \u00a0\u2019])\d{3})(?:\1\d{3})*")
_DIGITS_APART = 3
_LONGEST = 40


class AmountError(ValueError):
    """A text that is no number, or could be two; says what would be right."""


def number_in(text: str) -> Decimal:
    """The number that a text without a unit is. Raises AmountError."""
    found = _AMOUNT.fullmatch(text.strip()[: _LONGEST + 1])
    if found is None or found["unit"] or len(text) > _LONGEST:
        raise AmountError("a number")
    return Decimal(found["sign"] + _plain(found["number"].strip()))


def measure_in(text: str, field: str) -> float:
    """The number that a text is, in the unit that a field's name ends with; another unit may be told.

    Raises AmountError.
    """
    units = next((units for end, units in _UNITS.items() if field.endswith(end)), {})
    found = _AMOUNT.fullmatch(text.strip()[: _LONGEST + 1])
    unit = "" if found is None else found["unit"].strip().casefold()
    if found is None or (unit and unit not in units):
        told = f", in {', '.join(units)}" if units else ""
        raise AmountError(f"a number{told}")
    value = float(number_in(found["sign"] + found["number"]))
    return round(value * units.get(unit, 1.0), 6)


def money_in(text: str, currency: str) -> Decimal:
    """The amount that a text is, with or without its currency. Raises AmountError."""
    bare = text.strip()
    for sign in (currency, currency.casefold(), *_SIGNS.get(currency, ())):
        bare = bare.removeprefix(sign).removesuffix(sign).strip()
    try:
        return number_in(bare)
    except AmountError as error:
        raise AmountError(f"an amount of {currency}: {error}") from None


_SIGNS = {"EUR": ("\u20ac",), "USD": ("$",), "GBP": ("\u00a3",), "JPY": ("\u00a5",)}


def _plain(number: str) -> str:
    """A number in the form of Decimal. Raises AmountError where a sign may part thousands or decimals."""
    signs = [sign for sign in number if not sign.isdigit()]
    if not signs:
        return number
    last = signs[-1]
    whole, _, rest = number.rpartition(last)
    if len(set(signs)) > 1:
        grouped = bool(_GROUPED.fullmatch(whole)) and last in ".," and last not in whole
        if not grouped:
            raise AmountError("a number with one habit of points and commas")
        return f"{''.join(filter(str.isdigit, whole))}.{rest}"
    if _GROUPED.fullmatch(number) and (len(signs) > 1 or last not in ".,"):
        return "".join(filter(str.isdigit, number))
    if len(signs) > 1 or last not in ".," or not rest:
        raise AmountError("a number")
    if len(rest) == _DIGITS_APART and len(whole) <= _DIGITS_APART and whole != "0":
        raise AmountError(f"a number that is one thing only: {whole}{rest}, or {whole}.{rest.rstrip('0') or '0'}")
    return f"{whole}.{rest}"
