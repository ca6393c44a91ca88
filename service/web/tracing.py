"""A span of OpenTelemetry round each request, where the extra `otel` is installed and one of its settings is set."""

import os
from importlib.util import find_spec
from typing import TYPE_CHECKING

from starlette.types import ASGIApp, Receive, Scope, Send

from service.web.asgi import Around
from service.web.metrics import Templates
from service.web.middleware import STATUS

if TYPE_CHECKING:
    from opentelemetry.trace import Tracer

_OF_TRACES = (b"traceparent", b"tracestate")


def tracer() -> "Tracer | None":
    """What makes spans and sends them where `OTEL_EXPORTER_OTLP_ENDPOINT` says; None where nobody asks for them."""
    if not any(name.startswith("OTEL_") for name in os.environ) or find_spec("opentelemetry") is None:
        return None
    if find_spec("opentelemetry.sdk") is None or find_spec("opentelemetry.exporter") is None:
        return None
    from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
    from opentelemetry.sdk.trace import TracerProvider
    from opentelemetry.sdk.trace.export import BatchSpanProcessor

    provider = TracerProvider()
    provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return provider.get_tracer("portwright")


class Traced(Around):
    """Puts a span round each request, of the trace that its caller tells; the names are those of OpenTelemetry."""

    def __init__(self, app: ASGIApp, tracer: "Tracer", templates: Templates) -> None:
        super().__init__(app)
        self._tracer = tracer
        self._templates = templates

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        from opentelemetry.propagate import extract
        from opentelemetry.trace import SpanKind

        method = scope["method"]
        template = self._templates.of(method, scope["path"])
        told = {name.decode(): value.decode("latin-1") for name, value in scope["headers"] if name in _OF_TRACES}
        with self._tracer.start_as_current_span(
            f"{method} {template}",
            context=extract(told),
            kind=SpanKind.SERVER,
            attributes={"http.request.method": method, "http.route": template},
        ) as span:
            await self._app(scope, receive, send)
            span.set_attribute("http.response.status_code", scope["state"][STATUS])
