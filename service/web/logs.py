"""The log as lines of JSON: one a request, and all else that is logged. No key, no query, no body stands in it."""

import logging
import re
from typing import Any

import structlog
from starlette.types import Scope

from service.web.access import caller_of
from service.web.middleware import request_id_of

_requests = logging.getLogger("portwright.requests")
_TRACE = re.compile(rb"[0-9a-f]{2}-([0-9a-f]{32})-[0-9a-f]{16}-[0-9a-f]{2}(-.*)?")
_NO_TRACE = b"0" * 32


def json_config() -> dict[str, Any]:
    """The configuration of `logging` that writes every record as a line of JSON to standard error."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {"json": {"()": "service.web.logs.json_formatter"}},
        "handlers": {"lines": {"class": "logging.StreamHandler", "formatter": "json"}},
        "root": {"handlers": ["lines"], "level": "WARNING"},
        "loggers": {name: {"level": "INFO"} for name in ("uvicorn", "portwright")},
    }


def json_formatter() -> logging.Formatter:
    """What makes a line of a record."""
    return structlog.stdlib.ProcessorFormatter(
        foreign_pre_chain=[
            structlog.stdlib.add_log_level,
            structlog.stdlib.add_logger_name,
            structlog.stdlib.ExtraAdder(),
            structlog.processors.TimeStamper(fmt="iso", utc=True),
            structlog.processors.format_exc_info,
        ],
        processors=[
            structlog.stdlib.ProcessorFormatter.remove_processors_meta,
            _without_colours,
            structlog.processors.JSONRenderer(),
        ],
    )


def tell_request(scope: Scope, template: str, status: int, took_s: float) -> None:
    """Log a request that was answered."""
    request_id = request_id_of(scope)
    told = {
        "request_id": request_id,
        "trace_id": trace_id(scope) or request_id.replace("-", ""),
        "method": scope["method"],
        "path": template,
        "status": status,
        "ms": round(took_s * 1000, 2),
        "key": caller_of(scope).key,
    }
    _requests.info("request", extra=told)


def trace_id(scope: Scope) -> str | None:
    """The id of the trace that a request belongs to, where its `traceparent` tells one (W3C Trace Context, level 1)."""
    given = [value for name, value in scope["headers"] if name == b"traceparent"]
    found = _TRACE.fullmatch(given[0]) if len(given) == 1 else None
    return None if found is None or found[1] == _NO_TRACE else found[1].decode()


def _without_colours(_logger: object, _name: str, record: structlog.typing.EventDict) -> structlog.typing.EventDict:
    record.pop("color_message", None)  # the server's own, for terminals
    return record
