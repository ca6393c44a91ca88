"""Values that are worked out once and shared by threads, without a lock that is held meanwhile.

The lock of `functools.cached_property` is one for all instances of a class: a thread that works long at one value
stops every other thread at the same property, and two threads in two properties can wait for each other without end.
Here two threads that come at the same moment both work the value out, and the first one's is kept.
"""

from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Mapping
from functools import lru_cache, wraps
from typing import Any, Generic, TypeVar, overload

K = TypeVar("K", bound=Hashable)
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


class Lazily(Mapping[K, T]):
    """Values by keys that are known beforehand; each is worked out when it is first asked for, and kept."""

    def __init__(self, keys: Collection[K], work_out: Callable[[K], T]) -> None:
        """`keys`: in their order; it has to tell at once whether a key is among them."""
        self._keys = keys
        self._work_out = work_out
        self._known: dict[K, T] = {}
        self._places: dict[K, int] = {}

    def __getitem__(self, key: K) -> T:
        try:
            return self._known[key]
        except KeyError:
            if key not in self._keys:
                raise
        return self._known.setdefault(key, self._work_out(key))

    def among(self, keys: Iterable[K]) -> Iterator[T]:
        """The values of such of these keys as are known, in the order of all."""
        if not self._places:
            self._places = {key: place for place, key in enumerate(self._keys)}
        found = sorted((key for key in keys if key in self._places), key=self._places.__getitem__)
        return map(self.__getitem__, found)

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[K]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)


class Newest:
    """The newest of what was made, so many at least and twice as many at most; threads may share it."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._newer: dict[Hashable, Any] = {}
        self._older: dict[Hashable, Any] = {}

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is made: the same for the same key, which has to hold all that it depends on."""
        known: T | None = self._newer.get(key)
        if known is None:
            known = self._older.get(key)
            if known is None:
                known = make()
            if len(self._newer) >= self._size:
                self._older, self._newer = self._newer, {}
            self._newer[key] = known
        return known


def memo(size: int, call: Callable[..., T]) -> Callable[..., T]:
    """Keep the newest values of a function of hashable arguments; who asks for one that is kept gets the same object.

    Of a plain `lru_cache` two threads that come at the same moment get an object each.
    """
    latest = object()

    def work_out(*args: Hashable) -> T:
        nonlocal latest
        latest = object()
        return call(*args)

    known = lru_cache(size)(work_out)

    @wraps(call)
    def recalled(*args: Hashable) -> T:
        before = latest
        value = known(*args)
        return value if latest is before else known(*args)

    return recalled
