"""What can be chosen: an option is a chain at a spot; a choice settles one spot, or spots that share a flow."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from service.domain.chains import Chain
from service.domain.findings import Rejection
from service.domain.flows import PathFlow
from service.domain.parts import Item
from service.domain.request import SpotSituation


@dataclass(frozen=True, eq=False)
class Option:
    """A chain that serves a spot alone. `supplied`: its first item comes with the rail."""

    situation: SpotSituation
    chain: Chain
    supplied: bool = False

    @property
    def spot(self) -> str:
        return self.situation.spot

    @cached_property
    def needed(self) -> tuple[Item, ...]:
        """The items that have to be got, each time that they stand in the chain."""
        return self.chain.items[1:] if self.supplied else self.chain.items

    @cached_property
    def text(self) -> str:
        return f"{self.spot}:{self.chain.text}"

    @cached_property
    def group(self) -> str:
        return f"{self.spot}:{self.chain.group}"

    @cached_property
    def head(self) -> tuple[str, str]:
        """The SKU that meets the spot, with the spot; ('', spot) for an empty chain."""
        return (self.chain.skus[0] if self.chain.links else "", self.spot)


@dataclass(frozen=True, eq=False)
class Choice:
    """One or more options that are chosen together, with what they cost and how fuel flows through them."""

    options: tuple[Option, ...]
    paths: tuple[PathFlow, ...] = ()

    @cached_property
    def texts(self) -> tuple[str, ...]:
        return tuple(sorted(option.text for option in self.options))

    @cached_property
    def group(self) -> tuple[str, ...]:
        return tuple(option.group for option in self.options)

    @cached_property
    def _bought(self) -> tuple[Item, ...]:
        return tuple(item for option in self.options for item in option.needed if item.sold)

    @cached_property
    def price(self) -> int:
        return sum(item.price for item in self._bought)

    @cached_property
    def pieces(self) -> int:
        return sum(len(option.needed) for option in self.options)

    @cached_property
    def lead_days(self) -> int:
        return max((item.lead_days for item in self._bought), default=0)

    @cached_property
    def drop_kpa(self) -> float:
        """The drop of its worst path, to 0.001 kPa as bills are ordered; 0 where nothing flows."""
        return max((round(path.drop_kpa, 3) for path in self.paths), default=0.0)

    @cached_property
    def bought_units(self) -> dict[str, int]:
        units: dict[str, int] = {}
        for item in self._bought:
            units[item.sku] = units.get(item.sku, 0) + 1
        return units


class Choices:
    """All choices for one spot or one group of spots, and why others are none of them."""

    def __init__(self, choices: Iterable[Choice], rejections: tuple[Rejection, ...] = ()) -> None:
        self.all = tuple(choices)
        self.rejections = rejections

    @cached_property
    def by_group(self) -> dict[tuple[str, ...], tuple[Choice, ...]]:
        """The choices by what they are once variants are taken for equal."""
        groups: dict[tuple[str, ...], list[Choice]] = {}
        for choice in self.all:
            groups.setdefault(choice.group, []).append(choice)
        return {group: tuple(choices) for group, choices in groups.items()}

    @cached_property
    def by_text(self) -> dict[tuple[str, ...], tuple[Choice, ...]]:
        """The choices each for itself."""
        return {choice.texts: (choice,) for choice in self.all}

    @cached_property
    def heads(self) -> frozenset[tuple[str, str]]:
        return frozenset(option.head for choice in self.all for option in choice.options)
