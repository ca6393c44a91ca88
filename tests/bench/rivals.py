"""The engine beside general solvers, and what an answer tells besides beside the answer itself.

A sample of random requests that have bills goes to OR-Tools CP-SAT, clingo and python-constraint2 as well, to the same
answer: the number of valid bills (or groups of variants, as asked) and the best of them in order. Building their model
counts; the engine's own code finds chains, rules and flow for it (`tests/support/rivals.py`). All of them work on one
thread, and times are of the processor.

What is timed is a question nobody asked before, in the midst of the work of a service that runs: each side is prepared
as the service prepares a revision, and goes through the same requests in the same order, so that it knows of one what
the ones before it left. The sample is even by the number of bills, on which the time of a solver hangs: of a hundred at
random the median may be half or twice that of all.
"""

import statistics
from collections.abc import Callable, Sequence
from functools import partial
from itertools import islice
from math import prod
from operator import itemgetter
from time import process_time
from typing import Any, TypeVar

from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment, Sizing
from service.domain.power import Power
from service.domain.wishes import Wishes
from service.explain.report import Assess, report_answer
from service.usecases import long_lived
from service.usecases.check_order import check_order
from service.usecases.edition import Preparation
from service.usecases.find_bills import key_maker
from tests.bench.questions import WISHES_AT_ONCE, Asked, Questions
from tests.bench.report import Row
from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, Note, Puzzle
from tests.support.rivals import Answered, Poser, Solver, answered

PATIENCE_S = 2.0
"""A solver that has not finished by then is stopped, and this is its time."""
_MOST_FOR_LISTS = 200_000
_SOLVERS: dict[str, Solver] = {
    "CP-SAT": lambda posed, note: cp_sat.solve(posed, PATIENCE_S, note),
    "clingo": lambda posed, note: asp.solve(posed, PATIENCE_S, note),
    "python-constraint2": lambda posed, note: _by_lists(posed, note),
}
_GENERAL = ("CP-SAT", "clingo")
_FLOOR = 10.0
"""The target is missed yet; less than this would be a step back."""
Timed = tuple[float, Asked]
T = TypeVar("T")


def rows(questions: Questions, *, requests: int, sample: int, advised: int, orders: int) -> list[Row]:
    """All rows of the engine."""
    Preparation(questions.edition, lambda: False).finish()
    poser = Poser(questions.edition.revision)
    poser.prepare()
    long_lived.settle([questions.edition.number])
    timed: list[Timed] = []
    posed: list[tuple[int, float, Timed]] = []
    for one in islice(questions.plain(), requests):
        # The answer is let go of, as the service does: thousands of them at once would slow the next ones down.
        took, answer = _milliseconds(partial(questions.edition.engine.answer, one.resolved))
        posing, _ = _milliseconds(partial(poser.pose, one.resolved))
        timed.append((took, one))
        if answer.total_valid:
            posed.append((answer.total_valid, posing, timed[-1]))
    with_bills = [one for *_, one in posed]
    return [
        _beside_rivals(questions, poser, _evenly(sorted(posed, key=itemgetter(0)), sample)),
        _advice(questions, advised),
        _wording(questions, timed),
        _orders(questions, questions.rng.choices(with_bills, k=orders)),
    ]


def _milliseconds(call: Callable[[], Any]) -> tuple[float, Any]:
    start = process_time()
    result = call()
    return (process_time() - start) * 1000, result


def _evenly(ordered: Sequence[T], number: int) -> list[T]:
    """So many of them, as far apart as can be."""
    number = min(number, len(ordered))
    return [ordered[(2 * place + 1) * len(ordered) // (2 * number)] for place in range(number)]


def _beside_rivals(questions: Questions, poser: Poser, sample: Sequence[tuple[int, float, Timed]]) -> Row:
    """The same requests to every solver; each must give the engine's answer. A solver's time is that of posing, as it
    took in its turn, and of what the solver does with it."""
    times: dict[str, list[float]] = {name: [] for name in _SOLVERS}
    for _, posing, (_, one) in sample:
        own = _as_answered(questions.edition.engine.answer(one.resolved))
        puzzle = poser.pose(one.resolved)
        for name, solve in _SOLVERS.items():
            took, other = _milliseconds(partial(answered, puzzle, one.resolved, solve))
            times[name].append(posing + (took if other is not None else max(took, PATIENCE_S * 1000)))
            if other not in (None, own):
                raise SystemExit(f"{name} differs from the engine for {one.plain}: {other}, {own}")
    medians = {
        "engine": statistics.median(took for *_, (took, _) in sample),
        "posing": statistics.median(x for _, x, _ in sample),
    }
    medians |= {name: statistics.median(taken) for name, taken in times.items()}
    ratio = min(medians[name] for name in _GENERAL) / medians["engine"]
    figures = {f"{name} ms": took for name, took in medians.items()}
    return Row("better of CP-SAT and clingo, against the engine", ratio, 40, figures=figures, floor=_FLOOR)


def _advice(questions: Questions, number: int) -> Row:
    """Conflicts and repairs of requests that have no bill, beside the same car and layout without a wish but a power of
    its own: at the stock power everything is at hand, as it was prepared and the advice has just been looking at it."""
    plain, advice = [], []
    for one, answer in islice(questions.hopeless(), number):
        advice.append(_milliseconds(partial(getattr, answer, "why_not"))[0])
        power_kw = one.resolved.chassis.stock_kw * questions.rng.uniform(0.6, 1.2)
        unwished = Wishes(one.resolved, questions.edition.revision).request_with((), {"power_kw": power_kw})
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
