"""What is stored comes back equal: values, orders, and the difference between empty and missing."""

from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from tests.storage.databases import empty_database
from tests.storage.rich_catalog import fields_never_given, rich_catalog

NOW = datetime(2026, 3, 1, tzinfo=UTC)
Document = dict[str, Any]


@pytest.fixture(scope="module")
def shared_store(kind: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[RevisionStore]:
    """A store for all tests of this module: revisions do not touch each other."""
    with empty_database(kind, tmp_path_factory.mktemp("shared")) as url, closing(open_database(url)) as database:
        migrate(database)
        yield RevisionStore(database)


def _set(*path: str | int, to: Any) -> Callable[[Document], None]:
    """Return a change: the value at the path becomes this one."""

    def change(document: Document) -> None:
        place: Any = document
        for step in path[:-1]:
            place = place[step]
        place[path[-1]] = to

    return change


def _drop(*path: str | int) -> Callable[[Document], None]:
    """Return a change: the value at the path is gone."""

    def change(document: Document) -> None:
        place: Any = document
        for step in path[:-1]:
            place = place[step]
        del place[path[-1]]

    return change


def _without(section: str) -> Callable[[Document], None]:
    """Return a change: the section is empty, and the cases that ask about it are gone."""

    def change(document: Document) -> None:
        document[section] = []
        del document["contract_cases"]

    return change


LONG_TEXT = "ü" * 2000
REACH = {"min_mm": 0.0, "max_mm": 1.0}

CHANGES: dict[str, Callable[[Document], None]] = {
    "as it is": lambda document: None,
    "patterns missing": _drop("items", 1, "patterns"),
    "patterns empty": _set("items", 1, "patterns", to=[]),
    "patterns on a part": _set("items", 2, "patterns", to=["z", "a", "z"]),
    "supplied missing": _drop("items", 1, "supplied"),
    "supplied empty": _set("items", 1, "supplied", to=[]),
    "supplied just so": _set("items", 1, "supplied", to=[{"sku": "SCREW-6", "qty": 1000}]),
    "wetted order": _set("items", 2, "wetted", to=["fluorocarbon", "aluminium"]),
    "wetted twice": _set("items", 2, "wetted", to=["aluminium", "aluminium"]),
    "nothing told of the regulator": _set("chassis", 0, "regulator", to={}),
    "the usual duty": _drop("chassis", 0, "injectors", "max_duty"),
    "nothing asked of the regulator": _set("contract_cases", 0, "request", "regulator", to={}),
    "the usual duty asked": _drop("contract_cases", 0, "request", "injectors", "max_duty"),
    "ordered by power": _set("contract_cases", 0, "request", "order_by", to="power"),
    "flow missing": _drop("items", 1, "flow"),
    "consumables empty": _set("joints", 0, "consumables", to=[]),
    "bare flange joint": lambda document: [document["joints"][-1].pop(name) for name in ("min_nm", "max_nm")],
    "ratings order": _set("materials", 0, "ratings", to={"petrol": "D", "e85": "C"}),
    "ratings order turned": _set("materials", 0, "ratings", to={"e85": "C", "petrol": "D"}),
    "hookup spots missing": _drop("chassis", 0, "hookups", 0, "spots"),
    "hookup spots empty": _set("chassis", 0, "hookups", 0, "spots", to={}),
    "hookup spots order": _set("chassis", 0, "hookups", 0, "spots", to={"right": REACH, "centre": REACH}),
    "no hookups": _set("chassis", 0, "hookups", to=[]),
    "clearance without limits": _set("chassis", 0, "clearances", to=[{"spot": "top"}, {"spot": "top"}]),
    "optional false": _set("chassis", 0, "mounting", 1, "optional", to=False),
    "optional missing": _drop("chassis", 0, "mounting", 1, "optional"),
    "via empty": _set("layouts", -1, "placements", 0, "left", "via", to=[]),
    "via order": _set("layouts", -1, "placements", 0, "left", "via", to=["regulator", "gauge"]),
    "no placements": _set("layouts", 0, "placements", to=[]),
    "empty placements": _set("layouts", 0, "placements", to=[{}, {}]),
    "no hookup in a duty": _drop("layouts", -1, "placements", 0, "left", "hookup"),
    "no addons": _without("addons"),
    "no layouts": _without("layouts"),
    "no cases": _drop("contract_cases"),
    "null for missing": _set("items", 2, "family", to=None),
    "whole number for a length": _set("items", 2, "standout_mm", to=8),
    "least float": _set("items", 2, "mass_g", to=5e-324),
    "long float": _set("items", 2, "mass_g", to=123456.78901234567),
    "minus zero": _set("items", 2, "mass_g", to=-0.0),
    "great text": _set("joints", 0, "cautions", to=[LONG_TEXT, ""]),
    "last id": _set("items", 0, "sku", to="z" * 120),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_is_stored_comes_back(shared_store: RevisionStore, change: Callable[[Document], object]) -> None:
    """The catalog that is loaded equals the one that was added, in JSON too, where orders show."""
    document = rich_catalog()
    change(document)
    catalog = Catalog.model_validate(document)
    loaded = shared_store.load(shared_store.add(catalog, created_at=NOW)).whole()
    assert loaded == catalog
    assert _text(loaded) == _text(catalog)


def _text(catalog: Catalog) -> str:
    """Return the catalog as JSON; SQLite keeps no sign of a zero."""
    return catalog.model_dump_json().replace(":-0.0", ":0.0")


def test_every_field_stands_in_the_rich_catalog() -> None:
    """No field of the format escapes the round trip."""
    assert fields_never_given(Catalog.model_validate(rich_catalog())) == set()


def test_the_seed_catalog_comes_back(shared_store: RevisionStore) -> None:
    """The catalog that is shipped is stored and loaded whole."""
    catalog = load_catalog(Path(__file__).parents[2] / "seed_data")
    assert shared_store.load(shared_store.add(catalog, created_at=NOW)) == catalog
