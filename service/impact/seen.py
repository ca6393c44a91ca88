"""What is seen of an answer when catalogs are compared: how many bills, the best, and which promises are kept."""

from dataclasses import dataclass
from typing import NamedTuple

from service.documents.contract import CatalogPromises, FilePromises, Promises, Timed
from service.impact.promised import names_promised


class Body(NamedTuple):
    """What makes a bill the same in two revisions: its rail, duties and chains, sorted by spot."""

    rail: str
    duties: tuple[tuple[str, str], ...]
    chains: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class SeenBill:
    """A bill as it is compared. Price in minor units; `placement`: which one of its layout; `skus`: all that its lines
    list, where promises ask for it."""

    body: Body
    price: int
    placement: int
    carries_kw: float | None
    limited_by: str | None
    skus: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Seen:
    """An answer as it is compared: how many bills there are, and those that are listed, the best first.

    `unkept`: what is promised beside bills and not kept, by name and in a sentence. `is_there`: whether there is an
    answer at all.
    """

    total_valid: int
    bills: tuple[SeenBill, ...]
    unkept: tuple[tuple[str, str], ...] = ()
    is_there: bool = True

    @property
    def best(self) -> SeenBill | None:
        return next(iter(self.bills), None)


NOTHING = Seen(0, (), is_there=False)
"""What is seen of a question that is not there, or not understood."""


def kept_promises(promises: Promises, seen: Seen, body: Body | None) -> frozenset[str]:
    """Return the names of the promises that an answer keeps; `body`: the very bill that is promised, where one is."""
    best = seen.best
    kept = {"has_bill"} if (best is not None) is promises.has_bill else set()
    if promises.contains is not None and best is not None and best.skus.issuperset(promises.contains):
        kept.add("contains")
    if promises.never_contains is not None and not any(
        bill.skus.intersection(promises.never_contains) for bill in seen.bills
    ):
        kept.add("never_contains")
    price = promises.price
    if price is not None and best is not None and price.at_least <= best.price <= price.at_most:
        kept.add("price")
    if promises_the_bill(promises) and best is not None and best.body == body:
        kept.add("keyed")
    return frozenset(kept) | (kept_beside(promises, seen) & {"currency", "must_say"})


def kept_beside(promises: Timed, seen: Seen) -> frozenset[str]:
    """Return the names of the promises that are not among the unkept of an answer."""
    return names_promised(promises) - {name for name, _ in seen.unkept} if seen.is_there else frozenset()


def promises_the_bill(promises: Promises) -> bool:
    """Return whether it is promised which bill is the first."""
    if isinstance(promises, CatalogPromises):
        return bool(promises.keyed)
    return isinstance(promises, FilePromises) and promises.key is not None
