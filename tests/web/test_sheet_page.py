"""The assembly sheet as a page: small, without script, proof against hostile texts, and with the sheet's figures."""

import html
import re
from collections.abc import Iterator
from copy import deepcopy
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.documents.sheet import Sheet
from service.web.app import create_app
from service.web.pages.rendering import POLICY, STYLESHEET_PATH, stylesheet
from service.web.pages.sheet import sheet_page
from tests.explain.sheets import BY_LINE, SITUATIONS, THROUGH_FLOW, TWO_BANKS, sheet_of_best, sheet_of_seed
from tests.support.builders import RETURN, catalog
from tests.support.svg import assert_within, drawings, shapes, texts
from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION, library_in, links_of
from tests.web.sheet_pages import page_of_seed

ACCEPT = {"Accept": "text/html"}
MOST_BYTES = 150_000
HOSTILE = "</td><script>alert(1)</script><img src=x onerror=alert(2)> & \"quotes\" 'single' {{ 7*7 }} ]]>"
VOID = {"meta", "input", "link", "br"}


class Page(HTMLParser):
    """Reads a page: its tags with their attributes, its text, and whether every element is closed in its place."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self._open: list[str] = []
        self.feed(text)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module", params=list(SITUATIONS), name="sheet")
def _sheet(request: pytest.FixtureRequest) -> Sheet:
    return sheet_of_seed(SITUATIONS[request.param])


def drawing(page: str) -> ET.Element:
    """The drawing of a page, read as XML."""
    [found] = [one for one in drawings(page) if one.get("role") == "img" and one.get("class") != "qr"]
    return found


def drawn_texts(page: str) -> list[str]:
    return [words.text for words in texts(drawing(page))]


def test_everything_of_the_sheet_is_on_the_page(sheet: Sheet) -> None:
    """Each caution, tool, consumable, step and spot; checks in the same words once, with a pointer from the others."""
    page = Page(sheet_page(sheet)).text.replace(" :", ":")
    told = [*sheet["safety"], *sheet["tools"], *(extra["text"] for extra in sheet["consumables"])]
    told += [words for step in sheet["steps"] for words in (step["title"], step["look_for"], step["make_up"] or "")]
    told += [words for step in sheet["steps"] for words in step["text"].split(step["make_up"] or "\n")]
    told += [words for step in sheet["steps"] for words in (step["wrong"], step["then"])]
    told += [part["name"] for rail in sheet["rails"] for spot in rail["spots"] for part in spot["standing"]]
    for caution in sheet["cautions"]:
        subject, colon, rest = caution["text"].partition(": ")
        told += [subject, rest] if colon else [caution["text"]]
    for words in told:
        assert " ".join(words.split()) in page, words
    for number in re.findall(r"as at step (\d+)", page):
        assert 1 <= int(number) <= len(sheet["steps"])


def pointed(page: str, words: str) -> list[tuple[int, int]]:
    """Each step that points at an earlier one with these words, and that one; the latter stands before."""
    articles = re.split(r"(?=<article)", page)[1:]
    found = [
        (int(number), int(other))
        for article in articles
        for other in re.findall(rf"{words} as at step (\d+)\.", article)
        for number in re.findall(r'id="step-(\d+)"', article)
    ]
    assert all(other < number for number, other in found)
    return found


def test_a_check_is_looked_up_in_an_earlier_step(sheet: Sheet) -> None:
    """The step that is pointed at has the very same words, and stands before."""
    found = pointed(sheet_page(sheet), "Check")
    assert found or "Through-flow" in sheet["title"]
    for number, other in found:
        one, same = sheet["steps"][number - 1], sheet["steps"][other - 1]
        assert (one["look_for"], one["wrong"], one["then"]) == (same["look_for"], same["wrong"], same["then"])


def test_how_joints_are_made_up_stands_once(sheet: Sheet) -> None:
    """At the first of its kind, or at those that share one text; the others point there."""
    page = sheet_page(sheet)
    kinds = {step["make_up"] for step in sheet["steps"]} - {None}
    assert [Page(page).text.count(str(make_up)) for make_up in kinds] == [1] * len(kinds)
    found = pointed(page, "Make it up")
    assert found
    for number, other in found:
        assert sheet["steps"][number - 1]["make_up"] == sheet["steps"][other - 1]["make_up"]


def test_nothing_is_inline_and_nothing_runs(sheet: Sheet) -> None:
    """No script, no style, no handler, no address but the stylesheet's, also in the drawing."""
    page = Page(sheet_page(sheet))
    names = {name for _, attributes in page.tags for name in attributes}
    assert not {tag for tag, _ in page.tags} & {"script", "style", "iframe", "object", "embed", "img", "form", "base"}
    assert not [name for name in names if name.startswith("on") or name in ("style", "src", "action", "srcdoc")]
    links = [str(attributes["href"]) for _, attributes in page.tags if "href" in attributes]
    assert [link for link in links if not link.startswith("#")] == ["data:,", STYLESHEET_PATH]


def test_jump_marks_lead_to_every_stage(sheet: Sheet) -> None:
    """And back; each mark is there once."""
    page = Page(sheet_page(sheet))
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    links = [str(attributes["href"]) for _, attributes in page.tags if "href" in attributes]
    marks = {link.removeprefix("#") for link in links if link.startswith("#")}
    assert {f"stage-{stage['stage']}" for stage in sheet["stages"]} < marks <= set(ids)
    assert all(ids.count(mark) == 1 for mark in marks)


def test_what_is_wrong_stands_open_where_fuel_may_come_out(sheet: Sheet) -> None:
    """Elsewhere it is behind what to look for, which always shows; cautions are never folded."""
    folded = re.findall(r"<details.*?</details>", sheet_page(sheet), re.DOTALL)
    told = Page("".join(folded)).text
    opened = ("relieve", "disconnect", "leak-check", "heat-check")
    for step in sheet["steps"]:
        assert (step["wrong"] in told) == (step["stage"] not in opened), step["title"]
    assert not [words for words in sheet["safety"] if words in told]
    assert not [caution["text"] for caution in sheet["cautions"] if caution["text"].split(": ")[-1] in told]


def test_a_page_is_small(sheet: Sheet) -> None:
    """It is read on phones in garages."""
    assert len(sheet_page(sheet).encode()) < MOST_BYTES
    assert len(stylesheet()) < 10_000
    assert b"@import" not in stylesheet()
    assert b"url(" not in stylesheet()


def test_the_drawing_has_an_alternative_in_words(sheet: Sheet) -> None:
    """A role, a title and a description that names each spot and part; and the same as a table."""
    root = drawing(sheet_page(sheet))
    space = "{http://www.w3.org/2000/svg}"
    title, desc = root.find(f"{space}title"), root.find(f"{space}desc")
    assert root.get("role") == "img"
    assert title is not None
    assert desc is not None
    assert root.get("aria-labelledby") == f"{title.get('id')} {desc.get('id')}"
    for spot in (spot for rail in sheet["rails"] for spot in rail["spots"]):
        assert spot["text"] in (desc.text or "")
        assert all(part["name"] in (desc.text or "") for part in spot["standing"])


def test_the_drawing_has_the_sheet_s_figures(sheet: Sheet) -> None:
    """Spots, duties, the numbers of parts, and the room that is left; what the numbers are stands in the table."""
    page = sheet_page(sheet)
    told = drawn_texts(page)
    for spot in (spot for rail in sheet["rails"] for spot in rail["spots"]):
        assert f"{spot['spot']}: {spot['duty']}" in told
        assert all(part["sku"] in page for part in spot["standing"])
        if spot["axial_left_mm"] is not None:
            assert f"{spot['axial_left_mm']:g} mm left" in told
    numbers = [words for words in told if words.isdigit()]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    assert len(numbers) == sum(len(spot["standing"]) for rail in sheet["rails"] for spot in rail["spots"])


def test_parts_are_to_scale() -> None:
    """The rail and what stands at its ends are drawn in one scale."""
    sheet = sheet_of_seed(BY_LINE)
    [rail] = sheet["rails"]
    polygons = [shape for shape in shapes(drawing(sheet_page(sheet))) if shape.closed]
    scale = polygons[0].width / (rail["length_mm"] or 0)
    by_spot = {spot["spot"]: spot for spot in rail["spots"]}
    assert polygons[1].width / by_spot["left"]["standing"][0]["standout_mm"] == pytest.approx(scale, rel=0.01)
    assert polygons[2].height / by_spot["centre"]["standing"][0]["standout_mm"] == pytest.approx(scale, rel=0.01)


def test_all_is_within_the_picture(sheet: Sheet) -> None:
    """Nothing is cut off at an edge."""
    _within(sheet)


@pytest.mark.parametrize("factor", [0.0, 0.01, 1.0, 30.0, 1000.0])
@pytest.mark.parametrize("length_mm", [0.001, 40.0, None, 10_000.0])
@pytest.mark.parametrize("parts", [1, 9])
def test_odd_measures_stay_within_the_picture(factor: float, length_mm: float | None, parts: int) -> None:
    """Rails and parts of any length that a catalog may have, and many in a row."""
    sheet = deepcopy(sheet_of_seed(TWO_BANKS))
    for rail in sheet["rails"]:
        rail["length_mm"] = length_mm
        for spot in rail["spots"]:
            for part in spot["standing"]:
                part["standout_mm"] *= factor
            spot["standing"] *= parts
            spot["standout_mm"] *= factor * parts
            if spot["axial_mm"] is not None and spot["axial_left_mm"] is not None:
                spot["axial_mm"] = spot["standout_mm"] + spot["axial_left_mm"]
    _within(sheet)


def _within(sheet: Sheet) -> None:
    assert_within(drawing(sheet_page(sheet)))


def test_flow_is_told_by_arrows() -> None:
    """Of the fed end of a link away from the rail, of the other towards it: as many heads as ways of flow."""
    sheet = sheet_of_seed(TWO_BANKS)
    flows = [spot["flows"] for rail in sheet["rails"] for spot in rail["spots"]]
    heads = [shape for shape in shapes(drawing(sheet_page(sheet))) if not shape.stroked]
    assert len(heads) == len([flow for flow in flows if flow in ("in", "out")]) + 2 * flows.count("both") > 0


def _hostile_catalog() -> dict[str, Any]:
    document = catalog()
    for section in ("port_standards", "items", "chassis", "layouts", "fuels"):
        for element in document[section]:
            element["name"] = HOSTILE
    for layout in document["layouts"]:
        layout["summary"] = HOSTILE
    for joint in document["joints"]:
        joint["cautions"] = [HOSTILE]
    return document


@pytest.fixture(scope="module", name="hostile")
def _hostile(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    with library_in(tmp_path_factory.mktemp("hostile") / "file", _hostile_catalog()) as library:
        yield create_app(library, links=links_of(library))


def test_hostile_texts_are_only_texts(hostile: FastAPI) -> None:
    """What a catalog's names hold is shown as it is, also in the drawing; nothing of it becomes an element."""
    key = ask(hostile, QUESTION | {"gauge": "any"}).json()["bills"][0]["key"]
    page = get(hostile, f"/v1/bills/{key}/sheet", headers=ACCEPT).text
    read = Page(page)
    assert not {"script", "img"} & {tag for tag, _ in read.tags}
    assert HOSTILE in read.text
    assert "<script>" not in page
    desc = next(element for element in drawing(page) if element.tag.endswith("}desc"))
    assert HOSTILE in (desc.text or "")
    assert html.escape("<script>") in page


def test_long_skus_do_not_break_the_drawing() -> None:
    """They are cut in the drawing and whole in the table."""
    document = catalog()
    long = "S" * 120
    plug = next(item for item in document["items"] if item["kind"] == "plug")
    document["items"].append(plug | {"sku": long, "price": 0})
    asked = RETURN | {"exclude": [plug["sku"]]}
    sheet = sheet_of_best(document, asked)
    page = sheet_page(sheet)
    assert long in page
    assert max(map(len, drawn_texts(page))) < 60


@pytest.fixture(scope="module")
def path(app: FastAPI) -> str:
    return f"/v1/bills/{ask(app, QUESTION).json()['bills'][0]['key']}/sheet"


def test_a_page_is_answered_to_who_likes_html_best(app: FastAPI, path: str) -> None:
    """As browsers do; its policy is strict, its other headers are those of the JSON."""
    browser = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"
    page, plain = get(app, path, headers={"Accept": browser}), get(app, path)
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert page.text.startswith("<!doctype html>")
    assert page.headers["content-security-policy"] == POLICY
    assert "unsafe" not in POLICY
    assert POLICY.startswith("default-src 'none'; style-src 'self'")
    assert plain.headers["content-security-policy"] == "default-src 'none'; frame-ancestors 'none'"
    for name in ("x-catalog-revision", "vary", "x-content-type-options", "referrer-policy"):
        assert page.headers[name] == plain.headers[name]
    assert (page.headers["cache-control"], plain.headers["cache-control"]) == ("no-cache", "public, max-age=3600")


def test_each_form_has_its_own_tag(app: FastAPI, path: str) -> None:
    """The tag of one is not taken for the other's; the page's own gives 304, with its policy."""
    page, plain = get(app, path, headers=ACCEPT), get(app, path)
    assert page.headers["etag"] != plain.headers["etag"]
    assert get(app, path, headers=ACCEPT | {"If-None-Match": plain.headers["etag"]}).status_code == 200
    known = get(app, path, headers=ACCEPT | {"If-None-Match": page.headers["etag"]})
    assert (known.status_code, known.content) == (304, b"")
    assert known.headers["vary"] == "Accept, Accept-Encoding"
    assert known.headers["content-security-policy"] == POLICY
    bare = call(app, "HEAD", path, headers=ACCEPT)
    assert (bare.content, bare.headers["content-type"]) == (b"", "text/html; charset=utf-8")
    assert bare.headers["etag"] == page.headers["etag"]


def test_the_stylesheet_is_served(app: FastAPI, path: str) -> None:
    """Where the page says; known by its tag; it is no operation of the API."""
    page = Page(get(app, path, headers=ACCEPT).text)
    [address] = [attributes["href"] for _, attributes in page.tags if attributes.get("rel") == "stylesheet"]
    response = get(app, str(address))
    assert (response.status_code, response.headers["content-type"]) == (200, "text/css; charset=utf-8")
    assert response.content == stylesheet()
    assert get(app, str(address), headers={"If-None-Match": response.headers["etag"]}).status_code == 304
    assert str(address) not in app.openapi()["paths"]


def test_what_pages_are_made_of_is_in_the_package() -> None:
    """Templates and styles lie within the package, so that an installed one has them."""
    web = Path(__file__).parents[2] / "service" / "web"
    assert (web / "templates" / "sheet.html").is_file()
    assert (web / "static" / "sheet.css").is_file()


def test_the_sheet_carries_its_address_and_its_qr_code(app: FastAPI) -> None:
    """By the site's own name, whatever host was asked; it leads to the sheet."""
    key = ask(app, QUESTION).json()["bills"][0]["key"]
    path = f"/v1/bills/{key}/sheet"
    page = get(app, path, headers=ACCEPT).text
    [address] = re.findall(r'<figure class="link"><a href="([^"]+)">', page)
    assert address == f"http://127.0.0.1:8000{path}"
    assert f"<title>QR code: {address}</title>" in page
    for host in ("localhost:99", "[::1]", "127.0.0.1"):
        assert get(app, path, headers=ACCEPT | {"Host": host}).text == page
    assert 'style="' not in page


def test_steps_in_the_same_words_stand_together() -> None:
    """Three boss joints on the bench: three boxes to tick, one text."""
    page = sheet_page(sheet_of_seed(BY_LINE | {"addons": []}))
    [bench] = [article for article in re.split(r"(?=<article)", page)[1:] if "plug-8-hollow" in article]
    assert bench.count('class="do"') == 3
    assert bench.count("New ring on and wetted") == 1


@pytest.mark.parametrize("printed", [False, True])
def test_parts_stand_as_pictures(printed: bool) -> None:
    """Beside the parts of the plan, the extras and the steps; each drawn once on a page, each whole for paper."""
    page = page_of_seed(THROUGH_FLOW, printed=printed)
    pictures = [attributes for tag, attributes in Page(page).tags if tag == "svg" and attributes.get("class") == "pic"]
    sheet = sheet_of_seed(THROUGH_FLOW)
    listed = sum(len(spot["standing"]) + len(spot["beyond"]) for rail in sheet["rails"] for spot in rail["spots"])
    beside = sum(len(step["parts"]) for step in sheet["steps"])
    assert len(pictures) == listed + beside + len(sheet["consumables"])
    referred, drawn = set(re.findall(r'href="#(part-\w+)"', page)), re.findall(r'<symbol id="(part-\w+)"', page)
    assert (set(drawn), len(drawn)) == (referred, len(referred))
    assert bool(referred) != printed
    assert len(page.encode()) < MOST_BYTES
    names = {name for _, attributes in Page(page).tags for name in attributes}
    assert "style" not in names


def test_inches_stand_first_where_they_are_asked_for() -> None:
    """Lengths, pressures, torques and flows, in the drawing as well; what a wrench is sold as stays."""
    page = page_of_seed(THROUGH_FLOW, units="inch")
    read = Page(page).text
    assert "5.68 lbf·ft (7.7 N·m)" in read
    assert "50.8 psi (350 kPa)" in read
    assert "17.5 mm (11/16 in)" in read
    assert not re.search(r"[\d.]+ (?:N·m|kPa|L/h) \([\d.]+", read)
    told = drawn_texts(page)
    assert [words for words in told if words.endswith(" in left")]
    assert not [words for words in told if "mm left" in words]


def test_units_are_asked_for_by_the_address(app: FastAPI, path: str) -> None:
    """Page and code lead on to the same; the JSON has both and stays; another unit is a problem."""
    inch = get(app, f"{path}?units=inch", headers=ACCEPT)
    assert f'href="http://127.0.0.1:8000{path}?units=inch"' in inch.text
    assert f'<a class="units" href="{path}">Millimetres first</a>' in inch.text
    assert get(app, f"{path}?units=inch").content == get(app, path).content
    assert get(app, f"{path}?units=ell").status_code == 422


def _told_today(page: str) -> list[str]:
    return [Page(told).text for told in re.findall(r'<div class="today.*?</div>', page, re.DOTALL)]


def test_a_sheet_of_an_earlier_revision_says_how_things_stand_today(app: FastAPI) -> None:
    """The newest says nothing; an older one leads to today's, without alarm where parts and steps are as they were."""
    keys = [ask(app, QUESTION | {"revision": number}).json()["bills"][0]["key"] for number in (1, 2)]
    old, new = (get(app, f"/v1/bills/{key}/sheet", headers=ACCEPT).text for key in keys)
    assert _told_today(new) == []
    [told] = _told_today(old)
    assert told.startswith("This sheet is of catalog revision 1. Catalog revision 2 has this bill for")
    assert f'<a href="/v1/bills/{keys[1]}/sheet">' in old
    assert 'class="today notice"' not in old
    [told] = _told_today(get(app, f"/bills/{keys[0]}").text)
    assert told.startswith("This bill is of catalog revision 1.")
    assert _told_today(get(app, f"/bills/{keys[1]}").text) == []


def _retired(document: dict[str, Any], sku: str) -> dict[str, Any]:
    items = [item | {"status": "retired"} if item["sku"] == sku else item for item in document["items"]]
    return document | {"items": items}


def _tightened_otherwise(document: dict[str, Any]) -> dict[str, Any]:
    def other(joint: dict[str, Any]) -> dict[str, Any]:
        return joint | {"max_deg": joint["max_deg"] + 1} if joint.get("max_deg") else joint

    return document | {"joints": [other(joint) for joint in document["joints"]]}


def test_a_sheet_that_no_longer_holds_says_so_at_once(tmp_path: Path) -> None:
    """No cache keeps the page; its tag is another once the catalog has changed. The JSON is as it was."""
    document = catalog()
    with library_in(tmp_path / "file", document) as library:
        app = create_app(library, links=links_of(library))
        bill = ask(app, QUESTION).json()["bills"][0]
        path = f"/v1/bills/{bill['key']}/sheet"
        before, plain = get(app, path, headers=ACCEPT), get(app, path)
        library.publish(Catalog.model_validate(_tightened_otherwise(document)))
        otherwise = get(app, path, headers=ACCEPT | {"If-None-Match": before.headers["etag"]})
        assert otherwise.status_code == 200
        assert "Changed since: look at today&#39;s sheet before you build" in otherwise.text
        assert "Its steps or parts are told otherwise today." in otherwise.text
        part = bill["chains"]["centre"][0]
        library.publish(Catalog.model_validate(_retired(document, part)))
        after = get(app, path, headers=ACCEPT)
        assert "Not valid today: do not build by this sheet before you have asked" in after.text
        assert "is no longer made" in after.text
        assert after.text.index('class="today notice"') < after.text.index("Cautions: read these first")
        assert "Not valid today: do not build by this bill" in get(app, f"/bills/{bill['key']}").text
        assert get(app, path).content == plain.content
