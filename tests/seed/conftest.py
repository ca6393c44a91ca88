"""The catalog of `seed_data/`, read and compiled once, and a way to ask it."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from service.assessment import Assessor
from service.documents.answer import Answer
from service.documents.catalog import Catalog, Item
from service.documents.compile import compile_revision
from service.documents.folder import load_catalog
from service.domain.request import Request
from service.explain.report import report_answer
from service.solver.engine import Engine

SEED_FOLDER = Path(__file__).parents[2] / "seed_data"

Ask = Callable[..., Answer]


@pytest.fixture(scope="session")
def seed() -> Catalog:
    """The checked catalog; a fault in it fails every test that asks for it."""
    return load_catalog(SEED_FOLDER)


@pytest.fixture(scope="session")
def items(seed: Catalog) -> dict[str, Item]:
    """The catalog's items by SKU."""
    return {item.sku: item for item in seed.items}


@pytest.fixture(scope="session")
def ask(seed: Catalog) -> Ask:
    """Ask the catalog for bills: `ask(chassis, layout, fuel=.., addons=[..], gauge=.., ...)`."""
    revision = compile_revision(seed, number=1)
    engine, assessor = Engine(revision), Assessor(revision)

    def answer(chassis: str, layout: str, *, fuel: str = "petrol", **wishes: Any) -> Answer:
        car = revision.chassis[chassis]
        addons = tuple(revision.addons[addon] for addon in wishes.pop("addons", ()))
        exclude = frozenset(wishes.pop("exclude", ()))
        asked = Request(car, revision.layouts[layout], revision.fuels[fuel], wishes.pop("power_kw", car.stock_kw))
        request = replace(asked, addons=addons, exclude=exclude, **wishes)
        assessed = partial(assessor.assess, request=request)
        return report_answer(engine.answer(request), revision, lambda bill: bill.rail.sku, assessed)

    return answer
