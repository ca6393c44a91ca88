"""A puzzle as an answer set program for clingo: all models enumerated, then one optimum."""

from collections.abc import Iterator
from time import monotonic

import clingo

from tests.support.boards import Board, Found, Note, Option, Puzzle, signature

RULES = """
{ board(B) : board_price(B, _) } = 1.
{ pick(S, O) : option(B, S, O) } = 1 :- board(B), spot(B, S).
:- gauges, { pick(S, O) : gauge(B, S, O) } != 1, board(B).
fine(B, G) :- allowed(B, G, N), board(B), pick(S, O) : member(B, G, N, S, O).
:- board(B), shared(B, G), not fine(B, G).
:- stock(K, L), #sum { Q, rail : board(B), rail_use(B, K, Q) ; Q, S, O : pick(S, O), board(B), use(B, S, O, K, Q) } > L.
:- budget(L), #sum { P, rail : board(B), board_price(B, P) ; P, S, O : pick(S, O), board(B), price(B, S, O, P) } > L.
#minimize { P, rail : board(B), board_price(B, P) ; P, S, O : pick(S, O), board(B), price(B, S, O, P) }.
#show board/1.
#show pick/2.
"""


def solve(puzzle: Puzzle, seconds: float = 60.0, note: Note | None = None) -> Found | None:
    """The number of bills and the cheapest price, or None where the time does not suffice; `note` hears each bill."""
    end = monotonic() + seconds
    control = clingo.Control(["--models=0", "--opt-mode=ignore", "--warn=none"])
    control.add("base", [], RULES + "\n".join(_facts(puzzle)))
    control.ground([("base", [])])
    count = _count(control, puzzle, end, note)
    if not count or note is not None:  # who hears each bill knows the cheapest
        return None if count is None else Found(count, None)
    control.configuration.solve.opt_mode = "opt"
    cheapest = None
    with control.solve(yield_=True) as handle:
        for model in handle:
            (cheapest,) = model.cost
    return Found(count, cheapest)


def _count(control: clingo.Control, puzzle: Puzzle, end: float, note: Note | None) -> int | None:
    count = 0
    signatures = set()
    by_signature = puzzle.repeats
    with control.solve(yield_=True) as handle:
        for model in handle:
            count += 1
            if by_signature:
                signatures.add(signature(*_chosen(puzzle, model)))
            if note is not None:
                note(*_chosen(puzzle, model))
            if monotonic() > end:
                return None
    return len(signatures) if by_signature else count


def _chosen(puzzle: Puzzle, model: clingo.Model) -> tuple[Board, dict[str, Option]]:
    board: Board | None = None
    picks = []
    for atom in model.symbols(shown=True):
        if atom.name == "board":
            board = puzzle.boards[atom.arguments[0].number]
        else:
            picks.append((atom.arguments[0].string, atom.arguments[1].number))
    assert board is not None
    return board, {spot: board.spots[spot][option] for spot, option in sorted(picks)}


def _facts(puzzle: Puzzle) -> Iterator[str]:
    if puzzle.gauges:
        yield "gauges."
    if puzzle.budget is not None:
        yield f"budget({puzzle.budget})."
    for sku, stock in puzzle.stock.items():
        yield f'stock("{sku}", {stock}).'
    for number, board in enumerate(puzzle.boards):
        yield from _board_facts(number, board)


def _board_facts(number: int, board: Board) -> Iterator[str]:
    yield f"board_price({number}, {board.price})."
    for sku, qty in board.uses.items():
        yield f'rail_use({number}, "{sku}", {qty}).'
    for spot, options in board.spots.items():
        yield f'spot({number}, "{spot}").'
        for n, option in enumerate(options):
            yield f'option({number}, "{spot}", {n}). price({number}, "{spot}", {n}, {option.price}).'
            if option.duty == "gauge":
                yield f'gauge({number}, "{spot}", {n}).'
            for sku, qty in option.uses.items():
                yield f'use({number}, "{spot}", {n}, "{sku}", {qty}).'
    for group, shared in enumerate(board.shared):
        yield f"shared({number}, {group})."
        for n, indices in enumerate(sorted(shared.allowed)):
            yield f"allowed({number}, {group}, {n})."
            for spot, index in zip(shared.spots, indices, strict=True):
                yield f'member({number}, {group}, {n}, "{spot}", {index}).'
