"""A proxy before a real server that breaks one promise: what is asked goes on, what is answered is corrupted."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any

import httpx

_HOP = {"connection", "transfer-encoding", "content-length", "host", "server", "date", "accept-encoding"}


@dataclass
class Answered:
    """An answer on its way through, with what it answers."""

    method: str
    path: str
    status: int
    headers: dict[str, str]
    content: bytes
    asked: dict[str, str] = field(default_factory=dict)

    @property
    def is_bills(self) -> bool:
        return self.path.split("?")[0] == "/v1/bills" and self.status == 200

    def edited(self, edit: Callable[[dict[str, Any]], None]) -> "Answered":
        document = json.loads(self.content)
        edit(document)
        return replace(self, content=json.dumps(document).encode())

    def without(self, name: str) -> "Answered":
        return replace(self, headers={key: value for key, value in self.headers.items() if key.lower() != name})


Corrupt = Callable[[Answered], Answered]


def same(answered: Answered) -> Answered:
    return answered


def wrong_total(answered: Answered) -> Answered:
    return answered.edited(lambda x: x.update(total_valid=x["total_valid"] + 1)) if answered.is_bills else answered


def wrong_price(answered: Answered) -> Answered:
    def edit(document: dict[str, Any]) -> None:
        for bill in document["bills"]:
            bill["price"] += 1

    return answered.edited(edit) if answered.is_bills else answered


def reordered_bills(answered: Answered) -> Answered:
    return answered.edited(lambda x: x["bills"].reverse()) if answered.is_bills else answered


def lost_line(answered: Answered) -> Answered:
    def edit(document: dict[str, Any]) -> None:
        for bill in document["bills"]:
            standing = {sku for chain in bill["chains"].values() for sku in chain}
            bill["lines"] = [line for line in bill["lines"] if line["sku"] not in standing]

    return answered.edited(edit) if answered.is_bills else answered


def missing_etag(answered: Answered) -> Answered:
    return answered.without("etag")


def never_304(answered: Answered) -> Answered:
    return replace(answered, status=200) if answered.status == 304 else answered


def failing_on_bad_input(answered: Answered) -> Answered:
    return replace(answered, status=500) if answered.status == 422 else answered


def plain_errors(answered: Answered) -> Answered:
    if answered.status < 400:
        return answered
    return replace(answered, headers=answered.headers | {"content-type": "application/json"})


def no_suggestions(answered: Answered) -> Answered:
    if answered.status != 404:
        return answered
    return answered.edited(lambda x: [error.pop("nearest", None) for error in x.get("errors", [])])


def lost_idempotency() -> Corrupt:
    """Of two answers to the same key the second is given another id."""
    seen: set[str] = set()

    def corrupt(answered: Answered) -> Answered:
        key = answered.asked.get("idempotency-key", "")
        if key in seen and answered.status in (200, 201):
            return answered.edited(lambda x: x.update(id="another"))
        seen.add(key)
        return answered

    return corrupt


def repeated_page(answered: Answered) -> Answered:
    """Every page has the first thing of the page twice."""
    if not answered.path.startswith("/v1/items?") or answered.status != 200:
        return answered
    return answered.edited(lambda x: x["results"].append(x["results"][0]))


def another_bill_recalled(answered: Answered) -> Answered:
    recalled = answered.path.startswith("/v1/bills/") and "/sheet" not in answered.path and answered.status == 200
    return answered.edited(lambda x: x["bill"].update(lead_days=x["bill"]["lead_days"] + 1)) if recalled else answered


def keys_changed(answered: Answered) -> Answered:
    def edit(document: dict[str, Any]) -> None:
        for bill in document["bills"]:
            bill["key"] += "A"

    return answered.edited(edit) if answered.is_bills else answered


def no_cautions(answered: Answered) -> Answered:
    return answered.edited(lambda x: x.update(safety=[])) if answered.is_bills else answered


def _check_edited(answered: Answered, edit: Callable[[dict[str, Any]], None]) -> Answered:
    is_check = answered.path == "/v1/order-checks" and answered.status in (200, 201)
    return answered.edited(edit) if is_check else answered


def keys_of_nothing(answered: Answered) -> Answered:
    """Every order that is checked is complete."""
    return _check_edited(answered, lambda x: x.update(verdict="complete"))


def stock_without_end(answered: Answered) -> Answered:
    """No part is short, whatever is in stock."""
    return _check_edited(answered, lambda x: [one.update(short=0, in_stock=0) for one in x["stock"]])


def lost_ties(answered: Answered) -> Answered:
    """What ties is not marked, and what does not is."""
    return _check_edited(answered, lambda x: [one.update(tie=not one["tie"]) for one in x["also_possible"]])


def always_sure(answered: Answered) -> Answered:
    """Every line that is read is sure."""
    if answered.path != "/v1/orders/read" or answered.status != 200:
        return answered
    return answered.edited(lambda x: [line.update(sure=True) for line in x["lines"]])


def used_at_another_spot(answered: Answered) -> Answered:
    """A part is used where no bill has it."""
    if "/uses" not in answered.path or answered.status != 200:
        return answered
    return answered.edited(lambda x: [use.update(spots=["nowhere"]) for use in x["results"]])


def failing_joints(answered: Answered) -> Answered:
    """No joint is judged: the service says that it cannot now."""
    if answered.path != "/v1/joints":
        return answered
    problem = {"type": "/v1/problems/overloaded", "title": "t", "status": 503, "detail": "d"}
    headers = {"content-type": "application/problem+json"}
    return replace(answered, status=503, headers=headers, content=json.dumps(problem).encode())


def rubbish(answered: Answered) -> Answered:
    return (
        replace(answered, content=b"<html>", headers={"content-type": "text/html"}) if answered.is_bills else answered
    )


@contextmanager
def broken(base_url: str, corrupt: Corrupt) -> Iterator[str]:
    """A server on a port of its own that answers as the one at `base_url` does, but corrupted."""
    with httpx.Client(base_url=base_url, timeout=30) as onwards:

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"
            wbufsize = -1  # an answer in one piece: in two it would wait for the other side's acknowledgement

            def _pass_on(self) -> None:
                sent = self.rfile.read(int(self.headers.get("content-length", 0)))
                headers = {name: value for name, value in self.headers.items() if name.lower() not in _HOP}
                got = onwards.request(self.command, self.path, content=sent, headers=headers)
                kept = {name: value for name, value in got.headers.items() if name.lower() not in _HOP}
                kept.pop("content-encoding", None)
                asked = {name.lower(): value for name, value in self.headers.items()}
                answer = corrupt(Answered(self.command, self.path, got.status_code, kept, got.content, asked))
                self.send_response(answer.status)
                for name, value in answer.headers.items():
                    self.send_header(name, value)
                if answer.method != "HEAD":
                    self.send_header("Content-Length", str(len(answer.content)))
                self.end_headers()
                self.wfile.write(answer.content)

            def log_message(self, *_: object) -> None:
                """Say nothing."""

        for method in ("GET", "POST", "HEAD", "PUT", "OPTIONS"):
            setattr(Handler, f"do_{method}", Handler._pass_on)
        server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        server.daemon_threads = True
        thread = Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}"
        finally:
            server.shutdown()
            server.server_close()
            thread.join()
