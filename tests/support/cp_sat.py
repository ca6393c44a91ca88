"""A puzzle as a model for OR-Tools CP-SAT: one Boolean a board and one an option, all solutions enumerated."""

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

from ortools.sat.python import cp_model

from tests.support.boards import Board, Found, Note, Option, Puzzle, signature

Choices = list[tuple[Board, cp_model.IntVar, dict[str, list[cp_model.IntVar]]]]


def solve(puzzle: Puzzle, seconds: float = 60.0, note: Note | None = None) -> Found | None:
    """The number of bills and the cheapest price, or None where the time does not suffice; `note` hears each bill."""
    if not puzzle.boards:
        return Found(0, None)
    model = cp_model.CpModel()
    choices, price = _model(model, puzzle)
    solver = cp_model.CpSolver()
    solver.parameters.enumerate_all_solutions = True
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    seen = _Seen(choices, price, by_signature=puzzle.repeats, note=note)
    status = solver.solve(model, seen)
    return seen.found if status in (cp_model.OPTIMAL, cp_model.INFEASIBLE) else None


def _model(model: cp_model.CpModel, puzzle: Puzzle) -> tuple[Choices, Any]:
    choices: Choices = []
    gauges: list[cp_model.IntVar] = []
    used: dict[str, list[Any]] = defaultdict(list)
    price: list[Any] = []
    for board in puzzle.boards:
        chosen = model.new_bool_var("")
        price.append(board.price * chosen)
        _use(used, board.uses, chosen)
        options: dict[str, list[cp_model.IntVar]] = {}
        for spot, candidates in board.spots.items():
            options[spot] = [model.new_bool_var("") for _ in candidates]
            model.add(sum(options[spot]) == chosen)
            for option, variable in zip(candidates, options[spot], strict=True):
                price.append(option.price * variable)
                _use(used, option.uses, variable)
                gauges += [variable] if option.duty == "gauge" else []
        for shared in board.shared:
            _add_shared(model, chosen, [options[spot] for spot in shared.spots], shared.allowed)
        choices.append((board, chosen, options))
    model.add_exactly_one(chosen for _, chosen, _ in choices)
    if puzzle.gauges:
        model.add(sum(gauges) == 1)
    for sku, stock in puzzle.stock.items():
        model.add(sum(used[sku]) <= stock)
    if puzzle.budget is not None:
        model.add(sum(price) <= puzzle.budget)
    return choices, sum(price)


def _use(used: dict[str, list[Any]], uses: Mapping[str, int], variable: cp_model.IntVar) -> None:
    for sku, qty in uses.items():
        used[sku].append(qty * variable)


def _add_shared(
    model: cp_model.CpModel,
    chosen: cp_model.IntVar,
    options: list[list[cp_model.IntVar]],
    allowed: frozenset[tuple[int, ...]],
) -> None:
    """Where the board is chosen, one of the allowed combinations of feeds is."""
    combinations = []
    for indices in sorted(allowed):
        combination = model.new_bool_var("")
        for variables, index in zip(options, indices, strict=True):
            model.add_implication(combination, variables[index])
        combinations.append(combination)
    model.add(sum(combinations) == chosen)


class _Seen(cp_model.CpSolverSolutionCallback):
    """Counts solutions; by what they say where two boards may say the same."""

    def __init__(self, choices: Choices, price: Any, *, by_signature: bool, note: Note | None) -> None:
        super().__init__()
        self._choices, self._price, self._by_signature, self._note = choices, price, by_signature, note
        self._count = 0
        self._signatures: set[Any] = set()
        self._cheapest: int | None = None

    @property
    def found(self) -> Found:
        return Found(len(self._signatures) if self._by_signature else self._count, self._cheapest)

    def on_solution_callback(self) -> None:
        self._count += 1
        price = self.value(self._price)
        self._cheapest = price if self._cheapest is None else min(price, self._cheapest)
        if self._by_signature:
            self._signatures.add(signature(*self._chosen()))
        if self._note is not None:
            self._note(*self._chosen())

    def _chosen(self) -> tuple[Board, dict[str, Option]]:
        board, options = next((board, options) for board, chosen, options in self._choices if self.value(chosen))
        chosen = {
            spot: next(o for o, v in zip(board.spots[spot], variables, strict=True) if self.value(v))
            for spot, variables in options.items()
        }
        return board, chosen
