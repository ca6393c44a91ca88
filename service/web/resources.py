"""What every operation has at hand: the library, and the lanes of work that blocks or computes."""

from asyncio import Future, get_running_loop
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from functools import partial
from time import monotonic
from typing import Annotated, ParamSpec, Protocol, Self, TypeVar

from fastapi import Depends, Request

from service.access.roles import Right
from service.usecases.drafts import Drafts
from service.usecases.errors import NoCatalogError
from service.usecases.impact_sweeps import Sweeps
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.keep_reading import OrderReadings
from service.usecases.library import Edition, Library
from service.usecases.order_batches import OrderBatches
from service.usecases.partner_cases import PartnerCases
from service.usecases.short_link import ShortLinks
from service.usecases.webhooks import Webhooks
from service.web.access import caller_of
from service.web.conduct import CROWD, Crowd
from service.web.lanes import Lanes
from service.web.visitors import visitor

FEW = CROWD - 1
"""With no more requests than these at once, a light question holds up the others for less than going to a thread."""

P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True)
class Look:
    """A look at what a question would be answered from: when it was begun, and the newest revision that it finds."""

    begun: float
    found: Future[int]

    @property
    def age_s(self) -> float:
        """How long ago it was begun."""
        return monotonic() - self.begun

    @property
    def may_be_told(self) -> bool:
        """Whether others may wait for it or be told what it found: what it did not find may be there by now."""
        if self.found.done():
            return not self.found.cancelled() and self.found.exception() is None
        return self.found.get_loop() is get_running_loop()


@dataclass
class Resources:
    """The library with the lanes; made once an application.

    What is run goes to a thread when it is its turn. Each may raise OverloadedError, and AbandonedError where the
    client left.
    """

    library: Library
    lanes: Lanes
    crowd: Crowd = field(default_factory=Crowd)
    latest_look: Look | None = None

    async def run(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Work out a question, which leaves nothing behind and may be begun anew. Raises TooCostlyError."""
        return await self.lanes.ask(partial(call, *args, **kwargs))

    async def answer(
        self, revision: int | None, edition_of: Callable[[int | None], Edition], call: Callable[[Edition], T]
    ) -> T:
        """Work out a question from the edition of a revision, which `edition_of` gives; at once where that edition is
        at hand and few ask. Raises as `run`, and what `edition_of` raises."""
        at_hand = self.library.at_hand(revision) if self._are_few else None
        at_once = None if at_hand is None else partial(call, at_hand)
        return await self.lanes.ask(lambda: call(edition_of(revision)), at_once=at_once)

    @property
    def _are_few(self) -> bool:
        return self.crowd.count <= FEW and not visitor().account.is_costly

    async def run_in_batch(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Work out one question of many, when no person waits. Raises TooCostlyError."""
        return await self.lanes.ask(partial(call, *args, **kwargs), in_batch=True)

    async def look(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Look something up that takes no search."""
        return await self.lanes.look(partial(call, *args, **kwargs))

    async def write(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Write something that is worked out already."""
        return await self.lanes.writes.run(partial(call, *args, **kwargs))

    async def take_in(self, call: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """Read or write a whole file of orders."""
        return await self.lanes.take_in(partial(call, *args, **kwargs))


SANDBOX = "/sandbox"
"""How the paths of the sandbox begin: what is asked there is answered from what the sandbox has."""


def kept_as(name: str, kind: type[T]) -> Callable[[Request], Awaitable[T]]:
    """Make a dependency that gives what the application was composed with under a name."""

    async def of_app(request: Request) -> T:
        state = request.app.state
        kept = getattr(state.sandbox if request.scope["path"].startswith(f"{SANDBOX}/") else state, name)
        if not isinstance(kept, kind):
            raise NoCatalogError(f"the application was composed without {name.replace('_', ' ')}")
        return kept

    return of_app


class _OfAccounts(Protocol):
    def of(self, account: str | None) -> Self: ...


A = TypeVar("A", bound=_OfAccounts)


def _own(name: str, kind: type[A]) -> Callable[[Request], Awaitable[A]]:
    """Make a dependency that gives what the application was composed with under a name, as the caller's account sees
    it."""
    kept = kept_as(name, kind)

    async def of_account(request: Request) -> A:
        return (await kept(request)).of(caller_of(request.scope).account)

    return of_account


async def _inquiries_of(request: Request) -> Inquiries:
    """The inquiries that the caller may see: those of all accounts for who answers them."""
    caller = caller_of(request.scope)
    return (await kept_as("inquiries", Inquiries)(request)).of(caller.account, sees_all=caller.may(Right.EDIT))


def seen_cases(request: Request) -> PartnerCases | None:
    """The partners' cases that the caller may see and keep; where no key is asked of partners, an account is a name.

    None where the application was composed without them.
    """
    caller, kept = caller_of(request.scope), request.app.state.partner_cases
    account = None if caller.key is None and caller.may(Right.CASES) else caller.account
    return kept.of(account, sees_all=caller.may(Right.EDIT)) if isinstance(kept, PartnerCases) else None


async def _cases_of(request: Request) -> PartnerCases:
    cases = seen_cases(request)
    return await kept_as("partner_cases", PartnerCases)(request) if cases is None else cases


AppResources = Annotated[Resources, Depends(kept_as("resources", Resources))]
AppOrderChecks = Annotated[OrderChecks, Depends(_own("order_checks", OrderChecks))]
AppDrafts = Annotated[Drafts, Depends(_own("drafts", Drafts))]
AppInquiries = Annotated[Inquiries, Depends(_inquiries_of)]
AppPartnerCases = Annotated[PartnerCases, Depends(_cases_of)]
AppSweeps = Annotated[Sweeps, Depends(kept_as("sweeps", Sweeps))]
AppShortLinks = Annotated[ShortLinks, Depends(kept_as("short_links", ShortLinks))]
AppOrderBatches = Annotated[OrderBatches, Depends(_own("order_batches", OrderBatches))]
AppWebhooks = Annotated[Webhooks, Depends(_own("webhooks", Webhooks))]
AppOrderReadings = Annotated[OrderReadings, Depends(_own("order_readings", OrderReadings))]
