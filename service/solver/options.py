"""What can be chosen: an option is a chain at a spot; a choice settles one spot, or spots that share a flow."""

from collections import Counter
from collections.abc import Iterable, Mapping
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
    def bought(self) -> tuple[Item, ...]:
        return tuple(item for item in self.needed if item.sold)

    @cached_property
    def price(self) -> int:
        return sum(item.price for item in self.bought)

    @cached_property
    def lead_days(self) -> int:
        return max((item.lead_days for item in self.bought), default=0)

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
    def price(self) -> int:
        return sum(option.price for option in self.options)

    @cached_property
    def pieces(self) -> int:
        return sum(len(option.needed) for option in self.options)

    @cached_property
    def lead_days(self) -> int:
        return max(option.lead_days for option in self.options)

    @cached_property
    def drop_kpa(self) -> float:
        """The drop of its worst path, to 0.001 kPa as bills are ordered; 0 where nothing flows."""
        return max((round(path.drop_kpa, 3) for path in self.paths), default=0.0)

    @cached_property
    def bought_units(self) -> dict[str, int]:
        return Counter(item.sku for option in self.options for item in option.bought)


class Choices:
    """All choices for one spot or one group of spots, and why others are none of them."""

    def __init__(self, choices: Iterable[Choice], rejections: tuple[Rejection, ...] = ()) -> None:
        self.all = tuple(choices)
        self.rejections = rejections
        self.flowing = any(choice.paths for choice in self.all)
        self._skus_by_group: dict[tuple[str, ...], Mapping[tuple[str, int], frozenset[str]]] = {}

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

    def skus_of(self, group: tuple[str, ...]) -> Mapping[tuple[str, int], frozenset[str]]:
        """By spot and index in the chain, the SKUs that stand there in choices of a group; worked out once."""
        if group not in self._skus_by_group:
            self._skus_by_group[group] = skus_by_place(self.by_group.get(group, ()))
        return self._skus_by_group[group]


def skus_by_place(choices: Iterable[Choice]) -> dict[tuple[str, int], frozenset[str]]:
    """By spot and index in the chain, the SKUs that stand there."""
    found: dict[tuple[str, int], set[str]] = {}
    for option in (option for choice in choices for option in choice.options):
        for index, sku in enumerate(option.chain.skus):
            found.setdefault((option.spot, index), set()).add(sku)
    return {place: frozenset(skus) for place, skus in found.items()}
