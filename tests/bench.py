"""How long an answer takes, beside general solvers: `python -m tests.bench`.

One thousand random requests on the catalog of `seed_data/` go to the engine. A sample of them, variants not grouped,
also goes to OR-Tools CP-SAT, clingo and python-constraint2, each of which has to find the number of valid bills and the
cheapest price. They get the chains of every spot and the flow of every path for nothing; building their model is timed,
as is everything that the engine does. Times are of this machine and this run: compare the ratios.
"""

import argparse
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from time import perf_counter
from typing import Any

from pydantic_core import to_jsonable_python
from rich.console import Console
from rich.progress import track
from rich.table import Table

from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.domain.request import Request
from service.explain.report import report_answer
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition, open_edition
from service.usecases.resolve_request import resolve_request
from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, Puzzle, puzzle
from tests.support.random_requests import random_request

SEED_CATALOG = Path(__file__).parents[1] / "seed_data"
FEWEST_SECONDS = 5.0
"""A solver that has not finished by then is stopped, and this is its time."""


@dataclass(frozen=True)
class Asked:
    """A request as plain JSON and as the engine takes it."""

    plain: dict[str, Any]
    resolved: Request


def main() -> None:
    given = _arguments()
    console = Console()
    edition = open_edition(1, load_catalog(SEED_CATALOG))
    catalog = to_jsonable_python(edition.catalog, exclude_none=True)
    rng = Random(given.seed)
    asked = [_asked(edition, random_request(rng, catalog)) for _ in range(given.requests)]
    console.print(_engine_table(edition, asked))
    console.print(_solver_table(edition, catalog, rng.sample(asked, min(given.sample, len(asked))), console))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="Time answers beside general solvers.")
    parser.add_argument("--requests", type=int, default=1000, help="random requests to the engine")
    parser.add_argument("--sample", type=int, default=60, help="how many of them the other solvers get as well")
    parser.add_argument("--seed", type=int, default=20261125)
    return parser.parse_args()


def _asked(edition: Edition, plain: dict[str, Any]) -> Asked:
    return Asked(plain, resolve_request(BillRequest.model_validate(plain), edition.revision))


def _milliseconds(call: Callable[[], Any]) -> tuple[float, Any]:
    start = perf_counter()
    result = call()
    return (perf_counter() - start) * 1000, result


def _engine_table(edition: Edition, asked: Sequence[Asked]) -> Table:
    """Every request once, in a fresh engine: what one answer works out serves the next, as in the service."""
    searched, worded, answered = [], [], 0
    for one in asked:
        took, answer = _milliseconds(lambda one=one: edition.engine.answer(one.resolved))
        key_of = key_maker(edition.number, BillRequest.model_validate(one.plain))
        searched.append(took)
        worded.append(took + _milliseconds(lambda: report_answer(answer, edition.revision, key_of))[0])
        answered += answer.total_valid > 0
    table = Table(title=f"{len(asked)} random requests, {answered} with valid bills; ms for one answer")
    for heading in ("", "median", "95 %", "slowest"):
        table.add_column(heading, justify="left" if not heading else "right")
    for name, times in (("engine", searched), ("engine and wording", worded)):
        table.add_row(name, *(f"{figure:.2f}" for figure in _figures(times)))
    return table


def _figures(times: Sequence[float]) -> tuple[float, float, float]:
    return statistics.median(times), statistics.quantiles(times, n=20)[-1], max(times)


def _solver_table(edition: Edition, catalog: dict[str, Any], sample: Sequence[Asked], console: Console) -> Table:
    """The same question to every solver: how many bills, and the cheapest price."""
    solvers: dict[str, Callable[[Puzzle], Found | None]] = {
        "CP-SAT": lambda given: cp_sat.solve(given, FEWEST_SECONDS),
        "clingo": lambda given: asp.solve(given, FEWEST_SECONDS),
        "python-constraint2": csp.solve,
    }
    times: dict[str, list[float]] = {"engine": [], **{name: [] for name in solvers}}
    late = dict.fromkeys(solvers, 0)
    for one in track(sample, "asking the others", console=console, transient=True):
        plain = one.plain | {"group_variants": False, "limit": 1, "order_by": "price"}
        took, found = _milliseconds(lambda plain=plain: _found(edition, plain))
        times["engine"].append(took)
        posed = puzzle(catalog, plain)
        for name, solve in solvers.items():
            if name == "python-constraint2" and found.count > MOST_FOR_LISTS:
                late[name] += 1
                times[name].append(FEWEST_SECONDS * 1000)
                continue
            took, other = _milliseconds(lambda solve=solve, posed=posed: solve(posed))
            times[name].append(took)
            if other is None:
                late[name] += 1
            elif other != found:
                raise SystemExit(f"{name} found {other}, the engine {found}, for {plain}")
    return _ratios(times, late, len(sample))


MOST_FOR_LISTS = 300_000
"""python-constraint2 lists all solutions and cannot be stopped; what has more counts as late without being tried."""


def _found(edition: Edition, plain: dict[str, Any]) -> Found:
    answer = edition.engine.answer(_asked(edition, plain).resolved)
    return Found(answer.total_valid, answer.bills[0].price if answer.bills else None)


def _ratios(times: dict[str, list[float]], late: dict[str, int], count: int) -> Table:
    table = Table(title=f"The same {count} requests, ungrouped: number of bills and cheapest price; ms, model included")
    for heading in ("", "median", "95 %", "slowest", "median / engine's", f"over {FEWEST_SECONDS:g} s"):
        table.add_column(heading, justify="left" if not heading else "right")
    engine = statistics.median(times["engine"])
    for name, taken in times.items():
        ratio = f"{statistics.median(taken) / engine:.0f} x"
        table.add_row(name, *(f"{figure:.2f}" for figure in _figures(taken)), ratio, str(late.get(name, 0)))
    best = min(statistics.median(times[name]) for name in ("CP-SAT", "clingo"))
    table.caption = f"All agree. At the median the engine is {best / engine:.0f} times as fast as the best of CP-SAT and clingo."
    return table


if __name__ == "__main__":
    main()
