"""The assembly sheet as PDF, where the extra for it is installed; and what is answered where it is not."""

import sys
from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from math import hypot
from urllib.parse import urlencode

import pytest
from fastapi import FastAPI
from pypdf import PdfReader

from service.web.pages import pdf
from service.web.pages.rendering import stylesheet
from service.web.pages.sheet import sheet_page
from tests.explain.sheets import SITUATIONS, THROUGH_FLOW, TWO_BANKS, sheet_of_seed
from tests.support.required import require_or_skip
from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION
from tests.web.sheet_pages import page_of_seed

PDF = "application/pdf"
ACCEPT = {"Accept": PDF}
A4_PT = (595, 842)


@pytest.fixture
def installed() -> None:
    """What the tests of a PDF need."""
    lacking = pdf.missing()
    if lacking is not None:
        require_or_skip("pdf", lacking)


@pytest.fixture
def without() -> Iterator[None]:
    """As if the extra were not installed: an import of it fails as an import of nothing does."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(sys.modules, "weasyprint", None)
        pdf._library.cache_clear()
        yield
    pdf._library.cache_clear()


@pytest.fixture(scope="module")
def path(app: FastAPI) -> str:
    return f"/v1/bills/{ask(app, QUESTION).json()['bills'][0]['key']}/sheet"


def read(content: bytes) -> PdfReader:
    assert content.startswith(b"%PDF-")
    return PdfReader(BytesIO(content))


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


LINK = f"https://parts.example.org/v1/bills/{'k' * 400}/sheet"


LONGEST = {"chassis": "fennic-16", "layout": "return-6-regulator", "gauge": "any", "addons": ["strut-brace"]}
"""Of all cars with one bank, layouts and add-ons of the seed the sheet with most to say."""
CROWDED = {"chassis": "fennic-16", "layout": "bulkhead-centre", "gauge": "any"} | {
    "addons": ["blower-tor", "strut-brace", "turbo-tor"]
}
PRINTED = {**SITUATIONS, "longest_of_one_bank": LONGEST, "with_every_add_on": CROWDED}


@pytest.mark.pdf
@pytest.mark.parametrize("name", PRINTED)
def test_a_sheet_goes_on_two_sides_of_a4(installed: None, name: str) -> None:
    """One bank on two sides, two banks on at most four; the body in 10 pt, the drawing in 8, with its link whole."""
    reader = read(pdf.pdf_of(page_of_seed(PRINTED[name], link=LINK, printed=True)))
    assert len(reader.pages) <= (4 if PRINTED[name] is TWO_BANKS else 2)
    for page in reader.pages:
        assert (round(page.mediabox.width), round(page.mediabox.height)) == A4_PT
    sizes = sizes_of_letters(reader)
    assert min(sizes) >= 7.9
    assert sum(letters for size, letters in sizes.items() if size >= 9.9) > 0.95 * sum(sizes.values())
    links = [note.get_object()["/A"]["/URI"] for page in reader.pages for note in page.get("/Annots", [])]
    assert set(links) == {LINK}


def sizes_of_letters(reader: PdfReader) -> Counter[float]:
    """How many letters there are of each size [pt], as they come out on paper."""
    found: Counter[float] = Counter()

    def visit(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        found[round(size * hypot(*cm[:2]) * hypot(*tm[:2]), 1)] += len(text.strip())

    for page in reader.pages:
        page.extract_text(visitor_text=visit)
    return Counter({size: letters for size, letters in found.items() if letters})


@pytest.mark.pdf
def test_it_reads_from_cautions_to_the_last_check(installed: None) -> None:
    """All is there, in the order of the sheet, under its title and in its language."""
    sheet = sheet_of_seed(THROUGH_FLOW)
    reader = read(pdf.pdf_of(sheet_page(sheet, stylesheet=None)))
    text = words(reader)
    milestones = ["Cautions: read these first", "What goes where", "Have ready", "Steps, in working order"]
    milestones += ["Bring the fuel to zero pressure", "never by its case", "Set the spacers", "Leak check, engine off"]
    places = [text.index(milestone) for milestone in milestones]
    assert places == sorted(places)
    assert "7.7 N·m (5.68 lbf·ft)" in text
    assert "8 mm left" in text
    assert reader.metadata is not None
    assert reader.metadata.title == f"Assembly sheet: {sheet['title']}"
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


@pytest.mark.pdf
def test_the_same_page_gives_the_same_bytes(installed: None) -> None:
    """Also when it is made anew, as another worker does: its tag is the same everywhere."""
    page = sheet_page(sheet_of_seed(THROUGH_FLOW), stylesheet=None)
    first = pdf.pdf_of(page)
    pdf.pdf_of.cache_clear()
    assert pdf.pdf_of(page) == first


@pytest.mark.pdf
def test_nothing_is_fetched(installed: None) -> None:
    """An address in a page, of the network or of a file, stays unread; the page is made all the same."""
    page = '<html><body><img src="file:///etc/hostname"><img src="http://127.0.0.1:9/x.png"><p>Here.</p></body></html>'
    reader = read(pdf.pdf_of(page))
    assert "Here." in words(reader)
    assert not any(page.images for page in reader.pages)


@pytest.mark.pdf
def test_who_likes_pdf_best_is_answered_so(installed: None, app: FastAPI, path: str) -> None:
    """With a tag of its own, which gives 304; HEAD is as GET."""
    response = get(app, path, headers=ACCEPT)
    assert (response.status_code, response.headers["content-type"]) == (200, PDF)
    assert len(read(response.content).pages) <= 2
    plain = get(app, path)
    assert response.headers["etag"] not in (
        plain.headers["etag"],
        get(app, path, headers={"Accept": "text/html"}).headers["etag"],
    )
    for name in ("x-catalog-revision", "content-security-policy"):
        assert response.headers[name] == plain.headers[name]
    assert response.headers["cache-control"] == "no-cache"
    assert response.headers["vary"] == "Accept"  # a PDF is compressed within
    known = get(app, path, headers=ACCEPT | {"If-None-Match": response.headers["etag"]})
    assert (known.status_code, known.content) == (304, b"")
    bare = call(app, "HEAD", path, headers=ACCEPT)
    assert (bare.status_code, bare.content, bare.headers["etag"]) == (200, b"", response.headers["etag"])


def test_without_the_extra_it_is_told_what_to_install(without: None, app: FastAPI, path: str) -> None:
    """To who takes nothing else; others get what they like next."""
    response = get(app, path, headers=ACCEPT)
    found = problem(response, 406, "not-acceptable")
    assert "portwright[pdf]" in found["detail"]
    [(place, _, expected)] = told(found)
    assert (place, expected) == ("Accept", "one of application/json, text/html")
    assert response.headers["vary"] == "Accept"
    page = get(app, path, headers={"Accept": f"{PDF}, text/html;q=0.5"})
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert get(app, path).status_code == 200


def test_libraries_that_are_not_there_are_told_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """The package without Pango fails with an error of the system, not of the import."""

    def failing(_: str) -> None:
        raise OSError("cannot load library 'libpango-1.0-0'")

    pdf._library.cache_clear()
    with monkeypatch.context() as patch:
        patch.setattr(pdf.importlib, "import_module", failing)
        assert "Pango" in str(pdf.missing())
    pdf._library.cache_clear()


def test_the_stylesheet_prints_on_a4() -> None:
    """What the PDF goes by is in the one stylesheet."""
    assert b"@page { size: A4;" in stylesheet()
    assert b"@media print" in stylesheet()


@pytest.mark.usefixtures("installed")
def test_a_link_leads_to_the_same_pdf(app: FastAPI) -> None:
    key = ask(app, QUESTION).json()["bills"][0]["key"]
    assert f'href="/bills/{key}/sheet.pdf"' in get(app, f"/ask?{urlencode(QUESTION)}").text
    linked = get(app, f"/bills/{key}/sheet.pdf", headers={"Accept": "text/html"})
    assert (linked.status_code, linked.headers["content-type"]) == (200, PDF)
    assert linked.content == get(app, f"/v1/bills/{key}/sheet", headers=ACCEPT).content
    assert get(app, "/bills/nothing/sheet.pdf").status_code == 404


@pytest.mark.usefixtures("without")
def test_a_link_without_the_extra_tells_what_is_missing(app: FastAPI) -> None:
    key = ask(app, QUESTION).json()["bills"][0]["key"]
    response = get(app, f"/bills/{key}/sheet.pdf")
    assert response.status_code == 406
    assert "portwright[pdf]" in response.text
