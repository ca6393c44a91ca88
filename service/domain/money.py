"""Money as a person reads it: minor units become the currency's own."""

from typing import Literal

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


def priced(minor_units: int, currency: str) -> str:
    """Word an amount given in minor units, as in `EUR 1,234.50`."""
    decimals = decimals_of(currency)
    whole, rest = divmod(minor_units, 10**decimals)
    return f"{currency} {whole:,}" + (f".{rest:0{decimals}d}" if decimals else "")
