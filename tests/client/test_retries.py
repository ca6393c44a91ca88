"""When a call is tried again, and after how long."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest

from service.client.retries import NO_RETRIES, Retries, asked_wait_s

NOON = datetime(2026, 3, 1, 12, 0, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("told", "wait_s"),
    [
        ("3", 3.0),
        (" 0 ", 0.0),
        ("Sun, 01 Mar 2026 12:00:07 GMT", 7.0),
        ("Sun, 01 Mar 2026 13:00:07 +0100", 7.0),
        ("Sun, 01 Mar 2026 12:00:07 -0000", 7.0),
        ("Sun, 01 Mar 2026 11:00:00 GMT", 0.0),
        ("9" * 400, float("inf")),
        ("-3", None),
        ("3.5", None),
        ("soon", None),
        ("٣", None),
        ("Sun, 99 Mar 2026 12:00:07 GMT", None),
        ("", None),
        (None, None),
    ],
)
def test_what_retry_after_asks_for(told: str | None, wait_s: float | None) -> None:
    """Seconds or a date; what is neither asks for nothing."""
    assert asked_wait_s(told, NOON) == wait_s


def _retries(**given: Any) -> Retries:
    return replace(Retries(now=lambda: NOON, chance=lambda: 0.0), **given)


def test_the_wait_doubles_up_to_the_longest() -> None:
    """Where nothing is asked for; after the last try there is none."""
    retries = _retries(most=5, first_wait_s=1.0, longest_wait_s=5.0)
    waits = [retries.wait_s(tried, status=503, retry_after=None) for tried in range(1, 7)]
    assert waits == [1.0, 2.0, 4.0, 5.0, 5.0, None]


def test_chance_takes_up_to_a_half() -> None:
    """So that callers who failed together do not come back together."""
    retries = _retries(chance=lambda: 1.0, first_wait_s=1.0)
    assert retries.wait_s(1, status=None, retry_after=None) == 0.5


@pytest.mark.parametrize("status", [200, 304, 400, 404, 422, 500, 502])
def test_other_answers_are_final(status: int) -> None:
    """Only 429 and 503 pass by themselves."""
    assert _retries().wait_s(1, status=status, retry_after="1") is None


@pytest.mark.parametrize("status", [429, 503])
def test_the_wait_is_what_was_asked_for(status: int) -> None:
    """Unless that is too long."""
    retries = _retries(longest_wait_s=10.0)
    assert retries.wait_s(1, status=status, retry_after="10") == 10.0
    assert retries.wait_s(1, status=status, retry_after="11") is None
    assert retries.wait_s(1, status=status, retry_after="Sun, 01 Mar 2026 12:00:07 GMT") == 7.0


def test_no_retries() -> None:
    """The first answer is the last."""
    assert NO_RETRIES.wait_s(1, status=503, retry_after="0") is None
