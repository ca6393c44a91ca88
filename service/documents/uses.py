"""What is answered to: what could this part be used for?"""

from typing import Annotated, Literal, NotRequired

from pydantic import Field
from typing_extensions import TypedDict

UseRole = Literal["rail", "mounting", "box"]


class Use(TypedDict):
    """A car and a layout whose valid bills have the part, and where it stands in them."""

    chassis: str
    chassis_name: str
    layout: str
    layout_name: str
    spots: Annotated[list[str], Field(description="sorted; a link is listed under the spot that sorts first")]
    roles: Annotated[
        list[UseRole],
        Field(description="what it is besides: the rail, a mounting part, or it comes in the box of another part"),
    ]
    needs_gauge: Annotated[bool, Field(description="true: only in bills with a gauge")]
    too_costly: Annotated[
        NotRequired[str], Field(description="why it takes too much work to find out; spots and roles are empty then")
    ]


class ItemUses(TypedDict):
    """A page of uses: cars as the catalog has them, of each the layouts; `next` is missing on the last page."""

    revision: int
    sku: str
    results: list[Use]
    next: NotRequired[str]
