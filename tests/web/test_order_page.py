"""The page of an order, with scripting off: read, settled, judged, corrected; nothing pasted in an address."""

import csv
import html
import io
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.documents.request import BillRequest
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.web.app import create_app
from service.web.counter.visits import KEPT_IN, SENT_AS
from service.web.pages.rendering import static_file
from tests.support.catalogs import small_catalog
from tests.web.calls import call, get
from tests.web.conftest import library_in, readings_of
from tests.web.test_counter_pages import MOST_BYTES
from tests.web.test_sheet_page import Page

TOKEN = "t" * 32
SECRET = "Una Brandt, 0555 0119"
MESSY = f"Hello,\n2x rail\u2013s\nPLUG-B9 (3)\nregards\n{SECRET}"


def posted(app: FastAPI, path: str, fields: dict[str, str]) -> httpx.Response:
    headers = {"Cookie": f"{KEPT_IN}={TOKEN}", "Origin": "http://127.0.0.1"}
    return call(app, "POST", path, data={SENT_AS: TOKEN, **fields}, headers=headers)


class Shown:
    """A page of an order."""

    def __init__(self, response: httpx.Response) -> None:
        assert response.status_code == 200, response.text
        self.raw = response.text
        self.words = " ".join(Page(response.text).text.split())
        self.tags = Page(response.text).tags

    @property
    def path(self) -> str:
        """Where its form goes: its own address."""
        return next(told["action"] for tag, told in self.tags if told.get("id") == "order")

    def buttons(self, name: str) -> list[str]:
        return [told["value"] for tag, told in self.tags if tag == "button" and told.get("name") == name]

    def value(self, name: str) -> str:
        return next(told.get("value", "") for _, told in self.tags if told.get("name") == name)


def pasted(app: FastAPI, text: str, **more: str) -> Shown:
    return Shown(posted(app, "/order", {"lines": text, **more}))


def test_a_messy_order_is_settled_and_corrected(app: FastAPI) -> None:
    page = pasted(app, MESSY, chassis="brook", layout="hose-centre")
    assert "1 row has to be settled before there is a verdict" in page.words
    assert "The order as it should be" not in page.words
    assert SECRET in page.words
    assert re.fullmatch(r"/order/[0-9a-f]{32}", page.path)
    assert page.buttons("pick")[0] == "1:0"
    settled = Shown(posted(app, page.path, {"pick": "1:0", "chassis": "brook", "layout": "hose-centre"}))
    assert "settled:" in settled.words
    assert "The order as it should be" in settled.words
    assert "The right order is OVC" in settled.words
    again = Shown(get(app, page.path))
    assert "The order as it should be" in again.words
    assert SECRET not in again.raw
    table = get(app, f"{page.path}.csv")
    assert table.headers["content-type"] == "text/csv; charset=utf-8"
    rows = [row.split(",") for row in table.text.splitlines()]
    assert rows[0] == ["qty", "sku", "name", "price", "currency", "unit_price", "tax"]
    assert rows[-1][2] == "total"
    bought = list(csv.DictReader(io.StringIO(table.text)))[:-1]
    assert bought
    assert all(Decimal(row["unit_price"]) * int(row["qty"]) == Decimal(row["price"]) for row in bought)
    text = get(app, f"{page.path}.txt").text
    right = pasted(app, text, chassis="brook", layout="hose-centre")
    assert "Complete: nothing to change" in right.words


def test_quantities_are_changed_in_place_and_rows_left_out_and_added(app: FastAPI) -> None:
    page = pasted(app, "2 x RAIL-S\n1.5 PLUG-B8\n3 x GAUGE-T", chassis="brook")
    mended = {"chassis": "brook", "qty.0": "1", "qty.1": "4", "drop": "2", "more": "2 x PLUG-8"}
    after = Shown(posted(app, page.path, mended))
    assert (after.value("qty.0"), after.value("qty.1")) == ("1", "4")
    assert after.buttons("back") == ["2"]
    assert after.value("qty.3") == "2"
    assert "have to be settled" not in after.words
    back = Shown(posted(app, page.path, {"chassis": "brook", "back": "2"}))
    assert back.value("qty.2") == "3"


def test_a_part_is_settled_by_its_name(app: FastAPI) -> None:
    page = pasted(app, "2 x gizmo", chassis="brook")
    assert "1 row has to be settled" in page.words
    after = Shown(posted(app, page.path, {"chassis": "brook", "part.0": "rail s"}))
    assert "settled:" in after.words


def test_the_wishes_of_a_question_are_asked(app: FastAPI) -> None:
    """Each that the question's form has; they are kept with the order."""
    page = pasted(app, "1 x RAIL-S", chassis="brook")
    names = {told.get("name") for tag, told in page.tags if tag in ("input", "select")}
    wishes = {
        "typed.power_kw",
        "gauge",
        "addons",
        "typed.boost_kpa",
        "have",
        "exclude",
        "price_cap",
        "own_rail",
        "sets",
        "fuel",
    }
    assert wishes <= names
    assert any(str(name).startswith("room.") for name in names)
    asked = {"chassis": "brook", "power_kw": "999", "addons": "blower", "sets": "2", "room.left.axial_mm": "3"}
    after = Shown(posted(app, page.path, asked))
    assert (after.value("typed.power_kw"), after.value("sets")) == ("999", "2")
    assert re.search(r'name="addons" value="blower" checked', after.raw)
    assert "Impossible" in after.words


def test_a_car_is_told_by_its_name_and_asked_for(app: FastAPI) -> None:
    assert "Which car is it for?" in pasted(app, "1 x RAIL-S").words
    assert "No car of the catalog" in pasted(app, "1 x RAIL-S", chassis="zzzz").words


def test_the_text_is_kept_only_where_that_is_asked(app: FastAPI) -> None:
    asked = pasted(app, MESSY, chassis="brook", keep_text="yes")
    assert SECRET in get(app, asked.path).text


def test_an_order_without_a_part_says_so(app: FastAPI) -> None:
    page = pasted(app, "Hello\nregards")
    assert "No part was read" in page.words


@pytest.mark.parametrize(
    ("path", "fields", "status"),
    [
        ("/order", {"lines": "\n" * 5_001}, 422),
        ("/order", {"lines": "x" * 200_001}, 422),
        ("/order", {"draft": "{}x"}, 422),
        ("/order/nowhere", {"pick": "0:0"}, 404),
        ("/order", {"lines": "1 x RAIL-S", "chassis": "brook", "power_kw": "many"}, 422),
        ("/order", {"lines": "1 x RAIL-S", "chassis": "brook", "sets": "0"}, 422),
        ("/order", {"lines": "1 x RAIL-S", "chassis": "brook", "unread": "[[1]]", "pick": "9:9", "qty.0": "-1"}, 200),
        ("/order", {"lines": "\0\ue000\ue101 2", "chassis": "\0", "unread": "x", "drop": "\u0663"}, 200),
    ],
)
def test_rubbish_is_never_a_fault_of_the_service(app: FastAPI, path: str, fields: dict[str, Any], status: int) -> None:
    assert posted(app, path, fields).status_code == status


@pytest.mark.parametrize("path", ["/order/nowhere", "/order/nowhere.csv", "/order/nowhere.txt", "/order/%00"])
def test_an_order_that_nobody_kept_is_not_found(app: FastAPI, path: str) -> None:
    assert get(app, path).status_code == 404


def test_there_is_no_file_before_all_is_settled(app: FastAPI) -> None:
    page = pasted(app, "1 x RAIL-S\n2 x PLUG-B9", chassis="brook")
    assert get(app, f"{page.path}.csv").status_code == 422


def test_the_heaviest_order_is_a_light_page(app: FastAPI) -> None:
    """5,000 rows, each sure or each to be settled; and words that are no parts."""
    parts = [item["sku"] for item in small_catalog()["items"]]
    assets = len(static_file("counter.css")) + len(static_file("counter.js"))
    for form in ("2x {sku}", "2x {sku}Q{n}", "wrote {n}"):
        text = "\n".join(form.format(sku=parts[n % len(parts)], n=n % 300) for n in range(5_000))
        page = pasted(app, text, chassis="brook")
        assert len(page.raw.encode()) + assets < MOST_BYTES


def test_every_row_of_a_long_order_can_be_settled(app: FastAPI) -> None:
    """Those to be settled stand on the first pages; the pages together hold every row once."""
    rows = [f"{n % 30 + 1} x RAIL-S" if n % 3 else f"{n % 30 + 1} x PLUG-B9" for n in range(400)]
    page = pasted(app, "\n".join(rows), chassis="brook")
    seen: list[str] = []
    while True:
        places = [
            told["name"] for tag, told in page.tags if tag == "input" and (told.get("name") or "").startswith("qty.")
        ]
        seen += places
        further = [told["value"] for _, told in page.tags if told.get("id") == "rows-next"]
        if not further:
            break
        page = Shown(posted(app, page.path, {"chassis": "brook", "rows": further[0]}))
    assert sorted(seen) == sorted(f"qty.{place}" for place in range(400))
    assert all(int(name[4:]) % 3 == 0 for name in seen[:134])
    last = Shown(get(app, f"{page.path}?rows=2"))
    assert last.value("rows") == "2"
    before = last.buttons("pick")[0]
    after = Shown(posted(app, page.path, {"chassis": "brook", "rows": "2", "pick": before}))
    assert after.value("rows") == "2"
    assert before not in after.buttons("pick")
    assert "133 rows have to be settled" in after.words


def test_hostile_texts_are_only_texts(app: FastAPI) -> None:
    hostile = "2 x RAIL-S <img src=x onerror=alert(1)> \"'"
    page = pasted(app, f"{hostile}\n{hostile[10:]}")
    assert "img" not in {tag for tag, _ in page.tags}
    assert html.escape("<img src=x") in page.raw


def test_stock_is_told_in_one_sentence(app: FastAPI) -> None:
    """How many sets ship now, when the rest, and of what there is too little; a swap is one change."""
    order = {"text": "20 RAIL-S\n20 SPIGOT-B8-Q\n40 PLUG-B8", "chassis": "brook", "layout": "hose-centre"}
    page = pasted(app, order.pop("text"), sets="20", **order)
    assert "Wrong: something is missing and something does not belong. 20 changes. The right order is" in page.words
    assert "6 of 20 sets ship now, the rest in 10 days: short of 14 x RAIL-S and 15 x PLUG-B8." in page.words
    one = pasted(app, "1 RAIL-S\n1 ADAPT-B8-F6\n2 PLUG-B8", **order)
    assert "All of it is in stock." in one.words


def test_layouts_that_tie_are_asked_back_with_their_buttons(tmp_path: Path) -> None:
    """The choices are names; once one is chosen nothing is asked."""
    catalog = small_catalog()
    catalog["layouts"].append(catalog["layouts"][1] | {"id": "twin", "name": "The same elsewhere"})
    with library_in(tmp_path / "file", catalog) as library:
        app = create_app(library, readings=readings_of(library))
        page = pasted(app, "1 RAIL-S\n1 ADAPT-B8-F6\n2 PLUG-B8", chassis="brook")
        assert "This could be meant as another layout: it takes as few changes as Own hose to the centre" in page.words
        assert page.buttons("meant")[:2] == ["hose-centre", "twin"]
        chosen = Shown(posted(app, page.path, {"chassis": "brook", "meant": "twin", "layout": ""}))
        assert "could be meant" not in chosen.words
        assert "hose-centre" in chosen.buttons("meant")


def test_an_order_is_held_against_one_very_bill(app: FastAPI, library: Library) -> None:
    """By its key or the address of its page, in the bill's own revision; one touch from the bill's page, one back."""
    question = {"chassis": "brook", "layout": "hose-centre", "limit": 1}
    [bill] = find_bills(library, BillRequest.model_validate(question))["bills"]
    key = bill["key"]
    bought = [(line["sku"], line["qty"]) for line in bill["lines"] if line["source"] == "buy"]
    text = "\n".join(f"{qty} x {sku}" for sku, qty in bought)
    [touched] = [told["href"] for tag, told in Page(get(app, f"/bills/{key}").text).tags if is_check(told)]
    assert Shown(get(app, touched)).value("key") == key
    page = pasted(app, text, key=f"http://127.0.0.1/bills/{key}/sheet", sets="1")
    assert "Complete Brook hatchback: nothing to change." in page.words
    assert "Is it that very bill? Brook hatchback: Own hose to the centre" in page.words
    assert page.value("key") == key
    more = Shown(posted(app, page.path, {"key": key, "qty.0": str(bought[0][1] + 1)}))
    assert "Surplus Brook hatchback" in more.words
    assert get(app, f"{page.path}.txt").text.count(" x ") == len(bought)
    nearest = Shown(posted(app, page.path, {"key": key, "nearest": "yes", "chassis": "brook"}))
    assert "that very bill?" not in nearest.words
    wrong = posted(app, page.path, {"key": f"{key}x"})
    assert wrong.status_code == 422
    assert "The bill: expected the key of a bill, or the address of its page; found" in wrong.text


def is_check(told: dict[str, Any]) -> bool:
    return str(told.get("href")).startswith("/order?key=")
