"""A property that is worked out once, without the lock that Python 3.11 holds meanwhile.

That lock of `functools.cached_property` is one for all instances of a class: a thread that works long at one value
stops every other thread at the same property, and two threads in two properties can wait for each other without end.
Here two threads that come at the same moment both work the value out, and the first one's is kept.
"""

from collections.abc import Callable
from typing import Any, Generic, TypeVar, overload

T = TypeVar("T")


class lazy(Generic[T]):  # noqa: N801 it is used as a decorator, like `property`
    """Keeps the value in the instance's `__dict__`, where it is found before this is asked again."""

    def __init__(self, work_out: Callable[[Any], T]) -> None:
        self._work_out = work_out
        self.__doc__ = work_out.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    @overload
    def __get__(self, instance: None, owner: type) -> "lazy[T]": ...
    @overload
    def __get__(self, instance: object, owner: type) -> T: ...

    def __get__(self, instance: object, owner: type) -> "T | lazy[T]":
        if instance is None:
            return self
        value: T = vars(instance).setdefault(self._name, self._work_out(instance))
        return value
