"""How long an answer takes, beside general solvers: `python -m tests.bench`.

One thousand random requests on the catalog of `seed_data/` go to the engine, with one or two wishes on the average. A
sample of those that have bills also goes to OR-Tools CP-SAT, clingo and python-constraint2, to the same answer: the
number of valid bills (or groups of variants, as asked) and the best of them in order. Building their model counts; the
engine's own code finds chains, rules and flow for it (`tests/support/rivals.py`). What the answer tells besides (what
else would do in each place of a bill, what stops other parts, why there is no bill) is worked out when it is worded and
counts there. Orders for any layout stand
beside plain queries for the same cars. Times are of this machine and this run: compare the ratios.
"""

import argparse
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import prod
from pathlib import Path
from random import Random
from time import perf_counter
from typing import Any

from pydantic_core import to_jsonable_python
from rich.console import Console
from rich.progress import track
from rich.table import Table

from service.documents.folder import load_catalog
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment, Sizing
from service.domain.power import Power
from service.domain.request import Request
from service.domain.wishes import Wishes
from service.explain.order_changes import needed_units
from service.explain.report import Assess, report_answer
from service.usecases.check_order import check_order
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition, open_edition
from service.usecases.resolve_request import resolve_request
from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, Note, Puzzle
from tests.support.random_requests import TOO_MUCH, random_request
from tests.support.rivals import Answered, Poser, Solver

SEED_CATALOG = Path(__file__).parents[1] / "seed_data"
WISH_PERCENT = 12
WISHES_AT_ONCE = 12
PATIENCE_S = 2.0
"""A solver that has not finished by then is stopped, and this is its time."""
MOST_FOR_LISTS = 200_000
SOLVERS: dict[str, Solver] = {
    "CP-SAT": lambda posed, note: cp_sat.solve(posed, PATIENCE_S, note),
    "clingo": lambda posed, note: asp.solve(posed, PATIENCE_S, note),
    "python-constraint2": lambda posed, note: _by_lists(posed, note),
}


@dataclass(frozen=True)
class Asked:
    """A request as plain JSON and as the engine takes it."""

    plain: dict[str, Any]
    resolved: Request


@dataclass(frozen=True)
class Timed:
    """A request, how long the engine took, and how many bills there are."""

    asked: Asked
    engine_ms: float
    total_valid: int


def main() -> None:
    given = _arguments()
    console = Console()
    edition = open_edition(1, load_catalog(SEED_CATALOG))
    catalog = to_jsonable_python(edition.catalog.whole(), exclude_none=True)
    rng = Random(given.seed)
    asked = [_asked(edition, random_request(rng, catalog, WISH_PERCENT)) for _ in range(given.requests)]
    timed = [_timed(edition, one) for one in asked]
    plain = [_wording_ms(edition, one.asked, _unassessed) for one in timed]
    console.print(_engine_table(timed, plain, [_wording_ms(edition, one.asked) for one in timed]))
    answered = [one for one in timed if one.total_valid]
    console.print(_rival_table(edition, rng.sample(answered, min(given.sample, len(answered))), console))
    console.print(_advice_table(edition, catalog, rng, given.advised))
    console.print(_order_table(edition, rng.choices(answered, k=given.orders), rng))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="Time answers beside general solvers.")
    parser.add_argument("--requests", type=int, default=1000, help="random requests to the engine")
    parser.add_argument("--sample", type=int, default=120, help="how many of them the other solvers get as well")
    parser.add_argument("--advised", type=int, default=60, help="requests of twelve wishes that have no bill")
    parser.add_argument("--orders", type=int, default=300, help="orders for any layout, beside plain queries")
    parser.add_argument("--seed", type=int, default=20261125)
    return parser.parse_args()


def _asked(edition: Edition, plain: dict[str, Any]) -> Asked:
    return Asked(plain, resolve_request(BillRequest.model_validate(plain), edition.revision))


def _milliseconds(call: Callable[[], Any]) -> tuple[float, Any]:
    start = perf_counter()
    result = call()
    return (perf_counter() - start) * 1000, result


def _timed(edition: Edition, one: Asked) -> Timed:
    """The answer itself is let go of, as the service does: thousands of them at once would slow the next ones down."""
    engine_ms, answer = _milliseconds(partial(edition.engine.answer, one.resolved))
    return Timed(one, engine_ms, answer.total_valid)


def _unassessed(_: Bill) -> Assessment:
    """What would be told of a bill without engineering: nothing."""
    power = Power(0.0, True, (), 0.0, 0.0, 0.0, None, "manifold", False)
    return Assessment(power, None, Sizing(None, None, None), ())


def _wording_ms(edition: Edition, one: Asked, assess: Assess | None = None) -> float:
    """How long wording takes, what stops other parts and why there is no bill included."""
    key_of = key_maker(edition.number, BillRequest.model_validate(one.plain))
    answer = edition.engine.answer(one.resolved)
    assessed = assess or partial(edition.assessor.assess, request=one.resolved)
    return _milliseconds(lambda: report_answer(answer, edition.revision, key_of, assessed))[0]


def _engine_table(timed: Sequence[Timed], plain_ms: Sequence[float], wording_ms: Sequence[float]) -> Table:
    """Every request once: what one answer works out serves the next, as in the service."""
    answered = sum(one.total_valid > 0 for one in timed)
    table = Table(title=f"{len(timed)} random requests, {answered} with valid bills; ms for one answer")
    for heading in ("", "median", "95 %", "slowest"):
        table.add_column(heading, justify="right" if heading else "left")
    engine = [one.engine_ms for one in timed]
    plain, whole = (
        [one.engine_ms + wording for one, wording in zip(timed, times, strict=True)] for times in (plain_ms, wording_ms)
    )
    rows = {"engine": engine, "engine and wording, no engineering": plain, "engine, engineering and wording": whole}
    for name, times in rows.items():
        table.add_row(name, *(f"{figure:.2f}" for figure in _figures(times)))
    grown = statistics.median(whole) / statistics.median(plain)
    table.caption = f"At the median engineering makes an answer take {grown:.2f} times as long."
    return table


def _order_table(edition: Edition, sample: Sequence[Timed], rng: Random) -> Table:
    """Orders for a car without a layout, with the wishes of a request that has bills; beside that request's answer."""
    plain, checks = [], []
    for one in sample:
        took, answer = _milliseconds(partial(edition.engine.answer, one.asked.resolved))
        asked = OrderRequest.model_validate(_order(one, answer, rng))
        plain.append(took)
        checks.append(_milliseconds(partial(check_order, edition, asked))[0])
    return _beside_plain(
        f"{len(sample)} orders, checked against every layout; ms", plain, "order check, worded", checks
    )


def _order(one: Timed, answer: Answer, rng: Random) -> dict[str, Any]:
    """What a listed bill takes, two times of three with a unit too few or too many."""
    units = needed_units(rng.choice(answer.bills))
    if rng.randrange(3):
        units[rng.choice(list(units))] += rng.choice([-1, 1])
    lines = [{"sku": sku, "qty": qty} for sku, qty in units.items() if qty]
    wishes = {name: value for name, value in one.asked.plain.items() if name not in ("layout", "order_by")}
    return wishes | {"lines": lines}


def _advice_table(edition: Edition, catalog: Any, rng: Random, number: int) -> Table:
    """Conflicts and repairs of requests of twelve wishes without a bill, beside the same car and layout unwished."""
    plain, advice = [], []
    while len(advice) < number:
        one = _asked(edition, random_request(rng, catalog, 80, TOO_MUCH))
        wishes = Wishes(one.resolved, edition.revision)
        answer = edition.engine.answer(one.resolved)
        if len(wishes.values) != WISHES_AT_ONCE or answer.total_valid:
            continue
        advice.append(_milliseconds(partial(getattr, answer, "why_not"))[0])
        plain.append(_milliseconds(partial(edition.engine.answer, wishes.request_with(())))[0])
    return _beside_plain(
        f"{number} requests of {WISHES_AT_ONCE} wishes without a bill; ms", plain, "conflicts and repairs", advice
    )


def _beside_plain(title: str, plain: Sequence[float], name: str, times: Sequence[float]) -> Table:
    """What took these times, beside plain queries."""
    table = Table(title=title)
    for heading in ("", "median", "95 %", "slowest", "x plain"):
        table.add_column(heading, justify="right" if heading else "left", no_wrap=True)
    for row, taken in (("plain query", plain), (name, times)):
        ratio = statistics.median(taken) / statistics.median(plain)
        table.add_row(row, *(f"{figure:.2f}" for figure in _figures(taken)), f"{ratio:.1f}")
    return table


def _figures(times: Sequence[float]) -> tuple[float, float, float]:
    return statistics.median(times), statistics.quantiles(times, n=20)[-1], max(times)


def _rival_table(edition: Edition, sample: Sequence[Timed], console: Console) -> Table:
    """The same requests to every solver; each must give the engine's answer."""
    poser = Poser(edition.revision)
    times: dict[str, list[float]] = {name: [] for name in SOLVERS}
    late = dict.fromkeys(SOLVERS, 0)
    for one in track(sample, "asking the others", console=console, transient=True):
        own = _as_answered(edition.engine.answer(one.asked.resolved))
        for name, solve in SOLVERS.items():
            took, other = _milliseconds(partial(poser.answer, one.asked.resolved, solve))
            times[name].append(took if other is not None else max(took, PATIENCE_S * 1000))
            late[name] += other is None
            if other not in (None, own):
                raise SystemExit(f"{name} differs from the engine for {one.asked.plain}: {other}, {own}")
    return _ratios([one.engine_ms for one in sample], times, late)


def _by_lists(posed: Puzzle, note: Note) -> Found | None:
    """python-constraint2 lists all solutions and cannot be stopped: what has too many counts as late, untried."""
    bills = sum(prod(len(options) for options in board.spots.values()) for board in posed.boards)
    return csp.solve(posed, note) if bills <= MOST_FOR_LISTS else None


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


def _ratios(engine: list[float], times: dict[str, list[float]], late: dict[str, int]) -> Table:
    table = Table(title=f"{len(engine)} of them that have bills, to the same answer; ms")
    for heading in ("", "median", "95 %", "slowest", "x engine", f"> {PATIENCE_S:g} s"):
        table.add_column(heading, justify="right" if heading else "left", no_wrap=True)
    usual = statistics.median(engine)
    for name, taken in {"engine": engine, **times}.items():
        ratio = f"{statistics.median(taken) / usual:.1f}"
        table.add_row(name, *(f"{figure:.2f}" for figure in _figures(taken)), ratio, str(late.get(name, "")))
    best = min(statistics.median(times[name]) for name in ("CP-SAT", "clingo"))
    table.caption = f"All agree. At the median the better of CP-SAT and clingo takes {best / usual:.1f} times as long."
    return table


if __name__ == "__main__":
    main()
