"""A request as other solvers take it: what may be chosen, and what joins the choices.

Finding the chains of each spot and the flow of each path is done for them, and not timed. What they have to do is to
choose: a board (a rail with a placement), a gauge spot, a chain for each spot, within stock, budget and shared flow.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

from tests.support.brute_force import Flows, Setting, chains_of_spot, grounds, spots_of
from tests.support.slow_chains import Chain, Json, Question


@dataclass(frozen=True)
class Option:
    """A chain for a spot: its duty, what is bought for it, and the price of what is sold."""

    duty: str
    skus: tuple[str, ...]
    uses: Mapping[str, int]
    price: int


@dataclass(frozen=True)
class Shared:
    """Feeds into one rail: which combinations of their options (by index) flow enough."""

    spots: tuple[str, ...]
    allowed: frozenset[tuple[int, ...]]


@dataclass(frozen=True)
class Board:
    """A rail with a placement, and the options of every spot."""

    rail: str
    uses: Mapping[str, int]
    price: int
    spots: Mapping[str, Sequence[Option]]
    shared: Sequence[Shared]


@dataclass(frozen=True)
class Puzzle:
    """All boards of a request. `gauges`: whether exactly one spot has a gauge. `stock`: only what is limited."""

    boards: Sequence[Board]
    gauges: bool
    stock: Mapping[str, int]
    budget: int | None

    @property
    def repeats(self) -> bool:
        """Whether two placements of one rail have the same duties, so that one bill may come from both."""
        keys = [
            (board.rail, tuple(sorted((spot, o.duty) for spot, options in board.spots.items() for o in options[:1])))
            for board in self.boards
        ]
        return len(set(keys)) < len(keys)


Note = Callable[[Board, Mapping[str, Option]], None]
"""Told each solution: the board and the option of every spot."""


@dataclass(frozen=True)
class Found:
    """What a solver found: how many bills, and the price of the cheapest."""

    count: int
    cheapest: int | None


def puzzle(catalog: Json, request: Json) -> Puzzle:
    """What there is to choose for a request."""
    question = Question(catalog, request)
    stock = {item["sku"]: item["stock"] for item in catalog["items"] if item["sold"]}
    return Puzzle(
        boards=[board for rail, placement in grounds(question) for board in _boards(question, rail, placement)],
        gauges=question.gauge != "none",
        stock=stock if question.wish("in_stock_only") else {},
        budget=question.wish("max_price"),
    )


def signature(board: Board, chosen: Mapping[str, Option]) -> tuple[Any, ...]:
    """What makes a bill the same as one from another placement."""
    return (board.rail, tuple(sorted((spot, option.duty, option.skus) for spot, option in chosen.items())))


def _boards(question: Question, rail: Json, placement: Json) -> Iterator[Board]:
    """The board of a rail and a placement, unless a spot has nothing to choose from."""
    chains = _fuel_chains(question, rail, placement)
    if not all(chains.values()):
        return
    setting = Setting(rail, placement, {spot: placement[spot]["duty"] for spot in placement}, chains)
    flowing, shared = _flowing(question, setting)
    resting = {
        spot: [
            _option(question, duty, chain)
            for duty in _resting_duties(question, spot)
            for chain in chains_of_spot(question, rail, placement, spot, duty)
        ]
        for spot in spots_of(question, rail)
        if spot not in placement
    }
    spots = flowing | resting
    if all(spots.values()):
        rails: int = question.chassis["banks"]
        yield Board(rail["sku"], {rail["sku"]: rails}, rails * rail["price"] * rail["sold"], spots, shared)


def _fuel_chains(question: Question, rail: Json, placement: Json) -> dict[str, list[Chain]]:
    return {
        spot: chains_of_spot(question, rail, placement, spot, entry["duty"])
        for spot, entry in placement.items()
        if entry["duty"] != "link" or spot < entry["to_spot"]
    }


def _resting_duties(question: Question, spot: str) -> list[str]:
    if question.gauge == "any":
        return ["closed", "gauge"]
    return ["gauge" if spot == question.gauge else "closed"]


def _option(question: Question, duty: str, chain: Chain) -> Option:
    price = sum(item["price"] for item in chain.needed if item["sold"])
    return Option(duty, chain.skus, Counter(item["sku"] for item in chain.needed), price)


def _flowing(question: Question, setting: Setting) -> tuple[dict[str, list[Option]], list[Shared]]:
    """The options of the spots with fuel that flow enough alone, and which combinations of feeds do together."""
    flows = Flows(question)
    some = {spot: chains[0] for spot, chains in setting.candidates.items()}

    def flow_enough(chosen: dict[str, Chain]) -> bool:
        paths = [path for path in flows.paths(setting, some | chosen) if path.spots[0] in chosen]
        top_m_s = question.policies["max_velocity_m_s"]
        return all(path.drop_kpa <= path.limit_kpa and path.peak_m_s <= top_m_s for path in paths)

    joined = _joined_feeds(setting)
    together = {spot for spots in joined for spot in spots}
    kept = {
        spot: [chain for chain in chains if spot in together or flow_enough({spot: chain})]
        for spot, chains in setting.candidates.items()
    }
    shared = []
    for spots in joined:
        indices = product(*(range(len(kept[spot])) for spot in spots))
        fine = [n for n in indices if flow_enough({spot: kept[spot][i] for spot, i in zip(spots, n, strict=True)})]
        shared.append(Shared(spots, frozenset(fine)))
    options = {
        spot: [_option(question, setting.duties[spot], chain) for chain in chains] for spot, chains in kept.items()
    }
    return options, shared


def _joined_feeds(setting: Setting) -> list[tuple[str, ...]]:
    """Feeds that share a rail: two or more on one bank."""
    banks: dict[str, list[str]] = {}
    for spot, duty in setting.duties.items():
        if duty == "feed":
            banks.setdefault(spot.rpartition(".")[0], []).append(spot)
    return [tuple(spots) for spots in banks.values() if len(spots) > 1]
