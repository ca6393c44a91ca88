"""Which error becomes which problem: every one has a row, none tells of the inside."""

import logging
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.strict_json import JsonError
from service.storage import errors as storage_errors
from service.storage.errors import DamagedRevisionError, StorageBusyError, StorageError, UnknownRevisionError
from service.usecases.errors import RefusedError
from service.usecases.library import Edition, Library
from service.web.app import create_app
from service.web.errors import EdgeError
from service.web.problems import PROBLEM_TYPES
from service.web.refusals import REFUSALS
from tests.web.calls import call, get, problem
from tests.web.conftest import QUESTION


def _leaves(base: type[Exception]) -> Iterator[type[Exception]]:
    below = base.__subclasses__()
    if not below:
        yield base
    for cls in below:
        yield from _leaves(cls)


@pytest.mark.parametrize("base", [EdgeError, RefusedError, StorageError, JsonError])
def test_every_error_has_a_row(base: type[Exception]) -> None:
    """An error that is raised on purpose is never an unexpected one."""
    assert storage_errors
    assert [cls for cls in _leaves(base) if not set(cls.__mro__) & set(REFUSALS)] == []


@pytest.mark.parametrize("code", list(PROBLEM_TYPES))
def test_every_type_has_its_page(app: FastAPI, code: str) -> None:
    """The path that identifies a type explains it."""
    kind = PROBLEM_TYPES[code]
    page = get(app, kind.uri).json()
    assert page == {
        "type": kind.uri,
        "title": kind.title,
        "status": kind.status,
        "meaning": kind.meaning,
        "remedy": kind.remedy,
    }


class _Failing(Library):
    """A library that fails as it is told to."""

    def __init__(self, error: Exception) -> None:
        self._error = error

    def newest_at_hand(self) -> int | None:
        return None

    def at_hand(self, number: int | None = None) -> Edition | None:
        return None

    def edition(self, number: int | None = None) -> Edition:
        raise self._error


_OPERATIONS: list[tuple[str, str, dict[str, Any]]] = [
    ("POST", "/v1/bills", {"json": QUESTION}),
    ("GET", "/v1/items", {}),
    ("GET", "/v1/items/PLUG-T", {}),
    ("GET", "/v1/chassis/brook/layouts", {}),
    ("GET", "/v1/health/ready", {}),
]


@pytest.mark.parametrize(("method", "path", "options"), _OPERATIONS, ids=[path for _, path, _ in _OPERATIONS])
def test_the_unexpected_is_a_problem_and_is_logged(
    method: str, path: str, options: dict[str, Any], caplog: pytest.LogCaptureFixture
) -> None:
    """The log has the traceback under the request's id; the answer has nothing of it."""
    app = create_app(_Failing(ZeroDivisionError("secret-7341")))
    response = call(app, method, path, **options)
    problem(response, 500, "internal-error")
    assert "secret-7341" not in response.text
    assert "ZeroDivision" not in response.text
    [record] = caplog.records
    assert record.levelno == logging.ERROR
    assert response.headers["x-request-id"] in record.getMessage()
    assert record.exc_info is not None
    assert "secret-7341" in str(record.exc_info[1])


@pytest.mark.parametrize(
    "error",
    [
        StorageBusyError("sqlite:////srv/secret.sqlite3", "database is locked"),
        DamagedRevisionError(7, "its digest is wrong: secret"),
        UnknownRevisionError(3, 2),
    ],
    ids=["busy", "damaged", "other"],
)
@pytest.mark.parametrize(("method", "path", "options"), _OPERATIONS, ids=[path for _, path, _ in _OPERATIONS])
def test_a_database_that_fails_is_told_without_its_address(
    error: StorageError, method: str, path: str, options: dict[str, Any], caplog: pytest.LogCaptureFixture
) -> None:
    """503 with the time to wait; the reason stands in the log alone."""
    response = call(create_app(_Failing(error)), method, path, **options)
    problem(response, 503, "storage-unavailable")
    assert int(response.headers["retry-after"]) > 0
    assert "secret" not in response.text
    assert str(error) in caplog.text


def test_the_process_is_live_without_its_database() -> None:
    """Only readiness goes by the database."""
    app = create_app(_Failing(StorageBusyError("sqlite:///file", "locked")))
    assert get(app, "/v1/health/live").json() == {"live": True}
