"""How long a use of the database may take: set by its user, obeyed by every wait in the same thread."""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from time import monotonic

READ_S = 4.0
"""A read of a few rows, with the connection that it needs."""
WRITE_S = 8.0
"""A write of a few rows: it may wait for others first."""
CATALOG_S = 120.0
"""A read or a write of a whole catalog."""
TABLES_S = 600.0
"""A change of the tables, which may rebuild a large one."""

_END: ContextVar[float] = ContextVar("end of the use of a database", default=math.inf)


@contextmanager
def within(limit_s: float) -> Iterator[None]:
    """Bound what is done inside; a bound from outside that ends earlier stays."""
    token = _END.set(min(_END.get(), monotonic() + limit_s))
    try:
        yield
    finally:
        _END.reset(token)


def left_s() -> float:
    """Return the seconds that are left, 0 where none are, infinity where nothing is bounded."""
    return max(0.0, _END.get() - monotonic())
