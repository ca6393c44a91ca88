"""A request posed to general solvers as the engine itself would pose it.

They get the best there is: the engine's own survey finds the chains, compiled once a revision, and leaves out what no
bill can hold by rules and flow, with all that it keeps from earlier requests. What is left is theirs: to choose a
setup, a rail and a choice for each component, within stock and budget, and to answer as asked: how many bills (or
groups) there are, and the best of them in order.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from service.domain.request import Request
from service.domain.revision import Revision
from service.solver.engine import asked_beforehand
from service.solver.judge.judges import Judges
from service.solver.judge.options import Choice
from service.solver.search.setups import Setup, Surveyor
from tests.support.boards import Board, Found, Note, Option, Puzzle

Solver = Callable[[Puzzle, Note], Found | None]


@dataclass(frozen=True)
class Answered:
    """The number of bills or groups, and the best in order: price, sorted `spot:chain` texts, rail."""

    total: int
    best: tuple[tuple[int, tuple[str, ...], str], ...]


@dataclass(frozen=True)
class RivalOption(Option):
    """An option that knows what it is to the engine: a choice, or a rail."""

    choice: Choice | None = None
    rail: str = ""
    lead_days: int = 0
    group: tuple[str, ...] = ()
    drop_kpa: float = 0.0


class Poser:
    """Poses requests on a compiled revision; what the engine keeps from one request to the next is kept here too."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._judges = Judges.of(revision)

    def pose(self, request: Request) -> Puzzle:
        """The setups of a request as boards."""
        surveyor = Surveyor(self._judges, request)
        items = self._revision.items
        return Puzzle(
            boards=[_board(index, setup) for index, setup in enumerate(surveyor.setups()) if setup.alive],
            gauges=False,
            stock={sku: item.stock for sku, item in items.items() if item.sold} if request.in_stock_only else {},
            budget=request.max_price,
        )

    def prepare(self) -> None:
        """Pose what the engine answers when it is prepared."""
        for request in asked_beforehand(self._revision):
            self.pose(request)


def answered(puzzle: Puzzle, request: Request, solve: Solver) -> Answered | None:
    """The answer that a solver gives to a posed request, model building included; None where it gave up."""
    bills: dict[Any, tuple[Any, ...]] = {}

    def note(_: Board, chosen: Mapping[str, Option]) -> None:
        key, rank = _bill(request, chosen)
        if key not in bills or rank < bills[key]:
            bills[key] = rank

    if solve(puzzle, note) is None:
        return None
    best = sorted(bills.values())[: request.limit]
    return Answered(len(bills), tuple((rank[-3], rank[-2], rank[-1]) for rank in best))


def _board(index: int, setup: Setup) -> Board:
    spots = {"rail": [_rail(rail, setup) for rail in setup.rails]}
    for number, component in enumerate(setup.components):
        spots[str(number)] = [_option(choice, component.drop_kpa(choice.runs)) for choice in component.choices.all]
    return Board(str(index), {}, 0, spots, ())


def _rail(rail: Any, setup: Setup) -> RivalOption:
    price = rail.price * setup.banks if rail.sold else 0
    uses = {rail.sku: setup.banks} if rail.sold else {}
    duties = "|".join(f"{spot}={duty}" for spot, duty in setup.duties.items())
    lead_days = rail.lead_days if rail.sold else 0
    return RivalOption(duties, (rail.sku,), uses, price, None, rail.sku, lead_days, (duties, rail.group))


def _option(choice: Choice, drop_kpa: float) -> RivalOption:
    return RivalOption(
        "",
        choice.texts,
        choice.bought_units,
        choice.price,
        choice,
        lead_days=choice.lead_days,
        group=choice.group,
        drop_kpa=drop_kpa,
    )


def _bill(request: Request, chosen: Mapping[str, Option]) -> tuple[Any, tuple[Any, ...]]:
    """What tells the bill (or its group) from others, and its place in the order."""
    rail = chosen["rail"]
    parts = [chosen[str(number)] for number in range(len(chosen) - 1)]
    choices = [part.choice for part in parts]
    texts = tuple(sorted(text for choice in choices for text in choice.texts))
    price = sum(part.price for part in chosen.values())
    pieces = sum(choice.pieces for choice in choices)
    drop = max(part.drop_kpa for part in parts)
    lead = max(part.lead_days for part in chosen.values())
    first = {"price": price, "pieces": pieces, "drop": drop, "lead": lead}[request.order_by]
    key = tuple(part.group for part in (rail, *parts)) if request.group_variants else (rail.duty, rail.rail, texts)
    return key, (first, price, pieces, drop, price, texts, rail.rail)
