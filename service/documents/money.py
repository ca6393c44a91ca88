"""What every answer with money in it tells of that money: which it is, and whether tax is in it."""

from typing import Annotated, Protocol

from pydantic import Field
from typing_extensions import TypedDict

from service.domain.money import Tax


class InMoney(TypedDict):
    """The money of an answer. Amounts are integer minor units of it."""

    currency: str
    tax: Tax | None


_OLDER = "; missing in what was kept before it was told"


class KeptInMoney(TypedDict, total=False):
    """The money of what is kept; what was kept before it was told does not tell it."""

    currency: Annotated[str, Field(description=f"ISO 4217 code of all prices{_OLDER}")]
    tax: Annotated[Tax | None, Field(description=f"net or gross{_OLDER}")]


class TellsMoney(Protocol):
    """A revision, or the maker of a catalog."""

    @property
    def currency(self) -> str: ...
    @property
    def tax(self) -> Tax | None: ...


def money_of(told: TellsMoney) -> InMoney:
    """The money of a revision, or of the maker of a catalog."""
    return {"currency": told.currency, "tax": told.tax}
