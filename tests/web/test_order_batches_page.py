"""Many orders at once over the pages: uploaded, judged bit by bit, watched, downloaded; taken over when left."""

import csv
import errno
import io
import re
import socket
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from threading import Event, Thread
from typing import Any

import pytest
import uvicorn
from fastapi import FastAPI
from httpx import Client, Response

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.documents.request import BillRequest
from service.domain.work import spend
from service.storage.order_batches import OrderBatchStore, StoredBatch
from service.usecases import check_sheet, order_batches
from service.usecases.find_bills import find_bills
from service.usecases.library import Edition, Library
from service.usecases.order_batches import OrderBatches
from service.web import batch_work
from service.web.app import create_app
from service.web.counter.order_batches import PATH, UPLOAD_LIMIT_BYTES
from service.web.counter.visits import SENT_AS
from service.web.pages.rendering import static_file
from tests.support.catalogs import small_catalog
from tests.web.calls import get
from tests.web.conftest import QUESTION, library_in
from tests.web.test_sheet_page import HOSTILE, MOST_BYTES, Page

PATIENCE_S = 30
HEADER = "order,chassis,layout,sku,qty\n"
SHEET = HEADER + "A-1,brook,factory,RAIL-S,1\nB-2,brok,,PLUG-B8,3\nC-3,brook,,PLUG-B8,one\n"


def batches_of(library: Library) -> OrderBatches:
    return OrderBatches(library, OrderBatchStore(library._store._database))


@pytest.fixture(scope="module", name="own")
def _own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """A library of its own: batches are written."""
    with library_in(tmp_path_factory.mktemp("own") / "file", small_catalog()) as opened:
        yield opened


@contextmanager
def served_here(app: FastAPI) -> Iterator[Client]:
    """The application on a free port, in a thread: its work goes on between requests, and tests may change it."""
    with socket.create_server(("127.0.0.1", 0)) as listening:
        server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
        thread = Thread(target=server.run, args=([listening],))
        thread.start()
        try:
            with Client(base_url=f"http://127.0.0.1:{listening.getsockname()[1]}", timeout=PATIENCE_S) as client:
                yield client
        finally:
            server.should_exit = True
            thread.join()


@pytest.fixture(scope="module", name="client")
def _client(own: Library) -> Iterator[Client]:
    with served_here(create_app(own, batches=batches_of(own))) as client:
        yield client


def sent(client: Client, content: str | bytes, name: str = "orders.csv") -> Response:
    token = re.search(r'name="form_token" value="([^"]+)"', client.get(PATH).text)
    assert token
    raw = content.encode() if isinstance(content, str) else content
    return client.post(PATH, data={SENT_AS: token[1]}, files={"orders": (name, raw, "text/csv")})


def done(client: Client, path: str) -> str:
    """The page of a batch when all its orders are judged."""
    until = time.monotonic() + PATIENCE_S
    while "data-watch" in (page := client.get(path).text):
        assert time.monotonic() < until, page
        time.sleep(0.02)
    return page


def rows(client: Client, path: str) -> list[dict[str, str]]:
    response = client.get(f"{path}.csv")
    assert response.status_code == 200
    assert "attachment" in response.headers["content-disposition"]
    return list(csv.DictReader(io.StringIO(response.text)))


def test_an_order_by_the_key_of_a_bill(own: Library, client: Client) -> None:
    """It is compared with that bill; alone it is held against that bill too."""
    bill = find_bills(own, BillRequest.model_validate(QUESTION | {"limit": 1}))["bills"][0]
    bought = [(line["sku"], line["qty"]) for line in bill["lines"] if line["source"] == "buy"]
    keyed = "".join(f"K,{bill['key']},{sku},{qty}\n" for sku, qty in bought)
    path = sent(client, f"order,key,sku,qty\n{keyed}X,1abc,RAIL-S,1\n").headers["Location"]
    done(client, path)
    assert [(row["verdict"], row["fault"]) for row in rows(client, path)] == [
        ("complete", ""),
        ("refused", 'key: found "1abc", expected the key of a known bill'),
    ]
    alone = " ".join(Page(client.get(f"{path}/0").text).text.split())
    assert "Complete Brook hatchback: nothing to change." in alone
    assert "Is it that very bill?" in alone
    unknown = client.get(f"{path}/1")
    assert unknown.status_code == 422
    assert "The bill: expected the key of a bill" in unknown.text


def test_a_file_is_judged_and_its_results_are_downloaded(client: Client) -> None:
    response = sent(client, SHEET)
    assert response.status_code == 303
    path = response.headers["Location"]
    words = " ".join(Page(done(client, path)).text.split())
    assert "3 of 3 orders checked by catalog revision 1" in words
    first, second, third = rows(client, path)
    alone = " ".join(Page(client.get(f"{path}/0").text).text.split())
    assert (first["order"], first["verdict"], first["layout"]) == ("A-1", "short", "factory")
    for wanted in first["add"].split("; "):
        qty, sku = wanted.split(" x ")
        assert f"{qty} \u00d7 {sku}" in alone
        assert f"{qty} x {sku}" in words
    assert "nearest: brook" in second["fault"]
    assert 'line 4, qty: found "one", expected a whole number' in third["fault"]
    assert second["fault"] in words


def test_each_order_that_is_not_complete_leads_to_its_own_page(client: Client) -> None:
    page = done(client, sent(client, SHEET).headers["Location"])
    links = [
        tag[1]["href"]
        for tag in Page(page).tags
        if tag[0] == "a" and re.fullmatch(rf"{PATH}/[0-9a-f]+/[0-9]", tag[1].get("href", ""))
    ]
    assert len(links) == 3
    assert "Short: something is missing" in client.get(links[0]).text


_REFUSED = {
    "nothing": (b"", "the first line lacks"),
    "no order": (HEADER.encode(), "found no order"),
    "a picture": (b"\x89PNG\r\n\x1a\n\xff\xfe", "no text"),
    "another table": (b"name,price\nx,1\n", "the first line lacks order"),
    "hostile": (f"{HOSTILE}\n".encode(), "the first line lacks order"),
}


@pytest.mark.parametrize("name", list(_REFUSED))
def test_a_file_of_another_kind_is_told_on_a_page(client: Client, name: str) -> None:
    content, told = _REFUSED[name]
    response = sent(client, content, f"{HOSTILE}.csv")
    assert response.status_code == 422
    assert told in Page(response.text).text
    assert not [tag for tag in Page(response.text).tags if tag[0] in ("b", "img")]


def test_without_a_file_nothing_is_kept(client: Client) -> None:
    assert sent(client, SHEET, "").status_code == 422
    assert client.post(PATH, data={SENT_AS: "x" * 32}, files={"orders": ("a.csv", b"x")}).status_code == 403


def test_too_much_is_refused(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    assert sent(client, b"x" * UPLOAD_LIMIT_BYTES).status_code == 413
    monkeypatch.setattr(order_batches, "MOST_ORDERS", 2)
    assert "found more than 2 orders, expected at most 2" in Page(sent(client, SHEET).text).text


@pytest.mark.parametrize("path", [f"{PATH}/nowhere", f"{PATH}/nowhere.csv", f"{PATH}/%00", f"{PATH}/.csv"])
def test_an_address_that_nobody_was_given_is_not_found(client: Client, path: str) -> None:
    assert client.get(path).status_code == 404


def test_texts_of_the_file_stay_texts(client: Client) -> None:
    path = sent(client, f'{HEADER}"{HOSTILE.replace(chr(34), chr(34) * 2)}",brook,,RAIL-S,1\n').headers["Location"]
    page = Page(done(client, path))
    assert HOSTILE.split()[0] in page.text
    assert not [tag for tag, _ in page.tags if tag in ("img", "b")]


def test_the_heaviest_batch_is_a_light_page(client: Client) -> None:
    """Orders of 200 lines with long names, and one with a fault in each of its many lines; the CSV has all of it."""
    parts = [item["sku"] for item in small_catalog()["items"]]
    rows_ = [f"{'N' * 200}-{number},brook,,{sku},9" for number in range(60) for sku in parts]
    rows_ += [f"bad,brook,,{parts[0]},many" for _ in range(200)]
    path = sent(client, "order,chassis,layout,sku,qty\n" + "\n".join(reversed(rows_))).headers["Location"]
    page = done(client, path)
    assets = len(static_file("counter.css")) + len(static_file("counter.js"))
    assert "The first 50 to be looked at" in page
    assert len(page.encode()) + assets < MOST_BYTES
    assert len(rows(client, path)) == 61
    fault = rows(client, path)[0]["fault"]
    assert fault.count("expected a whole number") == 20
    assert fault.endswith("; 180 more faults")


def test_an_order_that_breaks_the_judge_spoils_no_other(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    judge = check_sheet.check_order

    def breaks(edition: Edition, order: OrderRequest) -> OrderResult:
        if order.lines[0].qty == 7:
            raise ZeroDivisionError
        return judge(edition, order)

    monkeypatch.setattr(check_sheet, "check_order", breaks)
    path = sent(client, HEADER + "A,brook,,RAIL-S,7\nB,brook,,RAIL-S,1\n").headers["Location"]
    done(client, path)
    first, second = rows(client, path)
    assert "could not be judged" in first["fault"]
    assert second["verdict"] == "short"


def test_a_disk_without_room_is_told(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that comes is put aside on it; what was sent is right, and may be sent again."""

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as narrow:
        narrow.setattr(tempfile.SpooledTemporaryFile, "write", full)
        response = sent(client, SHEET)
    assert (response.status_code, response.headers["retry-after"]) == (507, "60")
    words = " ".join(Page(response.text).text.split())
    assert "There is no room for this now: the file could not be put aside: No space left on device." in words
    assert sent(client, SHEET).status_code == 303


def test_more_files_than_can_wait_are_refused(own: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before they are read. One that waits says so; when there is room again, another is taken."""
    monkeypatch.setattr(batch_work, "MOST_WAITING", 1)
    let = Event()
    judge = check_sheet.check_order

    def held(edition: Edition, order: OrderRequest) -> OrderResult:
        assert let.wait(PATIENCE_S)
        return judge(edition, order)

    monkeypatch.setattr(check_sheet, "check_order", held)
    with served_here(create_app(own, batches=batches_of(own))) as client:
        first = sent(client, SHEET).headers["Location"]
        until = time.monotonic() + PATIENCE_S
        while "waiting for its turn" in client.get(first).text:  # this one is worked at
            assert time.monotonic() < until
        second = sent(client, SHEET).headers["Location"]
        assert "waiting for its turn" in client.get(second).text
        refused = sent(client, SHEET)
        assert refused.status_code == 507
        assert "files of orders are waiting to be checked" in refused.text
        let.set()
        done(client, first)
        assert "waiting for its turn" not in done(client, second)
        assert sent(client, SHEET).status_code == 303


def test_a_small_file_does_not_wait_for_a_large_one(client: Client, own: Library) -> None:
    """They are worked at in turns; and a question is answered meanwhile."""
    large = sent(client, HEADER + "".join(f"L-{n},brook,factory,RAIL-S,1\n" for n in range(400))).headers["Location"]
    small = sent(client, SHEET).headers["Location"]
    assert client.get("/ask").status_code == 200
    done(client, small)
    assert "data-watch" in client.get(large).text
    done(client, large)
    assert len(rows(client, large)) == 400


def test_an_order_that_takes_too_much_is_refused_alone(own: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    judge = check_sheet.check_order

    def costly(edition: Edition, order: OrderRequest) -> OrderResult:
        spend(10**9 if order.lines[0].qty == 7 else 1, "order")
        return judge(edition, order)

    monkeypatch.setattr(check_sheet, "check_order", costly)
    with served_here(create_app(own, batches=batches_of(own))) as client:
        path = sent(client, HEADER + "A,brook,,RAIL-S,7\nB,brook,,RAIL-S,1\n").headers["Location"]
        done(client, path)
        first, second = rows(client, path)
    assert first["fault"].startswith("this order takes more work than is done for one")
    assert second["verdict"] == "short"


@pytest.fixture(name="left")
def _left(own: Library) -> str:
    """A batch whose process ended after some of its orders."""
    gone = batches_of(own)
    orders = "".join(f"O-{number},brook,factory,RAIL-S,1\n" for number in range(5))
    id_ = gone.keep(io.BytesIO((HEADER + orders).encode()))
    claim = gone.claim(id_)
    gone.record(claim, [gone.judge(claim, claim.orders[0])])
    return id_


def test_who_works_at_a_batch_is_not_disturbed(client: Client, own: Library, left: str) -> None:
    assert not batches_of(own).claim(left).orders
    assert "1 of 5 orders checked" in " ".join(Page(client.get(f"{PATH}/{left}").text).text.split())
    response = client.get(f"{PATH}/{left}.csv")
    assert (response.status_code, response.headers["Location"]) == (303, f"{PATH}/{left}")


def test_a_batch_that_was_left_is_taken_over_by_who_looks(
    client: Client, left: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Later(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> datetime:
            return datetime.now(tz or UTC) + timedelta(seconds=order_batches.LEASE_S + 1)

    monkeypatch.setattr(order_batches, "datetime", Later)
    done(client, f"{PATH}/{left}")
    assert [row["order"] for row in rows(client, f"{PATH}/{left}")] == [f"O-{number}" for number in range(5)]


def test_the_page_refreshes_itself_without_script(client: Client, left: str) -> None:
    page = client.get(f"{PATH}/{left}").text
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in page
    assert "data-watch" in page


def test_an_application_without_batches_says_so(app: FastAPI) -> None:
    assert get(app, f"{PATH}/any").status_code == 503


def test_no_more_batches_are_kept_than_there_is_room_for(own: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """Refused with a time to come again, before the file is looked at; none past its end counts."""
    store = OrderBatchStore(own._store._database)
    kept = store.count()
    long_ago = datetime.now(UTC) - timedelta(days=order_batches.KEPT_DAYS + 1)
    store.save(StoredBatch("long-ago", 1, long_ago, "nobody", long_ago), [])
    assert store.count() == kept
    monkeypatch.setattr(order_batches, "MOST_BATCHES", kept + 1)
    with served_here(create_app(own, batches=batches_of(own))) as client:
        assert sent(client, SHEET).status_code == 303
        monkeypatch.setattr("service.web.counter.order_batches.sent_form", None)
        refused = sent(client, SHEET)
    assert refused.status_code == 507
    assert refused.headers["Retry-After"] == "60"
    assert "as many files of orders are kept as may be" in refused.text
