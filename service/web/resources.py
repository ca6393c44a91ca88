"""What every operation has at hand: the library, and the gate before work that blocks or computes."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Annotated, ParamSpec, TypeVar

from fastapi import Depends, Request

from service.usecases.errors import NoCatalogError
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.library import Library
from service.usecases.order_batches import OrderBatches
from service.usecases.short_link import ShortLinks
from service.web.gate import Gate

P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True)
class Resources:
    """The library with its gate; made once an application."""

    library: Library
    gate: Gate

    async def run(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Run a call that blocks or computes, in a thread, when it is its turn. Raises OverloadedError."""
        return await self.gate.run(call, *args, **kwargs)


def _kept_as(name: str, kind: type[T]) -> Callable[[Request], Awaitable[T]]:
    """Make a dependency that gives what the application was composed with under a name."""

    async def of_app(request: Request) -> T:
        kept = getattr(request.app.state, name)
        if not isinstance(kept, kind):
            raise NoCatalogError(f"the application was composed without {name.replace('_', ' ')}")
        return kept

    return of_app


AppResources = Annotated[Resources, Depends(_kept_as("resources", Resources))]
AppOrderChecks = Annotated[OrderChecks, Depends(_kept_as("order_checks", OrderChecks))]
AppInquiries = Annotated[Inquiries, Depends(_kept_as("inquiries", Inquiries))]
AppShortLinks = Annotated[ShortLinks, Depends(_kept_as("short_links", ShortLinks))]
AppOrderBatches = Annotated[OrderBatches, Depends(_kept_as("order_batches", OrderBatches))]
