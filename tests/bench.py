"""How long an answer takes: `python -m tests.bench`, beside general solvers on the same questions.

The engine answers every request; the other solvers a sample of them, ungrouped. These get the chains that may serve
each spot, and which feeds flow enough together, for nothing; building their model counts, finding the chains does not.
All must agree on how many bills there are and what the cheapest costs.
"""

import argparse
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random
from statistics import median, quantiles
from time import perf_counter
from typing import Any

from rich.console import Console
from rich.table import Table

from service.documents.request import BillRequest
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, Puzzle, puzzle
from tests.support.engine import edition
from tests.support.random_requests import random_request

Json = dict[str, Any]

SEED_DATA = Path(__file__).parent.parent / "seed_data"
SOLVERS: dict[str, Callable[[Puzzle], Found | None]] = {
    "OR-Tools CP-SAT": cp_sat.solve,
    "clingo": asp.solve,
    "python-constraint2": csp.solve,
}


def main() -> None:
    arguments = _arguments()
    catalog = folder(SEED_DATA)
    rng = Random(arguments.seed)
    requests = [random_request(rng, catalog, wish_percent=12) for _ in range(arguments.requests)]
    ready = edition(catalog)
    timed(ready, requests[0])  # compiles the catalog, which is done once a revision
    console = Console()
    every = [timed(ready, request)[0] for request in requests]
    sample = [
        request | {"group_variants": False} for request in rng.sample(requests, min(arguments.sample, len(requests)))
    ]
    compared = compare(ready, catalog, sample)
    console.print(engine_table(every))
    console.print(solver_table(compared))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--requests", type=int, default=1000, help="random requests for the engine")
    parser.add_argument("--sample", type=int, default=40, help="how many of them the other solvers answer too")
    parser.add_argument("--seed", type=int, default=1, help="the same seed asks the same")
    return parser.parse_args()


def folder(path: Path) -> Json:
    """A catalog folder, one JSON file a section, as one document."""
    return {file.stem: json.loads(file.read_text(encoding="utf-8")) for file in sorted(path.glob("*.json"))}


def timed(ready: Edition, request: Json) -> tuple[float, Found]:
    """Seconds that the engine takes for an answer, and what it finds."""
    resolved = resolve_request(BillRequest.model_validate(request), ready.revision)
    start = perf_counter()
    answer = ready.engine.answer(resolved)
    seconds = perf_counter() - start
    return seconds, Found(answer.total_valid, answer.bills[0].price if answer.bills else None)


def compare(ready: Edition, catalog: Json, sample: Sequence[Json]) -> dict[str, list[float]]:
    """Seconds of every solver for every request of the sample. Raises where two of them disagree."""
    seconds: dict[str, list[float]] = {name: [] for name in ("Portwright", *SOLVERS)}
    for request in sample:
        by_price = request | {"order_by": "price"}
        expected = timed(ready, by_price)[1]
        seconds["Portwright"].append(timed(ready, request)[0])
        choices = puzzle(catalog, request)
        for name, solve in SOLVERS.items():
            start = perf_counter()
            found = solve(choices)
            seconds[name].append(perf_counter() - start)
            if found is not None and found != expected:
                raise SystemExit(f"{name} finds {found}, the engine {expected}, for {json.dumps(request)}")
    return seconds


def engine_table(every: Sequence[float]) -> Table:
    """Median, 95 % and slowest of all answers."""
    table = Table(title=f"Portwright, {len(every)} random requests, one answer each")
    for heading in ("median", "95 % within", "slowest"):
        table.add_column(heading, justify="right")
    table.add_row(_ms(median(every)), _ms(percentile_95(every)), _ms(max(every)))
    return table


def solver_table(compared: dict[str, list[float]]) -> Table:
    """All solvers on the sample, and how many times as long as the engine they take at the median."""
    size = len(compared["Portwright"])
    table = Table(title=f"{size} of these, ungrouped: same number of bills, same cheapest price, by")
    table.add_column("solver")
    for heading in ("median", "95 % within", "slowest", "times ours, at the median"):
        table.add_column(heading, justify="right")
    ours = median(compared["Portwright"])
    for name, seconds in compared.items():
        ratio = "1" if name == "Portwright" else f"{median(seconds) / ours:.0f}"
        table.add_row(name, _ms(median(seconds)), _ms(percentile_95(seconds)), _ms(max(seconds)), ratio)
    return table


def percentile_95(seconds: Sequence[float]) -> float:
    return quantiles(seconds, n=20, method="inclusive")[-1] if len(seconds) > 1 else seconds[0]


def _ms(seconds: float) -> str:
    return f"{seconds * 1000:.2f} ms"


if __name__ == "__main__":
    main()
