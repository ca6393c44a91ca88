"""What every operation has at hand: the library, and the gate before work that blocks or computes."""

from collections.abc import Callable
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


async def _of_app(request: Request) -> Resources:
    resources: Resources | None = request.app.state.resources
    if resources is None:
        raise NoCatalogError("the application was composed without a library")
    return resources


async def _order_checks_of_app(request: Request) -> OrderChecks:
    orders: OrderChecks | None = request.app.state.order_checks
    if orders is None:
        raise NoCatalogError("the application was composed without order checks")
    return orders


async def _inquiries_of_app(request: Request) -> Inquiries:
    inquiries: Inquiries | None = request.app.state.inquiries
    if inquiries is None:
        raise NoCatalogError("the application was composed without inquiries")
    return inquiries


async def _short_links_of_app(request: Request) -> ShortLinks:
    links: ShortLinks | None = request.app.state.short_links
    if links is None:
        raise NoCatalogError("the application was composed without short links")
    return links


async def _order_batches_of_app(request: Request) -> OrderBatches:
    batches: OrderBatches | None = request.app.state.order_batches
    if batches is None:
        raise NoCatalogError("the application was composed without batches of orders")
    return batches


AppResources = Annotated[Resources, Depends(_of_app)]
AppOrderChecks = Annotated[OrderChecks, Depends(_order_checks_of_app)]
AppInquiries = Annotated[Inquiries, Depends(_inquiries_of_app)]
AppShortLinks = Annotated[ShortLinks, Depends(_short_links_of_app)]
AppOrderBatches = Annotated[OrderBatches, Depends(_order_batches_of_app)]
