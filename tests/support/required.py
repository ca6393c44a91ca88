"""What a test needs from outside: skipped where it is missing, failed where the run promised it."""

import os
from typing import NoReturn

import pytest


def require_or_skip(name: str, reason: str) -> NoReturn:
    """Skip the test for this reason, or fail it where PORTWRIGHT_REQUIRE (names with commas between) has the name."""
    required = {part.strip() for part in os.environ.get("PORTWRIGHT_REQUIRE", "").split(",")}
    if name in required:
        pytest.fail(f"{name} is required by PORTWRIGHT_REQUIRE, but {reason}", pytrace=False)
    pytest.skip(reason)
