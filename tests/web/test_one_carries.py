"""One number wherever a person looks: API, layouts, pages, sheet, curves and command say what a set-up carries."""

import re
from collections.abc import Iterator
from io import StringIO
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from fastapi import FastAPI
from rich.console import Console

from service.cli.answer_table import answer_table
from service.documents.answer import Answer
from service.documents.question_parameters import query_of
from service.domain import units
from service.web.app import create_app
from tests.cli.commands import run
from tests.explain.sheets import seed
from tests.web.calls import ask, get
from tests.web.conftest import library_in
from tests.web.test_sheet_page import Page

Json = dict[str, Any]

CARRIES = re.compile(r"(?:[Cc]arries|Tight:|Too little:) ([\d.]+ kW \([\d.]+ hp\))")
PLAIN = [
    *(("fennic-16", layout) for layout in ("factory-line", "own-hose-6-centre", "return-6", "return-6-regulator")),
    *(("brae-20", layout) for layout in ("own-hose-8-side", "return-8", "return-8-regulator", "twin-feed-8-return")),
    *(("pellam-33", layout) for layout in ("factory-line", "large-bore-centre", "large-bore-return", "return-8")),
    *(("sedge-12", layout) for layout in ("factory-line", "own-hose-6-side", "return-6")),
    *(("morrow-46", layout) for layout in ("pair-return-8-link", "pair-own-hose-8-each", "pair-large-bore-link")),
]
WISHED: list[tuple[str, str, Json]] = [
    ("fennic-16", "own-hose-6-centre", {"power_kw": 200, "fuel": "e85"}),
    ("fennic-16", "return-6-regulator", {"addons": ["turbo-tor"], "power_kw": 150}),
    ("fennic-16", "factory-line", {"injectors": {"static_l_h": 60, "rated_kpa": 300}}),
    ("brae-20", "return-8", {"addons": ["turbo-tor"]}),
    ("brae-20", "own-hose-8-centre", {"addons": ["blower-tor"], "regulator": {"follows": "manifold"}}),
    ("tarn-20", "own-hose-6-centre", {"pump": [{"kpa": 0, "l_h": 90}, {"kpa": 600, "l_h": 30}]}),
    ("hollin-25", "return-8-regulator", {"regulator": {"set_kpa": 400}, "order_by": "power"}),
    ("pellam-30", "return-8", {"pump_v": {"rated": 12, "fed": 9}, "order_by": "pieces"}),
    ("quillon-30", "own-hose-6-side", {"boost_kpa": 30, "gauge": "any"}),
    ("morrow-40", "pair-return-8-link", {"addons": ["turbo-scaur"], "power_kw": 300}),
    ("morrow-40", "pair-own-hose-8-each", {"fuel": "e85", "order_by": "power", "gauge": "1.top"}),
    ("sedge-10", "own-hose-6-side", {"power_kw": 90, "group_variants": False}),
]
SET_UPS: list[tuple[str, str, Json]] = [*((car, layout, {}) for car, layout in PLAIN), *WISHED]


@pytest.fixture(scope="module", name="file")
def _file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(tmp_path_factory.mktemp("carries")) / "catalog.sqlite3"


@pytest.fixture(scope="module", name="app")
def _app(file: Path) -> Iterator[FastAPI]:
    """The application over the catalog that comes with it."""
    document = seed().catalog.whole().model_dump(mode="json", exclude_unset=True)
    with library_in(file, document) as library:
        yield create_app(library)


def _json(app: FastAPI, path: str) -> Json:
    response = get(app, path)
    assert response.status_code == 200, response.text
    return dict(response.json())


def _seen(app: FastAPI, path: str) -> str:
    response = get(app, path, headers={"Accept": "text/html"})
    if response.status_code == 303:
        response = get(app, response.headers["Location"], headers={"Accept": "text/html"})
    assert response.status_code == 200, response.text
    return " ".join(Page(response.text).text.split())


def _printed(answer: Json) -> str:
    file = StringIO()
    Console(file=file, width=400, markup=False, highlight=False).print(answer_table(Answer(**answer)))
    return " ".join(file.getvalue().split())


def _carried(text: str) -> set[str]:
    """Every power that a text says a set-up carries."""
    return set(CARRIES.findall(text))


def test_there_are_thirty() -> None:
    """As many as are asked for, with wishes and without."""
    assert len(SET_UPS) >= 30


@pytest.mark.parametrize(
    ("car", "layout", "wishes"), SET_UPS, ids=lambda value: value if isinstance(value, str) else ""
)
def test_everywhere_the_same(app: FastAPI, car: str, layout: str, wishes: Json) -> None:
    """Whatever shows what the best bill carries shows this bill's own number."""
    question = query_of({"chassis": car, "layout": layout, **wishes})
    asked = urlencode(question)
    answer = _json(app, f"/v1/bills?{asked}&limit=1&detail=full")
    [bill] = answer["bills"]
    power = bill["power"]
    own = units.power(power["carries_kw"])
    assert _json(app, f"/v1/bills/{bill['key']}")["bill"]["power"] == power
    others = urlencode({name: value for name, value in question.items() if name not in ("chassis", "layout")})
    layouts = {x["layout"]: x for x in _json(app, f"/v1/chassis/{car}/layouts?{others}")["layouts"]}
    assert layouts[layout]["power"] == power
    sheet = _json(app, f"/v1/bills/{bill['key']}/sheet")
    assert sheet["power"] == power
    assert _carried(_seen(app, f"/v1/bills/{bill['key']}/sheet")) == {own}
    assert _carried(_seen(app, f"/bills/{bill['key']}")) == {own}
    assert _carried(get(app, f"/bills/{bill['key']}/list.txt").text) <= {own}
    alternatives = {units.power(one["power"]["carries_kw"]) for one in answer["alternatives"]}
    assert _carried(_printed(answer)) == {own} | alternatives
    page = _seen(app, f"/ask?{asked}&limit=1")
    assert power["text"] in page
    elsewhere = {units.power(x["power"]["carries_kw"]) for x in layouts.values() if x["power"]}
    assert own in _carried(page) <= {own} | alternatives | elsewhere
    if not wishes:
        curve = next(x for x in _json(app, f"/v1/chassis/{car}/drop-curves")["curves"] if x["layout"] == layout)
        assert curve["power"] == power
        assert curve["points"][-1]["power_kw"] == power["carries_kw"]
        assert power["text"] in curve["text"]
        assert own in _carried(_seen(app, f"/drop-curves?chassis={car}"))


COMMANDS: dict[str, tuple[list[str], Json]] = {
    "as it comes": (["pellam-33", "large-bore-return"], {}),
    "with add-on and power": (
        ["fennic-16", "return-6-regulator", "--addon", "turbo-tor", "--power-kw", "150"],
        {"addons": ["turbo-tor"], "power_kw": 150},
    ),
    "with facts": (
        ["tarn-20", "own-hose-6-centre", "--pump", "0:90,600:30"],
        {"pump": [{"kpa": 0, "l_h": 90}, {"kpa": 600, "l_h": 30}]},
    ),
}


@pytest.mark.parametrize(("arguments", "wishes"), COMMANDS.values(), ids=COMMANDS.keys())
def test_the_command_says_the_same(
    app: FastAPI, file: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], wishes: Json
) -> None:
    """Run over the same database, as a person runs it."""
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", f"sqlite:///{file}")
    monkeypatch.setenv("COLUMNS", "400")
    car, layout, *options = arguments
    answer = ask(app, {"chassis": car, "layout": layout, "limit": 1, **wishes}).json()
    alternatives = {units.power(one["power"]["carries_kw"]) for one in answer["alternatives"]}
    printed = run("ask", car, layout, "--limit", "1", *options)
    assert printed.exit_code == 0, printed.output
    assert _carried(" ".join(printed.stdout.split())) == {
        units.power(answer["bills"][0]["power"]["carries_kw"]),
        *alternatives,
    }
