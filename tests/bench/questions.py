"""What is asked: random requests on the catalog of `seed_data/`, orders, and requests of many wishes without a bill."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from random import Random
from typing import Any

from pydantic_core import to_jsonable_python

from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.domain.answer import Answer
from service.domain.request import Request
from service.domain.wishes import Wishes
from service.explain.order_changes import needed_units
from service.usecases.library import Edition, open_edition
from service.usecases.resolve_request import resolve_request
from tests.support.random_requests import TOO_MUCH, random_request

SEED_CATALOG = Path(__file__).parents[2] / "seed_data"
WISHES_AT_ONCE = 12
_WISH_PERCENT = 12
_MANY_WISHES_PERCENT = 80
Json = dict[str, Any]


@dataclass(frozen=True)
class Asked:
    """A request as plain JSON and as the engine takes it."""

    plain: Json
    resolved: Request


class Questions:
    """Random questions on the seed, the same for the same number."""

    def __init__(self, seed: int) -> None:
        self.rng = Random(seed)
        self.edition: Edition = open_edition(1, load_catalog(SEED_CATALOG))
        self._catalog: Json = to_jsonable_python(self.edition.document, exclude_none=True)

    def plain(self) -> Iterator[Asked]:
        """Requests with one or two wishes on the average."""
        while True:
            yield self._asked(random_request(self.rng, self._catalog, _WISH_PERCENT))

    def different(self) -> Iterator[Json]:
        """The same, none of them twice."""
        seen: set[str] = set()
        while True:
            request = random_request(self.rng, self._catalog, _WISH_PERCENT)
            if (text := repr(sorted(request.items()))) not in seen:
                seen.add(text)
                yield request

    def everyday(self) -> Iterator[Json]:
        """What is asked all day, none of it twice: a car, a layout that it has bills in, some power and a fuel."""
        catalog, engine = self._catalog, self.edition.engine
        pairs = [
            (car, layout["id"])
            for car in catalog["chassis"]
            for layout in catalog["layouts"]
            if engine.answer(self._asked({"chassis": car["id"], "layout": layout["id"]}).resolved).total_valid
        ]
        fuels = [fuel["id"] for fuel in catalog["fuels"]]
        for number in count(1):
            car, layout = self.rng.choice(pairs)
            power_kw = car["stock_kw"] * self.rng.uniform(0.6, 1.2) + number / 1e6
            yield {"chassis": car["id"], "layout": layout, "power_kw": power_kw, "fuel": self.rng.choice(fuels)}

    def hopeless(self) -> Iterator[tuple[Asked, Answer]]:
        """Requests of twelve wishes that have no bill."""
        while True:
            one = self._asked(random_request(self.rng, self._catalog, _MANY_WISHES_PERCENT, TOO_MUCH))
            answer = self.edition.engine.answer(one.resolved)
            if not answer.total_valid and len(Wishes(one.resolved, self.edition.revision).values) == WISHES_AT_ONCE:
                yield one, answer

    def order(self, one: Asked, answer: Answer) -> Json:
        """What a listed bill takes, for any layout; two times of three with a unit too few or too many."""
        units = needed_units(self.rng.choice(answer.bills))
        if self.rng.randrange(3):
            units[self.rng.choice(list(units))] += self.rng.choice([-1, 1])
        lines = [{"sku": sku, "qty": qty} for sku, qty in units.items() if qty]
        wishes = {name: value for name, value in one.plain.items() if name not in ("layout", "order_by")}
        return wishes | {"lines": lines}

    def _asked(self, plain: Json) -> Asked:
        return Asked(plain, resolve_request(BillRequest.model_validate(plain), self.edition.revision))
