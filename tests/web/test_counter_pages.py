"""The pages of the counter over HTTP, with scripting off: whole questions in addresses, forms, hostile input."""

import re
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from fastapi import FastAPI
from hypothesis import given

from service.documents.question_parameters import query_of
from service.documents.request import BillRequest
from service.web.app import create_app
from service.web.counter.visits import KEPT_IN, SENT_AS
from service.web.pages.rendering import PAGE_POLICY, inch_first, moment, static_file
from service.web.queries import read_query
from service.web.question_query import QuestionQuery, query_text
from tests.support.builders import catalog
from tests.support.catalogs import small_catalog
from tests.support.strategies import questions
from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION, inquiries_of, library_in, links_of
from tests.web.test_sheet_page import HOSTILE, Page

MOST_BYTES = 150_000
PATHS = [
    "/ask",
    "/ask?car=bro",
    "/ask?chassis=brook",
    "/ask?chassis=brook&layout=hose-centre",
    "/catalog",
    "/catalog/RAIL-S",
    "/order",
    "/order?chassis=brook",
]


def seen(app: FastAPI, path: str) -> str:
    """The text of a page, after it was sent on to its own address where need be."""
    response = get(app, path)
    if response.status_code == 303:
        response = get(app, response.headers["Location"])
    assert response.status_code == 200, response.text
    return " ".join(Page(response.text).text.split())


@pytest.mark.parametrize("path", PATHS)
def test_pages_are_small_safe_and_nobody_else_s(app: FastAPI, path: str) -> None:
    response = get(app, path)
    assert response.status_code == 200
    assert response.headers["content-security-policy"] == PAGE_POLICY
    assert response.headers["cache-control"] == "private, no-cache"
    assert response.headers["x-content-type-options"] == "nosniff"
    assert "SameSite=strict" in response.headers["set-cookie"]
    assert "HttpOnly" in response.headers["set-cookie"]
    assets = len(static_file("counter.css")) + len(static_file("counter.js"))
    assert len(response.content) + assets < MOST_BYTES
    page = Page(response.text)
    names = {name for _, attributes in page.tags for name in attributes}
    assert not [name for name in names if name.startswith("on") or name == "style"]
    assert "aria-live" not in names
    told = [attributes for _, attributes in page.tags if attributes.get("role") == "status"]
    assert [attributes["id"] for attributes in told] in ([], ["told"], ["verdict"])
    scripts = [x for tag, x in page.tags if tag == "script" and x.get("type") != "application/ld+json"]
    assert scripts == [{"src": "/static/counter.js", "defer": None}]


def test_the_script_is_one_short_file() -> None:
    assert len(static_file("counter.js").splitlines()) < 400


def test_a_car_is_found_by_a_part_of_its_name_and_leads_to_its_layouts(app: FastAPI) -> None:
    page = get(app, "/ask?car=broo").text
    assert "/ask?chassis=brook" in page
    choices = seen(app, "/ask?chassis=brook")
    assert "How fuel runs" in choices
    offered = [
        (tag, told) for tag, told in Page(get(app, "/ask?chassis=brook").text).tags if told.get("name") == "layout"
    ]
    assert len(offered) == len(small_catalog()["layouts"])
    assert all(tag == "button" and "tabindex" not in told for tag, told in offered)  # each is reached by Tab
    assert get(app, "/ask?chassis=brok").status_code == 404
    assert "/ask?chassis=brook" in get(app, "/ask?chassis=brok").text


def test_the_bills_of_the_page_are_those_of_the_api(app: FastAPI) -> None:
    answer = ask(app, QUESTION).json()
    page = get(app, f"/ask?{urlencode(QUESTION)}").text
    words = " ".join(Page(page).text.split())
    total = answer["total_valid"]
    assert f"{total} valid bill" in words
    for place, bill in enumerate(answer["bills"][:3], 1):
        if place > 1:  # the others stand whole on pages of their own
            page = get(app, f"/bills/{bill['key']}").text
            words = " ".join(Page(page).text.split())
        assert f"/v1/bills/{bill['key']}/sheet" in page
        for line in get(app, f"/v1/bills/{bill['key']}").json()["bill"]["lines"]:  # each reason by itself, as here
            assert line["sku"] in words
            for reason in line["reasons"]:
                assert " ".join(reason["text"].split()) in words


def test_a_caution_of_one_sentence_ends_once(app: FastAPI) -> None:
    """No pressure stands over injectors: the caution is shown up to its end, with one full stop."""
    starved = "/ask?chassis=brook&layout=hose-centre&boost_kpa=300&injectors=20:300&regulator=follows:atmosphere"
    assert "the injectors deliver nothing. 1 caution" in seen(app, starved)


def test_a_form_is_sent_on_to_the_address_that_holds_the_question(app: FastAPI) -> None:
    filled = "/ask?chassis=brook&layout=hose-centre&fuel=&power_hp=100&room.top.axial_in=2&gauge=&price_cap=900"
    response = get(app, filled)
    assert response.status_code == 303
    told = dict(parse_qsl(urlsplit(response.headers["Location"]).query))
    assert told["clearances"] == "top:axial_mm:50.8"
    assert float(told["power_kw"]) == pytest.approx(74.57, abs=0.01)
    assert told["max_price"] == "90000"
    assert get(app, response.headers["Location"]).status_code in (200, 422)


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("power_kw=much", "Power: expected a number of kW; found"),
        ("typed.power_kw=1,200", "Power: expected 1200, or 1.2: write the one that is meant; found '1,200'"),
        ("room.top.axial_mm=1.500", "Room: expected 1500, or 1.5"),
        ("fuel=petrl", "Nearest: petrol"),
        ("no_such_wish=1", "no_such_wish"),
        ("room.top.axial_mm=wide", "Room: expected a number for each spot; found"),
        ("price_cap=dear", "Price at most: expected an amount, as 300 or 299.50; found"),
        ("gauge=sideways", "Gauge: expected"),
        ("limit=1000", "How many bills: expected"),
    ],
)
def test_what_cannot_be_asked_is_told_and_the_form_keeps_it(app: FastAPI, query: str, said: str) -> None:
    response = get(app, f"/ask?chassis=brook&layout=hose-centre&{query}")
    assert response.status_code == 422
    assert said in " ".join(Page(response.text).text.split())


def test_repairs_are_links_that_lead_to_bills(app: FastAPI) -> None:
    page = get(app, "/ask?chassis=brook&layout=hose-centre&clearances=top:axial_mm:1&gauge=top").text
    assert "Nothing fits" in page
    links = re.findall(r'<li><a class="card choice" href="(/ask[^"]+)">', page)
    assert links
    for link in links:
        assert "valid bill" in seen(app, link.replace("&amp;", "&"))


@given(questions(wish_percent=40))
def test_every_question_has_an_address_that_reads_back(asked: tuple[dict[str, Any], dict[str, Any]]) -> None:
    question = BillRequest.model_validate(asked[1])
    text = query_text(question)
    again = read_query(QuestionQuery, list(text.items())).question()
    but = {"clearances"}  # both ways of a spot come back one by one
    left, right = (x.model_dump(exclude_defaults=True, exclude=but) for x in (again, question))
    assert left == right
    assert query_text(again) == text
    assert query_of(again.model_dump(exclude_defaults=True)) == text


def test_inches_come_first_where_they_are_wished(app: FastAPI) -> None:
    assert (
        inch_first("Stands 29 mm (1.14 in) of 300 kPa (43.5 psi).") == "Stands 1.14 in (29 mm) of 43.5 psi (300 kPa)."
    )
    page = call(app, "GET", "/ask?chassis=brook", headers={"Cookie": "portwright-units=inch"}).text
    assert "Power, hp" in page
    assert all(one in page for one in ("Boost of your own, psi", "Feed hose, ft", "What the pump moves, US gal/h"))
    asked = {"chassis": "brook", "layout": "hose-centre", "inch.boost_kpa": "2", "inch.set_kpa": "43.5"}
    told = dict(parse_qsl(urlsplit(get(app, f"/ask?{urlencode(asked)}").headers["Location"]).query))
    assert float(told["boost_kpa"]) == pytest.approx(13.79, abs=0.01)
    assert told["regulator"] == "set_kpa:299.9219"
    assert "Power, kW" in get(app, "/ask?chassis=brook").text


TOKEN = "t" * 32


def sent(app: FastAPI, path: str, fields: dict[str, str], *, cookie: str = TOKEN, **headers: str) -> Any:
    form = urlencode({SENT_AS: TOKEN} | fields).encode()
    given = {"Content-Type": "application/x-www-form-urlencoded", "Cookie": f"{KEPT_IN}={cookie}"} | headers
    return call(app, "POST", path, content=form, headers=given)


def test_a_moment_is_told_as_people_write_it() -> None:
    """And as machines read it, whatever its zone."""
    told = moment("2026-03-05T01:07:09.5+02:00")
    assert told == '<time datetime="2026-03-04T23:07:09+00:00">4 March 2026, 23:07 UTC</time>'
    assert moment("2026-12-31T08:00:00Z", day_only=True).endswith(">31 December 2026</time>")


def test_units_are_remembered_and_the_reader_comes_back(app: FastAPI) -> None:
    response = sent(app, "/units", {"units": "inch", "back": "/ask?chassis=brook"})
    assert (response.status_code, response.headers["Location"]) == (303, "/ask?chassis=brook")
    assert "portwright-units=inch" in response.headers["set-cookie"]
    for elsewhere in ("https://evil.example/", "//evil.example", "/\\evil.example", ""):
        assert sent(app, "/units", {"units": "metric", "back": elsewhere}).headers["Location"] == "/ask"
    assert sent(app, "/units", {"units": "cubits"}).status_code == 422


@pytest.mark.parametrize(
    ("cookie", "headers"),
    [
        ("", {}),
        ("u" * 32, {}),
        (TOKEN, {"Origin": "https://evil.example"}),
        (TOKEN, {"Sec-Fetch-Site": "cross-site"}),
    ],
)
def test_forms_of_other_sites_are_refused(app: FastAPI, cookie: str, headers: dict[str, str]) -> None:
    for path in ("/units", "/inquiries"):
        assert sent(app, path, {"units": "inch"}, cookie=cookie, **headers).status_code == 403


def test_cars_and_parts_are_found_by_other_words_for_them(tmp_path: Path) -> None:
    document = small_catalog()
    car = next(one for one in document["chassis"] if one["id"] == "brook")
    car["aliases"] = ["Petit Café"]
    next(one for one in document["items"] if one["sku"] == "RAIL-S")["aliases"] = ["long stick"]
    with library_in(tmp_path / "file", document) as library:
        app = create_app(library, links=links_of(library))
        cars = Page(get(app, "/ask?car=petit+cafe").text).text
        assert car["name"] in cars
        assert all(one["name"] not in cars for one in document["chassis"] if one["id"] != "brook")
        found = get(app, "/catalog?q=LONG+STICK").text
        assert "/catalog/RAIL-S" in found
        assert "/catalog/GAUGE-T" not in found


def test_a_question_is_sent_to_the_workshop_and_listed(tmp_path: Path) -> None:
    fields = {f"question.{name}": value for name, value in QUESTION.items()}
    with library_in(tmp_path / "file", catalog()) as library:
        asked = {"question.chassis": "brook", "question.layout": "hose-centre"}
        kept = inquiries_of(library)
        shut = create_app(library, kept_inquiries=kept)
        told = {"contact": "desk3@shop.example", "note": "soon <b>3</b>", "once": "o" * 24}
        responses = [sent(shut, "/inquiries", fields | asked | told) for _ in range(2)]
        assert [one.status_code for one in responses] == [303, 303]
        assert responses[0].headers["Location"] == responses[1].headers["Location"]
        assert "It was sent once" in seen(shut, responses[0].headers["Location"])
        assert len(kept.store.page(9)) == 1
        for contact in ("", "me", "desk 3", "1234"):
            response = sent(shut, "/inquiries", asked | {"contact": contact, "note": "keep me"})
            assert response.status_code == 422
            assert "Whom to answer: expected an e-mail address" in " ".join(Page(response.text).text.split())
            assert "keep me" in response.text
        assert sent(shut, "/inquiries", {"question.chassis": "brook", "contact": "a"}).status_code == 422
        page = get(create_app(library, kept_inquiries=kept), "/inquiries")
        assert page.status_code == 200
        assert "soon <b>3</b>" in Page(page.text).text
        assert "<b>3</b>" not in page.text


def test_a_car_that_is_not_in_the_catalog_goes_to_the_workshop_with_its_facts(tmp_path: Path) -> None:
    with library_in(tmp_path / "file", catalog()) as library:
        kept = inquiries_of(library)
        app = create_app(library, kept_inquiries=kept)
        assert "/inquiries/car" in get(app, "/ask").text
        facts = {
            "car": "Odd one",
            "cylinders": "4",
            "power_kw": "120,5",
            "ends": "two spigots",
            "contact": "a@b.example",
        }
        for field, value in (("contact", "no"), ("cylinders", "four"), ("power_kw", "1,200"), ("car", "")):
            assert sent(app, "/inquiries/car", facts | {field: value}).status_code == 422, field
        places = {sent(app, "/inquiries/car", facts | {"once": "o" * 24}).headers["Location"] for _ in range(2)}
        assert len(kept.store.page(9)) == 1
        words = seen(app, places.pop())
        assert "What has to be measured" in words
        assert "Odd one, cylinders: 4, power kw: 120.5, ends: two spigots" in seen(app, "/inquiries")
        inch = {"Cookie": f"{KEPT_IN}={TOKEN}; portwright-units=inch"}
        assert "Fuel pressure, psi" in call(app, "GET", "/inquiries/car", headers=inch).text
        sent(app, "/inquiries/car", {"car": "Other", "pressure_kpa": "43.5", "contact": "a@b.example"}, **inch)
        assert "Other, pressure kpa: 299.92" in seen(app, "/inquiries")


def test_what_a_customer_says_stands_as_chips_and_what_is_open_as_choices(app: FastAPI) -> None:
    """As the API reads it; each chip and each choice is a field of the question."""
    text = f"{get(app, '/v1/chassis/brook').json()['result']['name']}, 90 kW, a gauge at a side"
    read = call(app, "POST", "/v1/questions/read", json={"text": text}).json()
    response = sent(app, "/ask/said", {"text": text})
    assert response.status_code == 200
    page = Page(response.text)
    fields = {(told.get("name"), told.get("value")) for tag, told in page.tags if tag == "input"}
    assert {("chassis", "brook"), ("power_kw", "90")} <= fields
    assert read["open"]
    for one in read["open"]:
        for choice in one["choices"]:
            assert (one["field"], choice["value"] or "") in fields
    for one in (*read["understood"], *read["open"]):
        assert " ".join(one.get("says", one.get("asks")).split()) in " ".join(page.text.split())
    assert sent(app, "/ask/said", {"text": " "}).status_code == 303
    assert sent(app, "/ask/said", {"text": "x" * 10_001}).status_code == 422
    assert sent(app, "/ask/said", {"text": text}, cookie="").status_code == 403


def test_who_asks_for_a_page_is_refused_by_one(app: FastAPI) -> None:
    """And whoever asks for anything, or for JSON, by a problem."""
    browser = {"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"}
    for path in ("/nowhere", "/b/zzzz", "/v1/bills/none/sheet", "/v1/items/none", "/order/none", "/catalog/none"):
        page = call(app, "GET", path, headers=browser)
        assert (page.status_code, page.headers["content-type"]) == (404, "text/html; charset=utf-8"), path
        assert 'href="/ask"' in page.text
    for accept in ("*/*", "application/json"):
        told = call(app, "GET", "/nowhere", headers={"Accept": accept})
        assert told.headers["content-type"] == "application/problem+json"
    assert get(app, "/ask/?chassis=brook").headers["Location"] == "/ask?chassis=brook"


@pytest.mark.parametrize(
    ("words", "sku", "other"),
    [
        ("guage", "GAUGE-T", "RAIL-S"),
        ("rails", "RAIL-S", "GAUGE-T"),
        ("gauget", "GAUGE-T", "RAIL-S"),
    ],
)
def test_parts_are_found_by_kind_without_dashes_and_by_near_spellings(
    app: FastAPI, words: str, sku: str, other: str
) -> None:
    found = get(app, f"/catalog?{urlencode({'q': words})}").text
    assert f"/catalog/{sku}" in found
    assert f"/catalog/{other}" not in found


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("1,299", "129900"),
        ("1.299", "129900"),
        ("1 299", "129900"),
        ("1.299,50", "129950"),
        ("1,299.50", "129950"),
        ("120,5", "12050"),
        ("120.5", "12050"),
        ("0,25", "25"),
    ],
)
def test_amounts_are_read_by_either_habit(app: FastAPI, written: str, meant: str) -> None:
    query = urlencode({"chassis": "brook", "layout": "hose-centre", "price_cap": written})
    told = dict(parse_qsl(urlsplit(get(app, f"/ask?{query}").headers["Location"]).query))
    assert told["max_price"] == meant


def test_a_number_that_stands_in_the_form_reads_back_as_itself(app: FastAPI) -> None:
    """Even where its decimals could be taken for thousands."""
    page = Page(get(app, "/ask?chassis=brook&layout=hose-centre&power_kw=74.125").text)
    shown = next(told["value"] for _, told in page.tags if told.get("name") == "typed.power_kw")
    query = urlencode({"chassis": "brook", "layout": "hose-centre", "typed.power_kw": shown})
    assert "power_kw=74.125" in get(app, f"/ask?{query}").headers["Location"]


def test_what_a_field_shows_rounded_stays_what_it_was(app: FastAPI) -> None:
    """In inches: fields show what people say, and a form that is sent as it stands asks the same question again."""
    asked = "power_kw=280&boost_kpa=50&feed_hose_m=1.5&clearances=top:axial_mm:80&regulator=set_kpa:300"
    path = f"/ask?chassis=brook&layout=hose-centre&{asked}"
    page = Page(call(app, "GET", path, headers={"Cookie": "portwright-units=inch"}).text)
    fields = [(told["name"], told["value"]) for tag, told in page.tags if tag == "input" and told.get("value")]
    fields = [(name, value) for name, value in fields if name.partition(".")[0] in ("power_hp", "inch", "kept", "room")]
    shown = {name: value for name, value in fields if not name.startswith("kept.")}
    assert shown == {
        "power_hp": "375",
        "inch.boost_kpa": "7.3",
        "inch.feed_hose_m": "4.92",
        "inch.set_kpa": "43.5",
        "room.top.axial_in": "3.15",
    }
    kept = [("chassis", "brook"), ("layout", "hose-centre"), *fields]
    told = dict(parse_qsl(urlsplit(get(app, f"/ask?{urlencode(kept)}").headers["Location"]).query))
    assert told == dict(parse_qsl(urlsplit(path).query))
    changed = [(name, "380" if name == "power_hp" else value) for name, value in kept]
    told = dict(parse_qsl(urlsplit(get(app, f"/ask?{urlencode(changed)}").headers["Location"]).query))
    assert float(told["power_kw"]) == pytest.approx(283.37, abs=0.01)


def test_a_bill_can_be_taken_along(app: FastAPI) -> None:
    """By its link as a page, as text and as rows; each has every line and the total."""
    bill = ask(app, QUESTION).json()["bills"][0]
    page = get(app, f"/bills/{bill['key']}")
    text, rows = (get(app, f"/bills/{bill['key']}/list.{kind}").text for kind in ("txt", "csv"))
    for told in (Page(page.text).text, text, rows):
        assert all(line["sku"] in told for line in bill["lines"])
        assert f"{bill['price'] / 100:.2f}" in told
    assert 'class="qr"' in page.text
    assert bill["power"]["text"] in text
    assert get(app, "/bills/none/list.csv").status_code == 404


@pytest.mark.parametrize(
    "query",
    [
        "lines=%00%ff&chassis=%00",
        "lines=1&chassis=nobody",
        "chassis=brook&lines=RAIL-S&sets=0",
        "sets=x&fuel=y&layout=z",
        "chassis=brook&lines=RAIL-S&fuel=none",
        "lines=" + "a%0A" * 3000,
    ],
)
def test_rubbish_is_never_a_fault_of_the_service(app: FastAPI, query: str) -> None:
    assert get(app, f"/order?{query}").status_code in (200, 422)
    assert get(app, f"/ask?{query}").status_code in (200, 404, 422)


def test_hostile_texts_are_only_texts(tmp_path: Path) -> None:
    document = catalog()
    for section in ("port_standards", "items", "chassis", "layouts", "fuels"):
        for element in document[section]:
            element["name"] = HOSTILE
    with library_in(tmp_path / "file", document) as library:
        app = create_app(library, links=links_of(library))
        for path in (
            "/ask?car=b",
            "/ask?chassis=brook",
            "/catalog",
            "/catalog/RAIL-S",
            f"/ask?{urlencode(QUESTION)}",
            "/order?chassis=brook",
        ):
            page = get(app, path)
            assert page.status_code == 200
            read = Page(page.text)
            assert "img" not in {tag for tag, _ in read.tags}
            assert " ".join(HOSTILE.split()) in " ".join(read.text.split())


def test_the_catalog_is_browsed_and_searched(app: FastAPI) -> None:
    assert "RAIL-S" in seen(app, "/catalog?q=rail")
    assert "RAIL-S" not in seen(app, "/catalog?kind=gauge")
    assert "RAIL-S" in seen(app, "/catalog?q=RAIL-Z")
    assert get(app, "/catalog/RAIL-Z").status_code == 404
    kinds = [told for tag, told in Page(get(app, "/catalog").text).tags if tag == "details"]
    assert len(kinds) == len({item["kind"] for item in small_catalog()["items"]})
    assert ["open" in told for told in kinds] == [True] + [False] * (len(kinds) - 1)
    assert get(app, "/catalog/%00").status_code == 404


def test_a_part_shows_what_meets_it_and_its_cars(app: FastAPI) -> None:
    for port in get(app, "/v1/items/RAIL-S").json()["result"]["ports"]:
        mates = get(app, f"/v1/items?mates={port['standard']}:{port['end']}").json()["results"]
        page = get(app, "/catalog/RAIL-S").text
        assert mates
        for mate in mates:
            assert f'href="/catalog/{mate["sku"]}"' in page
            assert mate["name"] in page
    fitting = get(app, "/v1/items?fits=brook&limit=200").json()["results"]
    fits = {item["sku"] for item in fitting}
    for sku in ("RAIL-S", "GAUGE-T"):
        assert ("/ask?chassis=brook" in get(app, f"/catalog/{sku}?cars=yes").text) == (sku in fits)


def test_a_part_names_the_layouts_whose_bills_have_it(app: FastAPI) -> None:
    """Those in whose bills the API finds it, for each car, and no others."""
    document = small_catalog()
    for sku in ("RAIL-S", "PLUG-B8", "HOSE-A", "GAUGE-T"):
        if sku not in {item["sku"] for item in document["items"]}:
            continue
        page = get(app, f"/catalog/{sku}?cars=yes").text
        for chassis in document["chassis"]:
            for layout in document["layouts"]:
                found = {
                    call(app, "POST", "/v1/explain", json={"request": asked | {"gauge": gauge}, "sku": sku}).json()[
                        "in_bills"
                    ]
                    for gauge in ("none", "any")
                    for asked in [{"chassis": chassis["id"], "layout": layout["id"]}]
                }
                assert (f"?car={chassis['id']}&amp;layout={layout['id']}#why" in page) == (True in found)


def test_a_layout_that_uses_a_part_leads_to_reasons_that_say_so(app: FastAPI) -> None:
    """With a gauge where only those bills have it: every link of every part, and what it leads to."""
    for sku in [item["sku"] for item in small_catalog()["items"]]:
        for query in re.findall(r'href="(\?car=[^"#]+)#why"', get(app, f"/catalog/{sku}?cars=yes").text):
            words = seen(app, f"/catalog/{sku}{query.replace('&amp;', '&')}")
            assert "Yes, " in words, (sku, query)


def test_why_opens_what_it_says_first(app: FastAPI) -> None:
    """Where a part stands, the reasons of a spot where it does: a yes does not open a no."""
    text = get(app, "/catalog/PLUG-B8?car=brook&layout=hose-centre").text
    opened = re.findall(r"<details open><summary>(.*?)</summary>", text, flags=re.DOTALL)
    asked = {"request": QUESTION, "sku": "PLUG-B8"}
    told = call(app, "POST", "/v1/explain", json=asked).json()
    assert told["in_bills"]
    assert not all(verdict["stands"] for verdict in told["verdicts"])
    standing = [" ".join(verdict["text"].split()) for verdict in told["verdicts"] if verdict["stands"]]
    assert " ".join(Page(opened[0]).text.split()) in standing


def test_a_part_s_reasons_are_those_of_the_api(app: FastAPI) -> None:
    """Where it stands and where it does not; a car may be told by its name."""
    for sku, asked in (("RAIL-S", QUESTION), ("GAUGE-T", QUESTION | {"gauge": "any"}), ("RAIL-L", QUESTION)):
        response = call(app, "POST", "/v1/explain", json={"request": asked, "sku": sku})
        if response.status_code != 200:
            continue
        answer = response.json()
        words = seen(app, f"/catalog/{sku}?{urlencode({'car': asked['chassis'], 'layout': asked['layout']})}")
        assert " ".join(answer["text"].split()) in words
        for verdict in answer["verdicts"]:
            assert " ".join(verdict["text"].split()) in words
            for rule in verdict["rules"]:
                assert " ".join(rule["text"].split()) in words
        assert answer["safety"][0] in words
    assert "Which car is meant?" in seen(app, "/catalog/RAIL-S?car=broook&layout=factory")
    assert get(app, "/catalog/RAIL-S?car=%00&layout=nowhere").status_code == 200
