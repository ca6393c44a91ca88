"""A puzzle as finite-domain problems for python-constraint2: one problem a board, one variable a spot."""

from collections import Counter
from typing import Any

from constraint import Problem

from tests.support.boards import Board, Found, Note, Option, Puzzle, Shared, signature


def solve(puzzle: Puzzle, note: Note | None = None) -> Found:
    """The number of bills and the cheapest price; `note` hears each bill."""
    by_signature = puzzle.repeats
    count, signatures, prices = 0, set(), []
    for board in puzzle.boards:
        solutions = _problem(puzzle, board).getSolutions()
        count += len(solutions)
        prices += [_price(board, solution) for solution in solutions]
        for solution in solutions if note is not None else ():
            note(board, _options(board, solution))
        if by_signature:
            signatures |= {signature(board, _options(board, solution)) for solution in solutions}
    return Found(len(signatures) if by_signature else count, min(prices, default=None))


def _options(board: Board, solution: dict[str, int]) -> dict[str, Option]:
    return {spot: board.spots[spot][index] for spot, index in solution.items()}


def _price(board: Board, solution: dict[str, int]) -> int:
    return board.price + sum(option.price for option in _options(board, solution).values())


def _problem(puzzle: Puzzle, board: Board) -> Problem:
    problem = Problem()
    for spot, options in board.spots.items():
        problem.addVariable(spot, list(range(len(options))))
    spots = list(board.spots)

    def chosen(indices: tuple[int, ...]) -> list[Option]:
        return [board.spots[spot][index] for spot, index in zip(spots, indices, strict=True)]

    def one_gauge(*indices: int) -> bool:
        return sum(option.duty == "gauge" for option in chosen(indices)) == 1

    def within_budget(*indices: int) -> bool:
        return puzzle.budget is None or board.price + sum(o.price for o in chosen(indices)) <= puzzle.budget

    def in_stock(*indices: int) -> bool:
        used = Counter(board.uses)
        for option in chosen(indices):
            used.update(option.uses)
        return all(used[sku] <= stock for sku, stock in puzzle.stock.items())

    for asked, rule in (
        (puzzle.gauges, one_gauge),
        (puzzle.budget is not None, within_budget),
        (puzzle.stock, in_stock),
    ):
        if asked:
            problem.addConstraint(rule, spots)
    for shared in board.shared:
        problem.addConstraint(_flows_enough(shared), list(shared.spots))
    return problem


def _flows_enough(shared: Shared) -> Any:
    return lambda *indices: indices in shared.allowed
