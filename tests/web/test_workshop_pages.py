"""The pages of the workshop over HTTP, with scripting off: drafts by forms, their impact, publishing, what is next."""

import re
from collections.abc import Iterator
from html import unescape
from io import BytesIO
from pathlib import Path
from time import monotonic, sleep
from urllib.parse import urlencode
from zipfile import ZipFile

import httpx
import pytest

from service.documents.inquiry import SentInquiry
from service.usecases.library import Library
from service.web.app import create_app
from service.web.counter.visits import KEPT_IN, SENT_AS
from tests.support.catalogs import small_catalog
from tests.support.keeping import kept_inquiry
from tests.web.calls import Caller, caller
from tests.web.conftest import drafts_of, inquiries_of, library_in
from tests.web.test_sheet_page import Page

TOKEN = "t" * 32
PATIENCE_S = 30


class Desk:
    """Somebody in the workshop, with forms as pages give them."""

    def __init__(self, client: Caller) -> None:
        self._client = client

    def get(self, path: str, status: int = 200) -> str:
        answer = self._client.get(path, headers={"Accept": "text/html", "Cookie": f"{KEPT_IN}={TOKEN}"})
        assert answer.status_code == status, answer.text
        return answer.text

    def post(self, path: str, fields: dict[str, str]) -> httpx.Response:
        sent = urlencode({SENT_AS: TOKEN} | fields).encode()
        kind = "application/x-www-form-urlencoded"
        return self._client.post(path, content=sent, headers={"Content-Type": kind, "Cookie": f"{KEPT_IN}={TOKEN}"})

    def send_file(self, path: str, name: str, content: bytes, fields: dict[str, str]) -> httpx.Response:
        """Send a form with a file, as a browser does without a script."""
        cookie = {"Cookie": f"{KEPT_IN}={TOKEN}"}
        return self._client.post(
            path, data={SENT_AS: TOKEN} | fields, files={"tables": (name, content)}, headers=cookie
        )

    def file(self, path: str) -> bytes:
        answer = self._client.get(path, headers={"Cookie": f"{KEPT_IN}={TOKEN}"})
        assert answer.status_code == 200, answer.text
        assert "attachment" in answer.headers["content-disposition"]
        return answer.content

    def done(self, path: str, fields: dict[str, str]) -> str:
        """Send a form and give where it leads."""
        answer = self.post(path, fields)
        assert answer.status_code == 303, answer.text
        return answer.headers["location"]

    def worked_out(self, path: str) -> str:
        """A page once nothing of it is waited for."""
        until = monotonic() + PATIENCE_S
        while " data-watch" in (page := self.get(path)):
            assert monotonic() < until
            sleep(0.05)
        return page

    def begun(self, name: str = "spring") -> str:
        return self.done("/workshop", {"name": name, "author": "Ada"})


def fields_of(page: str) -> dict[str, str]:
    """The fields of the form of an object, as a browser would send them."""
    form = page[page.index('id="edit"') :]
    form = form[: form.index("</form>")]
    found = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name = re.search(r'name="([^"]*)"', tag)
        value = re.search(r'value="([^"]*)"', tag)
        if name:
            found[unescape(name[1])] = unescape(value[1]) if value else ""
    for name, inner in re.findall(r'<textarea[^>]*name="([^"]*)"[^>]*>([^<]*)</textarea>', form):
        found[name] = unescape(inner)
    for attributes, inner in re.findall(r"<select([^>]*)>(.*?)</select>", form, re.DOTALL):
        name = re.search(r'name="([^"]*)"', attributes)
        chosen = re.search(r'<option value="([^"]*)" selected>', inner)
        assert name
        found[name[1]] = unescape(chosen[1]) if chosen else ""
    return found


def hookups(fields: dict[str, str]) -> int:
    """How many hookups a form has."""
    return sum(name.startswith("/hookups/") and name.endswith("/standard") for name in fields)


def words(page: str) -> str:
    return " ".join(Page(page).text.split())


@pytest.fixture(name="library", scope="module")
def _library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with library_in(tmp_path_factory.mktemp("workshop") / "file", small_catalog()) as library:
        yield library


@pytest.fixture(name="client", scope="module")
def _client(library: Library) -> Iterator[Caller]:
    app = create_app(library, kept_inquiries=inquiries_of(library), kept_drafts=drafts_of(library))
    with caller(app) as client:
        yield client


@pytest.fixture(name="desk", scope="module")
def _desk(client: Caller) -> Desk:
    return Desk(client)


def test_every_object_comes_back_from_its_form_as_it_was(desk: Desk, library: Library) -> None:
    """Saving a form as it is shown changes nothing, whatever the section."""
    draft = desk.begun()
    for section, texts in library.edition().catalog.texts.items():
        for key in [*texts][:2]:
            path = f"{draft}/edit/{section}/{key}"
            assert desk.done(path, fields_of(desk.get(path)) | {"do": "save"})
    assert "Nothing yet" in desk.get(draft)


def test_a_new_part_from_a_like_one_is_seen_and_published_with_a_reason(desk: Desk) -> None:
    draft = desk.begun("a cheaper plug")
    new = f"{draft}/new/items?like=PLUG-B8"
    fields = fields_of(desk.get(new)) | {"/sku": "PLUG-9", "/price": "1,00", "author": "Bo", "do": "save"}
    page = desk.post(new.partition("?")[0], fields | {"/price": "much", "/ports/0/standard": ""})
    assert page.status_code == 422
    assert "Expected a number; found &#34;much&#34;" in page.text
    assert "This has to be told." in page.text
    assert fields_of(page.text)["/sku"] == "PLUG-9"
    path = desk.done(new.partition("?")[0], fields)
    told = words(desk.worked_out(path))
    assert "Saved in the draft" in told
    assert "the best bill takes" in told
    shown = words(desk.worked_out(draft))
    assert "added" in shown
    assert desk.post(f"{draft}/publish", {"author": "Bo"}).status_code == 422
    desk.worked_out(f"{draft}/publish")
    made = desk.done(f"{draft}/publish", {"author": "Bo", "reason": "cheaper"})
    page = words(desk.get(made))
    assert "Bo, " in page
    assert "cheaper" in page
    assert "PLUG-9" in page
    assert desk.get(draft).count("It was published as") == 1
    assert "PLUG-9" in desk.get("/workshop/diff?from=1&to=2")


def test_two_at_one_part_lose_nothing(desk: Desk) -> None:
    """What only one changed is kept of both; what both changed stands twice, until one says which."""
    path = f"{desk.begun()}/edit/items/PLUG-B8"
    seen = fields_of(desk.get(path))
    desk.done(path, seen | {"/price": "9.50", "/stock": "3", "author": "Bo", "reason": "counted", "do": "save"})
    clash = desk.post(path, seen | {"/price": "8.00", "/mass_g": "20", "author": "Cleo", "do": "save"})
    assert clash.status_code == 409
    told = words(clash.text)
    assert "Bo changed it (Price, In stock) at" in told
    assert "counted" in told
    assert "What only they changed is in the form now: In stock" in told
    assert "Price OVC 8.00 OVC 9.50" in told
    mine = fields_of(clash.text)
    assert (mine["/price"], mine["/stock"], mine["/mass_g"]) == ("8.00", "3", "20")
    theirs = fields_of(desk.post(path, mine | {"do": "theirs:price"}).text)
    assert (theirs["/price"], theirs["/mass_g"]) == ("9.50", "20")
    desk.done(path, mine | {"do": "save"})
    saved = fields_of(desk.get(path))
    assert (saved["/price"], saved["/stock"], saved["/mass_g"]) == ("8.00", "3", "20")


def test_rows_come_and_go_and_fields_keep_what_was_typed(desk: Desk) -> None:
    path = f"{desk.begun()}/edit/chassis/brook"
    typed = fields_of(desk.get(path)) | {"/stock_kw": "77"}
    more = fields_of(desk.post(path, typed | {"do": "add:/hookups"}).text)
    assert hookups(more) == hookups(typed) + 1
    assert more["/stock_kw"] == "77"
    fewer = fields_of(desk.post(path, more | {"do": "drop:/hookups/0"}).text)
    assert hookups(fewer) == hookups(typed)
    group = desk.post(path, more | {"do": "add:/tank"})
    assert "/tank/fuel_c" in fields_of(group.text)


def test_a_new_car_from_a_like_one_is_asked_of_every_layout(desk: Desk) -> None:
    draft = desk.begun("a new car")
    fields = fields_of(desk.get(f"{draft}/new/chassis?like=brook"))
    path = desk.done(f"{draft}/new/chassis", fields | {"/id": "burn", "/name": "Burn 2.2", "do": "save"})
    assert "new question" in words(desk.worked_out(path))
    taken = desk.post(f"{draft}/new/chassis", fields | {"/id": "heron", "/name": "Another", "do": "save"})
    assert taken.status_code == 422
    assert "one that the draft does not have yet" in taken.text


def test_what_does_not_hold_together_stands_beside_its_field(desk: Desk) -> None:
    draft = desk.begun()
    path = f"{draft}/edit/chassis/brook"
    desk.done(path, fields_of(desk.get(path)) | {"/mounting/0/sku": "SCREW-7", "do": "save"})
    page = desk.get(path)
    beside = page[page.index('id="f/mounting/0/sku"') :]
    assert "found &#34;SCREW-7&#34;" in beside[: beside.index("</div>")]
    assert "a part of the catalog" in beside[: beside.index("</div>")]
    assert "What does not hold together" in desk.get(draft)
    assert desk.done(f"{draft}/do/chassis/brook", {"do": "back"}) == f"{path}?saved=yes"
    assert "Nothing yet" in desk.get(draft)


def test_a_part_is_retired_removed_and_put_back(desk: Desk) -> None:
    draft = desk.begun()
    act = f"{draft}/do/items/PLUG-T"
    desk.done(act, {"do": "retire", "successor": "PLUG-B8", "author": "Bo"})
    told = words(desk.get(draft))
    assert "Status before: active now: retired" in told
    desk.done(act, {"do": "remove", "author": "Bo"})
    assert "removed" in words(desk.get(draft))
    assert "It is removed in this draft" in desk.get(f"{draft}/edit/items/PLUG-T")
    desk.done(act, {"do": "back", "author": "Bo"})
    assert "Nothing yet" in desk.get(draft)
    trail = words(desk.get(f"{draft}/trail"))
    assert "Bo removed part PLUG-T" in trail


def test_a_draft_that_is_behind_is_moved_and_conflicts_are_shown(desk: Desk, library: Library) -> None:
    draft = desk.begun("behind")
    path = f"{draft}/edit/items/SEAL-B8"
    desk.done(path, fields_of(desk.get(path)) | {"/price": "2.22", "do": "save"})
    catalog = library.edition().catalog.whole()
    items = [x.model_copy(update={"price": 333}) if x.sku == "SEAL-B8" else x for x in catalog.items]
    library.publish(catalog.model_copy(update={"items": items}))
    assert "1 revision behind" in words(desk.get(draft))
    assert "is not the newest any more" in desk.get(f"{draft}/publish")
    clash = desk.post(f"{draft}/rebase", {"author": "Bo"})
    assert clash.status_code == 409
    assert "OVC 2.22" in clash.text
    assert "OVC 3.33" in clash.text
    desk.done(f"{draft}/rebase", {"author": "Bo", "keep": "draft"})
    assert "before: OVC 3.33 now: OVC 2.22" in words(desk.get(draft))
    first = f"/workshop/revisions/{library.newest() - 1}"
    desk.worked_out(f"{first}/restore")
    assert desk.done(f"{first}/restore", {"author": "Bo", "reason": "back to it", "accept": "known"})
    desk.done(f"{draft}/discard", {"author": "Bo", "sure": "yes"})
    desk.get(draft, status=404)


def test_from_an_unanswered_inquiry_to_now_answered(tmp_path: Path) -> None:
    """The part that is lacking is shown, tried in a draft at a touch, and the inquiry says that it is answered."""
    poor = small_catalog()
    poor["items"] = [item for item in poor["items"] if item["sku"] != "SPIGOT-B8-Q"]
    with library_in(tmp_path / "file", poor) as library:
        inquiries = inquiries_of(library)
        asked = {"request": {"chassis": "brook", "layout": "factory"}, "contact": "una@example.org", "note": "Please."}
        kept = kept_inquiry(inquiries, SentInquiry.model_validate(asked))
        app = create_app(library, kept_inquiries=inquiries, kept_drafts=drafts_of(library))
        with caller(app) as client:
            desk = Desk(client)
            assert "still without a bill" in words(desk.worked_out("/inquiries"))
            page = desk.worked_out("/workshop/next-parts")
            part = re.search(r'name="part" value="([^"]*)"', page)
            assert part
            told = words(page)
            assert 0 < told.count("Factory line (asked as well)") == told.count("Brook hatchback, Factory line")
            to = desk.done("/workshop/next-parts", {"part": part[1], "author": "Bo"})
            assert "gained" in words(desk.worked_out(to))
            draft = to.partition("/edit/")[0].rpartition("/")[2]
            told = words(desk.worked_out(f"/inquiries?draft={draft}"))
            assert "Now answered by the draft" in told
            assert "OVC" in told
            one = f"/inquiries/{kept.id}/answer"
            form = desk.get(one)
            tag = re.search(r'name="tag" value="([^"]*)"', form)
            assert tag
            answer = {"tag": unescape(tag[1]), "status": "answered"}
            assert desk.post(one, answer | {"reply": ""}).status_code == 422
            assert desk.done(one, answer | {"reply": "Soon."}) == "/inquiries"
            assert desk.post(one, answer | {"reply": "Never."}).status_code == 409
            assert "Soon." in desk.worked_out("/inquiries?status=answered")
            assert "una@example.org" not in desk.get("/inquiries")


def test_the_workshop_takes_its_own_forms_alone(desk: Desk, client: Caller) -> None:
    assert client.post("/workshop", data={"name": "x"}).status_code == 403
    assert desk.post("/workshop", {"name": " "}).status_code == 422
    for path in ("/workshop/none", "/workshop/revisions/99", "/workshop/diff?from=0", "/workshop/none/list/items"):
        desk.get(path, status=404)


def test_which_fuel_is_the_first_is_an_edit(desk: Desk, library: Library) -> None:
    """It is told as one change, with what it does; putting the former first again takes it back."""
    draft = desk.begun("another fuel first")
    former, other, *_ = library.edition().catalog.texts["fuels"]
    page = desk.get(f"{draft}/list/fuels")
    tag = re.search(r'name="tag" value="([^"]*)"', page)
    assert tag
    assert f'name="first" value="{other}"' in page
    assert f'name="first" value="{former}"' not in page
    assert desk.post(f"{draft}/first-fuel", {"first": "sea-water", "tag": unescape(tag[1])}).status_code == 422
    desk.done(f"{draft}/first-fuel", {"first": other, "tag": unescape(tag[1]), "author": "Bo"})
    assert desk.post(f"{draft}/first-fuel", {"first": former, "tag": unescape(tag[1])}).status_code == 412
    shown = words(desk.worked_out(draft))
    assert "Which fuel is the first" in shown
    assert "changed order of fuels" in words(desk.get(f"{draft}/trail"))
    assert f'name="first" value="{former}"' in desk.get(f"{draft}/list/fuels")
    desk.done(f"{draft}/first-fuel", {"first": former})
    assert "Nothing yet" in desk.get(draft)


@pytest.mark.parametrize("form", ["xlsx", "zip"])
def test_a_draft_is_taken_away_as_tables_and_brought_back(desk: Desk, form: str) -> None:
    """Nothing changes where nothing was edited, and what the draft has is in the tables."""
    draft = desk.begun("tables")
    fields = fields_of(desk.get(f"{draft}/edit/items/PLUG-B8")) | {"/price": "7,77", "do": "save"}
    desk.done(f"{draft}/edit/items/PLUG-B8", fields)
    file = desk.file(f"{draft}/tables.{form}")
    back = desk.send_file(f"{draft}/tables", f"draft.{form}", file, {"do": "take"})
    assert back.status_code == 200
    assert "the tables say what the draft has already" in words(back.text)
    other = desk.begun("elsewhere")
    tried = desk.send_file(f"{other}/tables", f"draft.{form}", file, {"do": "try"})
    assert "Tried, nothing is kept: 1 object becomes another" in words(tried.text)
    assert "Nothing yet" in desk.get(other)
    taken = desk.send_file(f"{other}/tables", f"draft.{form}", file, {"do": "take", "author": "Cy"})
    assert ">PLUG-B8</a>: price" in taken.text
    assert "Cy" in desk.get(f"{other}/trail")


def test_what_is_wrong_with_tables_is_told_by_sheet_row_and_column(desk: Desk) -> None:
    """With what stood there and what would be right; nothing is taken."""
    draft = desk.begun("spoilt tables")
    files = ZipFile(BytesIO(desk.file(f"{draft}/tables.zip")))
    items = files.read("items.csv").decode("utf-8-sig").splitlines()
    row = next(place for place, line in enumerate(items) if line.startswith("PLUG-B8,"))
    column = items[0].split(",").index("kind")
    cells = items[row].split(",")
    cells[column] = "plugg"
    items[row] = ",".join(cells)
    spoilt = "\n".join(items).encode()
    answer = desk.send_file(f"{draft}/tables", "items.csv", spoilt, {"do": "take", "reason": "prices"})
    assert answer.status_code == 422
    cells = [" ".join(unescape(x).split()) for x in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", answer.text, re.DOTALL)]
    assert cells[5:9] == ["items", str(row + 1), "kind", '"plugg"']
    assert "plug" in cells[9]
    assert 'value="prices"' in answer.text  # what was typed is there again
    assert desk.send_file(f"{draft}/tables", "photo.png", b"\x89PNG", {"do": "take"}).status_code == 422
    assert desk.post(f"{draft}/tables", {"do": "take"}).status_code == 422
    assert "Nothing yet" in desk.get(draft)
