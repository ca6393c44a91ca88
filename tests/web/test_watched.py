"""What is told of requests: a line of the log and a span each, by the template of the path, with the caller's trace."""

import json
import logging
from typing import Any

import pytest
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter

from service.web.app import create_app
from service.web.logs import json_formatter, trace_id
from service.web.metrics import Templates
from service.web.routers import health
from service.web.tracing import Traced, tracer
from tests.web.calls import get

TRACE = "0af7651916cd43dd8448eb211c80319c"
PARENT = f"00-{TRACE}-b7ad6b7169203331-01"
SECRET = "very-own-words"


def lines(caplog: pytest.LogCaptureFixture) -> list[dict[str, Any]]:
    """The records of requests as they are written."""
    return [json.loads(json_formatter().format(x)) for x in caplog.records if x.name == "portwright.requests"]


def test_a_request_is_a_line(caplog: pytest.LogCaptureFixture) -> None:
    """With its ids, its template and what came of it; of what was asked nothing."""
    caplog.set_level(logging.INFO, "portwright.requests")
    headers = {"traceparent": PARENT, "Authorization": f"Bearer {SECRET}"}
    response = get(create_app(json_log=True), f"/v1/items/{SECRET}?{SECRET}=1", headers=headers)
    (line,) = lines(caplog)
    assert SECRET not in json.dumps(line)
    assert line["request_id"] == response.headers["X-Request-ID"]
    assert 0 < line.pop("ms") < 60_000
    assert {name: line[name] for name in ("event", "trace_id", "method", "path", "status", "key")} == {
        "event": "request",
        "trace_id": TRACE,
        "method": "GET",
        "path": "/v1/items/{sku}",
        "status": response.status_code,
        "key": None,
    }


@pytest.mark.parametrize("given", ["", "00-x-y-01", PARENT.upper(), f"00-{'0' * 32}-b7ad6b7169203331-01"])
def test_a_trace_that_is_none_is_not_taken(given: str) -> None:
    """What is not as W3C Trace Context has it."""
    assert trace_id({"headers": [(b"traceparent", given.encode())]}) is None


def test_errors_are_lines_too() -> None:
    """With their traceback in the one line."""
    try:
        raise ValueError("no")
    except ValueError as error:
        record = logging.LogRecord("any", logging.ERROR, "", 0, "it %s", ("fails",), (type(error), error, None))
    line = json.loads(json_formatter().format(record))
    assert (line["event"], line["level"], "ValueError: no" in line["exception"]) == ("it fails", "error", True)


def test_a_request_is_a_span(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the caller's trace; nobody makes any unless it is asked for."""
    monkeypatch.delenv("OTEL_EXPORTER_OTLP_ENDPOINT", raising=False)
    assert tracer() is None
    kept, provider = InMemorySpanExporter(), TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(kept))
    app = create_app()
    app.add_middleware(Traced, tracer=provider.get_tracer("test"), templates=Templates([health.router]))
    get(app, "/v1/health/live", headers={"traceparent": PARENT})
    (span,) = kept.get_finished_spans()
    assert (span.name, f"{span.context.trace_id:032x}") == ("GET /v1/health/live", TRACE)
    assert span.attributes == {
        "http.request.method": "GET",
        "http.route": "/v1/health/live",
        "http.response.status_code": 200,
    }
