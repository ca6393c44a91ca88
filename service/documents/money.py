"""What every answer with money in it tells of that money: which it is, and whether tax is in it."""

from typing import Annotated

from pydantic import Field
from typing_extensions import TypedDict

from service.documents.catalog import Maker
from service.domain.money import Tax
from service.domain.revision import Revision


class InMoney(TypedDict):
    """The money of an answer. Amounts are integer minor units of it."""

    currency: str
    tax: Tax | None


_OLDER = "; missing in what was kept before it was told"


class KeptInMoney(TypedDict, total=False):
    """The money of what is kept; what was kept before it was told does not tell it."""

    currency: Annotated[str, Field(description=f"ISO 4217 code of all prices{_OLDER}")]
    tax: Annotated[Tax | None, Field(description=f"net or gross{_OLDER}")]


def money_of(told: Revision | Maker) -> InMoney:
    """The money of a revision, or of the maker of a catalog."""
    return {"currency": told.currency, "tax": told.tax}
