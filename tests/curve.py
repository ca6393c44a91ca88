"""How the time of each kind of question grows with like parts: `python -m tests.curve`.

The standing cases of `seed_data/` are asked on the seed and on catalogs with every part 2, 4, 10, 20 and 40 times, each
question on an edition that has answered nothing before of its kind. A question past the budget of work ends in a
problem, and counts as such. Times are of the processor, on this machine: compare the ratios.
"""

import argparse
import gc
import statistics
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from time import process_time
from typing import Any

from pydantic_core import to_jsonable_python
from rich.console import Console
from rich.table import Table

from service.documents.catalog import Catalog
from service.documents.explain import ExplainRequest
from service.documents.folder import load_catalog
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.work import Meter, TooCostlyError, metered
from service.settings import read_settings
from service.usecases.browse import chassis_layouts
from service.usecases.check_order import check_order
from service.usecases.drop_curves import drop_curves
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition, open_edition
from service.usecases.long_lived import settle
from service.usecases.part_uses import uses_of
from tests.support.twins import with_twins

SEED_CATALOG = Path(__file__).parents[1] / "seed_data"
HEADINGS = (
    "",
    "asked",
    "too costly",
    "the slowest",
    "first, median",
    "worst",
    "again, median",
    "worst",
    "most steps",
    "x seed",
)
Json = dict[str, Any]


@dataclass(frozen=True)
class Timed:
    """One question: its name, how long it took the first time and again, its steps, and whether it was answered."""

    name: str
    first_ms: float
    again_ms: float
    steps: int
    answered: bool


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.curve", description="Time questions on catalogs of twins.")
    parser.add_argument("--twins", type=int, nargs="*", default=[1, 2, 4, 10, 20, 40])
    parser.add_argument("--kinds", nargs="*", default=list(KINDS), choices=list(KINDS))
    parser.add_argument("--verbose", action="store_true", help="print each question")
    given = parser.parse_args()
    console = Console(width=150)
    seed = to_jsonable_python(load_catalog(SEED_CATALOG), exclude_none=True)
    cases = [case["request"] for case in seed["contract_cases"]]
    base: dict[str, list[Timed]] = {}
    for times in given.twins:
        catalog = Catalog.model_validate(with_twins(seed, times))
        table = Table(title=f"every part {times} times: {len(catalog.items)} parts; ms of the processor")
        for heading in HEADINGS:
            table.add_column(heading, justify="right" if heading else "left")
        for kind in given.kinds:
            edition = open_edition(1, catalog)
            gc.collect()
            settle([edition.number])  # as the service does, so that no question pays for looking through catalogs
            timed = [_timed(name, call) for name, call in KINDS[kind](edition, cases)]
            base.setdefault(kind, timed)
            if given.verbose:
                for one in sorted(timed, key=lambda one: -one.first_ms)[:8]:
                    print(kind, one, file=sys.stderr)
            table.add_row(kind, *_row(timed, base[kind]))
        console.print(table)


def _timed(name: str, call: Callable[[], object]) -> Timed:
    meter = Meter(read_settings().work_limit)
    took, answered = [], True
    for _ in range(2):
        meter = Meter(meter.limit)
        start = process_time()
        try:
            with metered(meter):
                call()
        except TooCostlyError:
            answered = False
        took.append((process_time() - start) * 1000)
    return Timed(name, *took, meter.spent, answered)


def _row(timed: Sequence[Timed], base: Sequence[Timed]) -> Iterator[str]:
    answered = [one for one in timed if one.answered]
    yield str(len(timed))
    yield str(len(timed) - len(answered))
    yield f"{max([one.first_ms for one in timed if not one.answered], default=0):.1f}"
    for times in ([one.first_ms for one in answered], [one.again_ms for one in answered]):
        yield f"{statistics.median(times or [0]):.1f}"
        yield f"{max(times, default=0):.1f}"
    yield str(max(one.steps for one in timed))
    ratios = [one.first_ms / own.first_ms for one, own in zip(timed, base, strict=True) if one.answered]
    yield f"{statistics.median(ratios):.1f}, at most {max(ratios):.1f}" if ratios else ""


Questions = Iterator[tuple[str, Callable[[], object]]]


def _bills(edition: Edition, cases: Sequence[Json], **wishes: Any) -> Questions:
    for case in cases:
        asked = BillRequest.model_validate({**case, **wishes})
        yield str({**case, **wishes}), partial(answer_in, edition, asked)


def _without_bill(edition: Edition, cases: Sequence[Json]) -> Questions:
    return _bills(edition, cases, max_price=100)


def _orders(edition: Edition, cases: Sequence[Json], lines: Sequence[Json] | None = None) -> Questions:
    """An order of the first rail for each case's car, or of the given lines, for any layout and with its wishes."""
    for case in cases:
        wishes = {name: value for name, value in case.items() if name not in ("layout", "limit", "order_by")}
        rails = edition.revision.shapes.get(edition.revision.chassis[case["chassis"]].pattern, ())
        ordered = lines or [{"sku": shape.rails[0].sku, "qty": 1} for shape in rails[:1]]
        asked = OrderRequest.model_validate({**wishes, "lines": ordered})
        yield str({**wishes, "lines": ordered}), partial(check_order, edition, asked)


def _large_orders(edition: Edition, cases: Sequence[Json]) -> Questions:
    """One of each of forty parts, which several spots may take."""
    skus = [sku for sku, item in edition.items.items() if item.kind in ("plug", "fitting", "line", "rail")][:40]
    return _orders(edition, cases, [{"sku": sku, "qty": 1} for sku in skus])


def _explanations(edition: Edition, cases: Sequence[Json]) -> Questions:
    fittings = [sku for sku, item in edition.items.items() if item.kind in ("fitting", "plug")]
    for place, case in enumerate(cases):
        sku = fittings[place % len(fittings)]
        asked = ExplainRequest.model_validate({"request": case, "sku": sku})
        yield f"{sku} {case}", partial(explain_in, edition, asked)


def _layouts(edition: Edition, cases: Sequence[Json]) -> Questions:
    for car in dict.fromkeys(case["chassis"] for case in cases):
        yield car, partial(chassis_layouts, edition, car)


def _curves(edition: Edition, cases: Sequence[Json]) -> Questions:
    for car in dict.fromkeys(case["chassis"] for case in cases):
        yield car, partial(drop_curves, edition, car)


def _parts_that_fit(edition: Edition, cases: Sequence[Json]) -> Questions:
    for car in dict.fromkeys(case["chassis"] for case in cases):
        yield car, partial(edition.skus_fitting, edition.revision.chassis[car])


def _uses(edition: Edition, cases: Sequence[Json]) -> Questions:
    plugs = [sku for sku, item in edition.items.items() if item.kind == "plug"]
    for place in range(len(cases)):
        sku = plugs[place % len(plugs)]
        yield sku, partial(uses_of, edition, sku, 0, 50)


KINDS: dict[str, Callable[[Edition, Sequence[Json]], Questions]] = {
    "bills": _bills,
    "bills, ungrouped": partial(_bills, group_variants=False, limit=100),
    "bills by drop": partial(_bills, order_by="drop"),
    "bills by margin": partial(_bills, order_by="margin"),
    "bills in stock": partial(_bills, in_stock_only=True),
    "bills under a price": partial(_bills, max_price=60_000),
    "no bill": _without_bill,
    "orders of a rail": _orders,
    "orders of forty parts": _large_orders,
    "explanations": _explanations,
    "uses of a part": _uses,
    "layouts of a car": _layouts,
    "drop curves": _curves,
    "parts that fit": _parts_that_fit,
}


if __name__ == "__main__":
    main()
