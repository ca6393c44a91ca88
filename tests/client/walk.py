"""A partner's program: from a car to what is sent when the catalog changes, by the client as it is installed.

python walk.py ADDRESS [KEY]
"""

import asyncio
import sys
from collections.abc import Generator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from queue import Queue
from threading import Thread

from portwright_client import AsyncClient, Client, InvalidRequestError, is_signed, operations
from portwright_client.schemas import BillRequest, Chassis, FoundBill, OrderLineAsked

Message = tuple[dict[str, str], bytes]


def main() -> None:
    """Walk once at once and once awaited."""
    address, key = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else None
    with Client(address, key=key) as api:
        bill_key = walk(api)
    again = asyncio.run(walk_again(address, key, bill_key))
    print(f"walked: {bill_key}, {again} cars")


def walk(api: Client) -> str:
    """Car, layouts, bills, key, order check, changes, webhook; the key of the bill."""
    car = next(api.each(operations.list_chassis(limit=1)))
    question = first_question(api, car)
    bill = first_bill(api, question)
    recalled = api.recall_bill(bill["key"])
    assert recalled["bill"]["price"] == bill["price"]
    bought: list[OrderLineAsked] = [
        {"sku": line["sku"], "qty": line["qty"]} for line in bill["lines"] if line["source"] == "buy"
    ]
    check = api.check_order({"key": bill["key"], "lines": bought}, idempotency_key=f"walk-{bill['key']}"[:255])
    assert check["verdict"] == "complete", check["verdict"]
    changes = api.list_changes(since=1)
    assert changes["since"] == 1
    receive(api)
    refused(api, question)
    return bill["key"]


def first_question(api: Client, car: Chassis) -> BillRequest:
    """The first layout that has a bill."""
    for layout in api.list_chassis_layouts(car["id"])["layouts"]:
        if layout["total_valid"]:
            return {"chassis": car["id"], "layout": layout["layout"], "limit": 1}
    raise AssertionError(car["id"])


def first_bill(api: Client, question: BillRequest) -> FoundBill:
    """The best bill; the same by query, and not again while it is still right."""
    answer = api.find_bills(question)
    asked = operations.find_bills_by_query(chassis=question["chassis"], layout=question["layout"], limit=1)
    fetched = api.send(asked.fetched())
    assert fetched.content is not None
    assert fetched.content["bills"] == answer["bills"]
    assert api.send(asked.fetched(fetched.etag)).content is None
    return answer["bills"][0]


def refused(api: Client, question: BillRequest) -> None:
    """A misspelt car is told with its place and the nearest."""
    try:
        api.find_bills({**question, "chassis": question["chassis"] + "x"})
    except InvalidRequestError as error:
        faults = error.errors
    else:
        raise AssertionError("it is not refused")
    assert [fault.get("pointer") for fault in faults] == ["#/chassis"]
    assert question["chassis"] in faults[0].get("nearest", [])


def receive(api: Client) -> None:
    """A webhook of this program's own is tried, and what comes is signed."""
    with listening() as (url, came):
        made = api.make_webhook({"url": url, "events": ["revision.published"]})
        api.ping_webhook(made["id"])
        headers, body = came.get(timeout=60)
        assert is_signed(made.get("secret", ""), headers, body)
        assert not is_signed(made.get("secret", ""), headers, body + b" ")
        assert made["id"] in [one["id"] for one in api.list_webhooks()["results"]]
        api.delete_webhook(made["id"])


@contextmanager
def listening() -> Generator[tuple[str, "Queue[Message]"], None, None]:
    """A receiver of news on this machine, with what came to it."""
    came: Queue[Message] = Queue()

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            came.put((dict(self.headers.items()), body))
            self.send_response(204)
            self.end_headers()

        def log_message(self, format: str, *args: object) -> None:  # noqa: A002  its name there
            """Say nothing."""

    with HTTPServer(("127.0.0.1", 0), Handler) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/", came
        server.shutdown()


async def walk_again(address: str, key: str | None, bill_key: str) -> int:
    """The bill again, with its sheet as a page, and how many cars there are."""
    async with AsyncClient(address, key=key) as api:
        recalled = await api.recall_bill(bill_key)
        sheet = await api.get_sheet(bill_key)
        page = await api.send(operations.get_sheet(bill_key).as_bytes("text/html"))
        assert recalled["bill"]["key"] == sheet["key"] == bill_key
        assert page.startswith(b"<!doctype html>")
        return len([car async for car in api.each(operations.list_chassis(limit=2))])


if __name__ == "__main__":
    main()
