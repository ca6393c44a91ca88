"""Money as a person reads it: minor units become the currency's own."""

import re
from typing import Literal

from service.domain.tongue import spoken

Tax = Literal["net", "gross"]
"""Whether tax comes on top of prices, or is in them."""

# Source: ISO 4217:2015, the number of decimals of each currency; those with two are left out.
_DECIMALS = dict.fromkeys(["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"], 3) | dict.fromkeys(
    [
        "BIF",
        "CLP",
        "DJF",
        "GNF",
        "ISK",
        "JPY",
        "KMF",
        "KRW",
        "PYG",
        "RWF",
        "UGX",
        "UYI",
        "VND",
        "VUV",
        "XAF",
        "XOF",
        "XPF",
    ],
    0,
)
_USUAL_DECIMALS = 2


def decimals_of(currency: str) -> int:
    """How many decimals an amount in a currency has; an invented currency has two."""
    return _DECIMALS.get(currency, _USUAL_DECIMALS)


_IN_ENGLISH = re.compile(r"(\S+) ([\d,]+)(?:\.(\d+))?")


def priced_anew(worded: str) -> str:
    """Word an amount that facts have in English, as `EUR 1,234.50`, in the language that is spoken here."""
    found = _IN_ENGLISH.fullmatch(worded)
    if found is None or spoken() is None:
        return worded
    currency, whole, rest = found.groups(default="")
    return priced(int(whole.replace(",", "") + rest), currency)


def priced(minor_units: int, currency: str) -> str:
    """Word an amount given in minor units, as in `EUR 1,234.50`."""
    decimals = decimals_of(currency)
    tongue = spoken()
    if tongue is not None:
        return tongue.priced(minor_units, currency, decimals)
    whole, rest = divmod(minor_units, 10**decimals)
    return f"{currency} {whole:,}" + (f".{rest:0{decimals}d}" if decimals else "")
