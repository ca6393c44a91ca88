"""The engine beside general solvers, and what an answer tells besides beside the answer itself.

A sample of random requests that have bills goes to OR-Tools CP-SAT, clingo and python-constraint2 as well, to the same
answer: the number of valid bills (or groups of variants, as asked) and the best of them in order. Building their model
counts; the engine's own code finds chains, rules and flow for it (`tests/support/rivals.py`). All of them work on one
thread, and times are of the processor.
"""

import statistics
from collections.abc import Callable, Sequence
from functools import partial
from itertools import islice
from math import prod
from time import process_time
from typing import Any

from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment, Sizing
from service.domain.power import Power
from service.domain.wishes import Wishes
from service.explain.report import Assess, report_answer
from service.usecases.check_order import check_order
from service.usecases.find_bills import key_maker
from tests.bench.questions import WISHES_AT_ONCE, Asked, Questions
from tests.bench.report import Row
from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, Note, Puzzle
from tests.support.rivals import Answered, Poser, Solver

PATIENCE_S = 2.0
"""A solver that has not finished by then is stopped, and this is its time."""
_MOST_FOR_LISTS = 200_000
_SOLVERS: dict[str, Solver] = {
    "CP-SAT": lambda posed, note: cp_sat.solve(posed, PATIENCE_S, note),
    "clingo": lambda posed, note: asp.solve(posed, PATIENCE_S, note),
    "python-constraint2": lambda posed, note: _by_lists(posed, note),
}
_GENERAL = ("CP-SAT", "clingo")
Timed = tuple[float, Asked]


def rows(questions: Questions, *, requests: int, sample: int, advised: int, orders: int) -> list[Row]:
    """All rows of the engine.

    What one answer works out serves the next, as in the service; so a rival stands beside the engine in the midst of
    its work, not beside its first answer.
    """
    timed: list[Timed] = []
    with_bills: list[Timed] = []
    for one in islice(questions.plain(), requests):
        # The answer is let go of, as the service does: thousands of them at once would slow the next ones down.
        took, answer = _milliseconds(partial(questions.edition.engine.answer, one.resolved))
        timed.append((took, one))
        if answer.total_valid:
            with_bills.append((took, one))
    chosen = questions.rng.sample(with_bills, min(sample, len(with_bills)))
    return [
        _beside_rivals(questions, chosen),
        _advice(questions, advised),
        _wording(questions, timed),
        _orders(questions, questions.rng.choices(with_bills, k=orders)),
    ]


def _milliseconds(call: Callable[[], Any]) -> tuple[float, Any]:
    start = process_time()
    result = call()
    return (process_time() - start) * 1000, result


def _beside_rivals(questions: Questions, sample: Sequence[Timed]) -> Row:
    """The same requests to every solver; each must give the engine's answer."""
    poser = Poser(questions.edition.revision)
    times: dict[str, list[float]] = {name: [] for name in _SOLVERS}
    for _, one in sample:
        own = _as_answered(questions.edition.engine.answer(one.resolved))
        for name, solve in _SOLVERS.items():
            took, other = _milliseconds(partial(poser.answer, one.resolved, solve))
            times[name].append(took if other is not None else max(took, PATIENCE_S * 1000))
            if other not in (None, own):
                raise SystemExit(f"{name} differs from the engine for {one.plain}: {other}, {own}")
    medians = {"engine": statistics.median(took for took, _ in sample)}
    medians |= {name: statistics.median(taken) for name, taken in times.items()}
    ratio = min(medians[name] for name in _GENERAL) / medians["engine"]
    return Row(
        "better of CP-SAT and clingo, against the engine", ratio, 40, figures={f"{n} ms": x for n, x in medians.items()}
    )


def _advice(questions: Questions, number: int) -> Row:
    """Conflicts and repairs of requests that have no bill, beside the same car and layout unwished."""
    plain, advice = [], []
    for one, answer in islice(questions.hopeless(), number):
        advice.append(_milliseconds(partial(getattr, answer, "why_not"))[0])
        unwished = Wishes(one.resolved, questions.edition.revision).request_with(())
        plain.append(_milliseconds(partial(questions.edition.engine.answer, unwished))[0])
    what = f"conflicts and repairs at {WISHES_AT_ONCE} wishes, against a plain query"
    return _beside_plain(what, advice, plain, 20)


def _wording(questions: Questions, timed: Sequence[Timed]) -> Row:
    """How much longer an answer takes with its engineering than without."""
    plain = [took + _wording_ms(questions, one, _unassessed) for took, one in timed]
    whole = [took + _wording_ms(questions, one) for took, one in timed]
    return _beside_plain("answer with its words and engineering, against without engineering", whole, plain)


def _wording_ms(questions: Questions, one: Asked, assess: Assess | None = None) -> float:
    """How long wording takes, what stops other parts and why there is no bill included."""
    edition = questions.edition
    key_of = key_maker(edition.number, BillRequest.model_validate(one.plain))
    answer = edition.engine.answer(one.resolved)
    assessed = assess or partial(edition.assessor.assess, request=one.resolved)
    return _milliseconds(lambda: report_answer(answer, edition.revision, key_of, assessed))[0]


def _unassessed(_: Bill) -> Assessment:
    """What would be told of a bill without engineering: nothing."""
    power = Power(0.0, True, (), 0.0, 0.0, 0.0, None, "manifold", False)
    return Assessment(power, None, Sizing(None, None, None), ())


def _orders(questions: Questions, sample: Sequence[Timed]) -> Row:
    """Orders for a car without a layout, with the wishes of a request that has bills; beside that request's answer."""
    plain, checks = [], []
    for _, one in sample:
        took, answer = _milliseconds(partial(questions.edition.engine.answer, one.resolved))
        asked = OrderRequest.model_validate(questions.order(one, answer))
        plain.append(took)
        checks.append(_milliseconds(partial(check_order, questions.edition, asked))[0])
    return _beside_plain("order check for any layout, worded, against a plain query", checks, plain)


def _beside_plain(what: str, times: Sequence[float], plain: Sequence[float], most: float | None = None) -> Row:
    figures = {"ms": statistics.median(times), "plain ms": statistics.median(plain)}
    return Row(what, figures["ms"] / figures["plain ms"], most, is_limit=True, figures=figures)


def _by_lists(posed: Puzzle, note: Note) -> Found | None:
    """python-constraint2 lists all solutions and cannot be stopped: what has too many counts as late, untried."""
    bills = sum(prod(len(options) for options in board.spots.values()) for board in posed.boards)
    return csp.solve(posed, note) if bills <= _MOST_FOR_LISTS else None


def _as_answered(answer: Answer) -> Answered:
    best = [
        (
            bill.price,
            tuple(sorted(f"{placed.spot}:{placed.chain.text}" for placed in bill.chains)),
            bill.rail.sku,
        )
        for bill in answer.bills
    ]
    return Answered(answer.total_valid, tuple(best))
