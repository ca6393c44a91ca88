"""Work that is known beforehand to take long: where questions are meant to be short, it asks to be begun elsewhere."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_IS_BRIEF: ContextVar[bool] = ContextVar("is_brief", default=False)


class LongWorkError(Exception):
    """This call is to be made again where it may take long; nothing was done yet."""


@contextmanager
def briefly() -> Iterator[None]:
    """Let nothing that takes long begin within the block."""
    token = _IS_BRIEF.set(True)
    try:
        yield
    finally:
        _IS_BRIEF.reset(token)


def begin_long_work() -> None:
    """Say that long work comes next. Raises LongWorkError where it may not."""
    if _IS_BRIEF.get():
        raise LongWorkError
