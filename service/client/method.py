"""An operation as a method of both clients."""

from collections.abc import Callable, Coroutine
from functools import partial, update_wrapper
from typing import TYPE_CHECKING, Any, Generic, ParamSpec, Self, TypeVar, overload

from .calls import Call

if TYPE_CHECKING:
    from .clients import AsyncClient, Client

P = ParamSpec("P")
T = TypeVar("T")


class Method(Generic[P, T]):
    """Of the one client it gives the answer, of the other what can be awaited."""

    def __init__(self, make: Callable[P, Call[T]]) -> None:
        self._make = make
        self.__doc__ = make.__doc__

    @overload
    def __get__(self, client: "Client", owner: type) -> Callable[P, T]: ...
    @overload
    def __get__(self, client: "AsyncClient", owner: type) -> Callable[P, Coroutine[Any, Any, T]]: ...
    @overload
    def __get__(self, client: None, owner: type) -> Self: ...
    def __get__(self, client: "Client | AsyncClient | None", owner: type) -> Any:
        if client is None:
            return self
        return update_wrapper(partial(_sent, client, self._make), self._make)


def _sent(client: "Client | AsyncClient", make: Callable[..., Call[T]], *args: Any, **kwargs: Any) -> Any:
    return client.send(make(*args, **kwargs))
