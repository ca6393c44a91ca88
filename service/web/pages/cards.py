"""Cards to choose from: layouts with what they carry, and changes of a question with what they give."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from service.documents.answer import LayoutChoice, Power
from service.domain.vehicles import Layout
from service.web.pages.pictures import Pictures

Group = Literal["carries", "untold", "over", "unknown", "barred", "banks"]
GROUPS: dict[Group, str] = {
    "carries": "Carries the power",
    "untold": "Nothing is told of what it carries",
    "over": "Too little for that power",
    "unknown": "Takes long to find out: ask for it alone",
    "barred": "Does not fit as it stands",
    "banks": "For engines with another number of banks",
}
"""The groups of layouts in the order in which they stand, with their headings."""


@dataclass(frozen=True)
class LayoutCard:
    """A layout to choose, with its picture."""

    choice: LayoutChoice
    picture: Markup
    group: Group


@dataclass(frozen=True)
class ChangeCard:
    """A change of the question that helps, with the address that makes it; price in minor units, None: not known."""

    text: str
    link: str
    picture: Markup
    price: int | None
    power: Power | None


def layout_cards(
    choices: Iterable[LayoutChoice], layouts: Mapping[str, Layout], banks: int, pictures: Pictures
) -> list[tuple[Group, list[LayoutCard]]]:
    """The layouts by group; within one the cheapest first, then as the catalog has them."""
    cards = [_card(one, layouts[one["layout"]], banks, pictures) for one in choices]
    grouped = [(group, [card for card in cards if card.group == group]) for group in GROUPS]
    return [(group, sorted(found, key=_price)) for group, found in grouped if found]


def _card(choice: LayoutChoice, layout: Layout, banks: int, pictures: Pictures) -> LayoutCard:
    group = "banks" if layout.banks != banks else _group(choice)
    return LayoutCard(choice, pictures.of_layout(layout, choice["duties"]), group)


def _group(choice: LayoutChoice) -> Group:
    if choice["too_costly"] is not None:
        return "unknown"
    if not choice["total_valid"] or choice["power"] is None:
        return "barred"
    if choice["power"]["carries_kw"] is None:
        return "untold"
    return "over" if choice["power"]["verdict"] == "over" else "carries"


def _price(card: LayoutCard) -> int:
    return card.choice["lowest_price"] or 0


def chosen(groups: Sequence[tuple[Group, list[LayoutCard]]], layout: str | None) -> LayoutCard | None:
    """The card of a layout; None where there is none."""
    return next((card for _, cards in groups for card in cards if card.choice["layout"] == layout), None)
