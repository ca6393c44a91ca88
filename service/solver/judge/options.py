"""What can be chosen: an option is a chain at a spot; a choice settles one spot, or spots that share a flow."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import product
from math import prod
from operator import itemgetter, le

from service.domain.answer import PlacedChain
from service.domain.chains import Chain, Run
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.work import TooCostlyError

MOST_TOGETHER = 100_000
"""So many choices for spots that share a flow are listed at most. One takes about half a kilobyte."""
Group = tuple[str, ...]
"""A spot, and what stands there once variants are taken for equal."""
_KEPT_PLACED = 8
NO_PART = "\0"
"""Stands for the chain of a spot that is not told; no SKU is like it."""


class Option:
    """A chain that serves a spot alone. `supplied`: its first item comes with the rail.

    `needed` are the items that have to be got, each time that they stand in the chain; `bought` those of them that we
    sell; `head` the SKU that meets the spot ('' for an empty chain) with the spot. All is worked out once: an option
    is asked for it in every answer.
    """

    __slots__ = (
        "_placed",
        "bought",
        "chain",
        "group",
        "head",
        "lead_days",
        "needed",
        "price",
        "spot",
        "supplied",
        "text",
    )

    def __init__(self, spot: str, chain: Chain, *, supplied: bool = False) -> None:
        self.spot = spot
        self.chain = chain
        self.supplied = supplied
        self.needed: tuple[Item, ...] = chain.items[int(supplied) :]
        self.bought = tuple(item for item in self.needed if item.sold)
        self.price = sum(item.price for item in self.bought)
        self.lead_days = max((item.lead_days for item in self.bought), default=0)
        self.text = f"{spot}:{chain.text}"
        self.group: Group = (spot, *chain.groups)
        self.head = (chain.skus[0] if chain.links else "", spot)
        self._placed: dict[tuple[tuple[str, ...], ...], PlacedChain] = {}

    def placed(self, choices: tuple[tuple[str, ...], ...]) -> PlacedChain:
        """As bills show it, with the SKUs that would do in each place; mostly one object for the same ones, so that
        what is told of a bill is found again."""
        if len(self._placed) >= _KEPT_PLACED:
            self._placed.clear()
        return self._placed.setdefault(choices, PlacedChain(self.spot, self.chain, self.supplied, choices))

    @property
    def placed_alone(self) -> PlacedChain:
        """As bills show it that do not tell what else would do."""
        return self.placed(((),) * len(self.chain.links))


class Choice:
    """One or more options that are chosen together, with what they cost; `runs` is what they are to the fuel."""

    __slots__ = ("_bought_units", "_needed_units", "group", "lead_days", "options", "pieces", "price", "runs", "texts")

    def __init__(self, options: tuple[Option, ...]) -> None:
        self.options = options
        self.runs: tuple[Run, ...] = tuple([option.chain.run for option in options])
        self.texts = tuple(sorted([option.text for option in options]))
        self.group = tuple([option.group for option in options])
        self.price = sum([option.price for option in options])
        self.pieces = sum([len(option.needed) for option in options])
        self.lead_days = max([option.lead_days for option in options])
        self._bought_units: dict[str, int] | None = None
        self._needed_units: dict[str, int] | None = None

    @property
    def bought_units(self) -> dict[str, int]:
        """The units of each SKU that we sell, in so far as they have to be got; counted once."""
        if self._bought_units is None:
            self._bought_units = Counter([item.sku for option in self.options for item in option.bought])
        return self._bought_units

    @property
    def needed_units(self) -> dict[str, int]:
        """The units of each SKU that have to be got; counted once."""
        if self._needed_units is None:
            self._needed_units = Counter([item.sku for option in self.options for item in option.needed])
        return self._needed_units


class Choices:
    """Choices for one spot or one group of spots, and what follows from them whatever else is asked."""

    def __init__(self, choices: Iterable[Choice]) -> None:
        self._listed = tuple(choices)
        self._skus_by_group: dict[tuple[Group, ...], Mapping[tuple[str, int], frozenset[str]]] = {}
        self._placed: dict[Choice, tuple[PlacedChain, ...]] = {}

    @lazy
    def all(self) -> tuple[Choice, ...]:
        return self._listed

    @property
    def columns(self) -> tuple["Choices", ...]:
        """Choices of which one each is taken together."""
        return (self,)

    @lazy
    def size(self) -> int:
        """How many there are."""
        return len(self._listed)

    @lazy
    def number_of_groups(self) -> int:
        """How many there are once variants are taken for equal."""
        return len(self.by_group)

    @lazy
    def runs(self) -> tuple[Run, ...]:
        """Of choices for one spot, what they are to the fuel, each once."""
        return tuple([runs[0] for runs in self.by_runs])

    @lazy
    def by_group(self) -> dict[tuple[Group, ...], tuple[Choice, ...]]:
        """The choices by what they are once variants are taken for equal."""
        groups: dict[tuple[Group, ...], list[Choice]] = {}
        for choice in self.all:
            groups.setdefault(choice.group, []).append(choice)
        return {group: tuple(choices) for group, choices in groups.items()}

    @lazy
    def by_text(self) -> dict[tuple[str, ...], tuple[Choice, ...]]:
        """The choices each for itself."""
        return {choice.texts: (choice,) for choice in self.all}

    @lazy
    def by_runs(self) -> dict[tuple[Run, ...], tuple[Choice, ...]]:
        """The choices by what they are to the fuel."""
        runs: dict[tuple[Run, ...], list[Choice]] = {}
        for choice in self.all:
            runs.setdefault(choice.runs, []).append(choice)
        return {key: tuple(choices) for key, choices in runs.items()}

    @lazy
    def leanest_runs(self) -> tuple[Run, ...]:
        """Of choices for one spot, the runs that no other one of the same bores undercuts in all that it loses."""
        alike: dict[tuple[tuple[float, float], ...], list[tuple[tuple[float, ...], Run]]] = {}
        for run in self.runs:
            way = sorted([(x.bore_m, x.roughness_m, x.length_m, x.loss_k) for x in run.passages])
            losses = tuple([figure for passage in way for figure in passage[2:]])
            alike.setdefault(tuple([passage[:2] for passage in way]), []).append((losses, run))
        found: list[Run] = []
        for ways in alike.values():
            kept: list[tuple[float, ...]] = []
            for losses, run in sorted(ways, key=itemgetter(0)):
                if not any(all(map(le, other, losses)) for other in kept):
                    kept.append(losses)
                    found.append(run)
        return tuple(found)

    @lazy
    def most_units(self) -> Mapping[str, int]:
        """The most units of each SKU that have to be got for one of them."""
        most: dict[str, int] = {}
        for choice in self.all:
            for sku, units in choice.needed_units.items():
                most[sku] = max(units, most.get(sku, 0))
        return most

    @lazy
    def lowest_price(self) -> int:
        return min(choice.price for choice in self.all)

    @lazy
    def highest_price(self) -> int:
        return max(choice.price for choice in self.all)

    @lazy
    def heads(self) -> frozenset[tuple[str, str]]:
        return frozenset(option.head for choice in self.all for option in choice.options)

    @lazy
    def items(self) -> frozenset[Item]:
        """Every item that stands in a choice."""
        return frozenset(item for choice in self.all for option in choice.options for item in option.chain.items)

    @lazy
    def skus(self) -> frozenset[str]:
        """Every SKU that stands in a choice."""
        return frozenset(item.sku for item in self.items)

    @lazy
    def needed_items(self) -> frozenset[Item]:
        """Every item that has to be got for a choice."""
        return frozenset(item for choice in self.all for option in choice.options for item in option.needed)

    @lazy
    def standards(self) -> frozenset[str]:
        """The standards of all openings that their parts meet."""
        options = (option for choice in self.all for option in choice.options)
        return frozenset(link.meets.standard for option in options for link in option.chain.links)

    def first_needed(self, items: AbstractSet[Item]) -> Item | None:
        """Of these items the first one that has to be got for a choice, from the first choice on."""
        options = (option for choice in self.all for option in choice.options)
        return next((item for option in options for item in option.needed if item in items), None)

    def with_item(self, item: Item, position: int, /) -> "Choices":
        """Those of them that have an item at the spot with this place among theirs."""
        return Choices(choice for choice in self.all if item in choice.options[position].chain.items)

    def least_units(self, sku: str, spots: frozenset[str] | None) -> int:
        """The least units of a SKU that have to be got for one of them (at these spots, None: anywhere)."""
        return min(units_at(choice, sku, spots) for choice in self.all)

    def find(self, chains: Mapping[str, tuple[str, ...]]) -> Choice | None:
        """The choice of these chains, told by the SKUs at each spot."""
        spots = [option.spot for choice in self.all[:1] for option in choice.options]
        texts = tuple(sorted([f"{spot}:{','.join(chains.get(spot, (NO_PART,)))}" for spot in spots]))
        return next(iter(self.by_text.get(texts, ())), None)

    def of_group(self, group: tuple[Group, ...]) -> tuple[Choice, ...]:
        """The choices of a group."""
        return self.by_group.get(group, ())

    def has_group(self, group: tuple[Group, ...]) -> bool:
        """Whether any of them is of a group."""
        return group in self.by_group

    def skus_of(self, group: tuple[Group, ...]) -> Mapping[tuple[str, int], frozenset[str]]:
        """By spot and index in the chain, the SKUs that stand there in choices of a group; worked out once."""
        if group not in self._skus_by_group:
            self._skus_by_group[group] = skus_by_place(self.of_group(group))
        return self._skus_by_group[group]

    def placed(self, choice: Choice) -> tuple[PlacedChain, ...]:
        """A choice of these as bills show it, with what else would do; worked out once."""
        if choice not in self._placed:
            self._placed[choice] = tuple(placed(option, self.skus_of(choice.group)) for option in choice.options)
        return self._placed[choice]


class Paired(Choices):
    """Choices of which any one of each is taken together, as one; all of them are listed only for who asks for it."""

    def __init__(self, columns: tuple[Choices, ...]) -> None:
        super().__init__(())
        self._columns = columns

    @lazy
    def all(self) -> tuple[Choice, ...]:
        if self.size > MOST_TOGETHER:
            raise TooCostlyError(MOST_TOGETHER, "feeds")
        return tuple(map(joined, product(*(choices.all for choices in self._columns))))

    @property
    def columns(self) -> tuple[Choices, ...]:
        return self._columns

    @lazy
    def size(self) -> int:
        return prod(choices.size for choices in self._columns)

    @lazy
    def number_of_groups(self) -> int:
        return prod(choices.number_of_groups for choices in self._columns)

    @lazy
    def most_units(self) -> Mapping[str, int]:
        return sum((Counter(choices.most_units) for choices in self._columns), Counter())

    @lazy
    def lowest_price(self) -> int:
        return sum(choices.lowest_price for choices in self._columns)

    @lazy
    def highest_price(self) -> int:
        return sum(choices.highest_price for choices in self._columns)

    @lazy
    def heads(self) -> frozenset[tuple[str, str]]:
        return frozenset().union(*(choices.heads for choices in self._columns))

    @lazy
    def items(self) -> frozenset[Item]:
        return frozenset().union(*(choices.items for choices in self._columns))

    @lazy
    def needed_items(self) -> frozenset[Item]:
        return frozenset().union(*(choices.needed_items for choices in self._columns))

    @lazy
    def standards(self) -> frozenset[str]:
        return frozenset().union(*(choices.standards for choices in self._columns))

    def first_needed(self, items: AbstractSet[Item]) -> Item | None:
        if len(self._columns) != 2:
            return super().first_needed(items)
        first, second = self._columns
        begin = first.all[0].options[0].needed if first.size else ()
        own = next((item for item in begin if item in items), None)
        return own or second.first_needed(items) or first.first_needed(items)

    def with_item(self, item: Item, position: int, /) -> Choices:
        columns = list(self._columns)
        columns[position] = columns[position].with_item(item, 0)
        return Paired(tuple(columns))

    def least_units(self, sku: str, spots: frozenset[str] | None) -> int:
        return sum(choices.least_units(sku, spots) for choices in self._columns)

    def find(self, chains: Mapping[str, tuple[str, ...]]) -> Choice | None:
        found = [choices.find(chains) for choices in self._columns]
        known = [choice for choice in found if choice is not None]
        return joined(known) if len(known) == len(found) else None

    def has_group(self, group: tuple[Group, ...]) -> bool:
        return all(choices.has_group((own,)) for choices, own in zip(self._columns, group, strict=True))

    def skus_of(self, group: tuple[Group, ...]) -> Mapping[tuple[str, int], frozenset[str]]:
        if group not in self._skus_by_group:
            columns = [choices.skus_of((own,)) for choices, own in zip(self._columns, group, strict=True)]
            found = {place: skus for column in columns for place, skus in column.items()}
            self._skus_by_group[group] = found if self.has_group(group) else {}
        return self._skus_by_group[group]

    def of_group(self, group: tuple[Group, ...]) -> tuple[Choice, ...]:
        columns = [choices.of_group((own,)) for choices, own in zip(self._columns, group, strict=True)]
        return tuple(map(joined, product(*columns)))


def units_at(choice: Choice, sku: str, spots: frozenset[str] | None) -> int:
    """The units of a SKU that have to be got for a choice at some spots (None: anywhere)."""
    needed = (option for option in choice.options if spots is None or option.spot in spots)
    return sum([item.sku == sku for option in needed for item in option.needed])


def joined(choices: Sequence[Choice]) -> Choice:
    """Choices that are taken together as one."""
    return choices[0] if len(choices) == 1 else Choice(tuple([x for choice in choices for x in choice.options]))


def placed(option: Option, others: Mapping[tuple[str, int], frozenset[str]]) -> PlacedChain:
    """An option as bills show it; `others`: by spot and index in the chain, the SKUs that would do there."""
    choices = tuple(
        tuple(sorted(others.get((option.spot, index), frozenset()) - {sku}))
        for index, sku in enumerate(option.chain.skus)
    )
    return option.placed(choices)


def skus_by_place(choices: Iterable[Choice]) -> dict[tuple[str, int], frozenset[str]]:
    """By spot and index in the chain, the SKUs that stand there."""
    found: dict[tuple[str, int], set[str]] = {}
    for option in (option for choice in choices for option in choice.options):
        for index, sku in enumerate(option.chain.skus):
            found.setdefault((option.spot, index), set()).add(sku)
    return {place: frozenset(skus) for place, skus in found.items()}
