"""How much is tried: PORTWRIGHT_THOROUGH=5 tries five times as many random catalogs as a usual run does."""

import os

from hypothesis import settings

THOROUGH = int(os.environ.get("PORTWRIGHT_THOROUGH", "1"))


def seeds(first: int, count: int) -> range:
    """The seeds of a fixed set, from the first of them."""
    return range(first, first + count * THOROUGH)


def examples(usual: settings, count: int) -> settings:
    """The same effort with so many examples."""
    return settings(usual, max_examples=count * THOROUGH)
