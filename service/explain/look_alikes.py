"""Port standards that share a thread and seal in another way: one starts in the other, and the joint leaks.

Source: encyclopaedic text on flare and boss threads of the same dash size, which share their unified thread (SAE J514,
SAE J1926-1).
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import combinations

from service.documents.answer import Reason
from service.domain import units
from service.domain.answer import Bill
from service.domain.revision import Revision, Standard
from service.domain.tongue import in_figures, named, said, word
from service.engineering.screws import Thread
from service.explain.make_up import SEALED_BY
from service.rules import mates

_SAME_MM = 0.01
"""Threads whose figures differ by no more are the same one, written with fewer digits."""


def standards_of(bill: Bill) -> frozenset[str]:
    """The port standards of a bill's parts, and of the joints on the car."""
    items = (bill.rail, *(item for placed in bill.chains for item in placed.chain.items))
    return frozenset(port.opening.standard for item in items for port in item.ports).union(bill.joints)


def of_standards(used: frozenset[str], revision: Revision) -> Iterator[Reason]:
    """A caution of each such pair among the standards, in the catalog's order."""
    yield from among(revision.standards.among(used))


def among(standards: Iterable[Standard]) -> Iterator[Reason]:
    """A caution of each such pair among port standards."""
    for one, other in combinations(standards, 2):
        if one.seal != other.seal and _same(one.thread, other.thread):
            yield {"rule": mates.RULE.id, "text": _text(one, other), "facts": {"standards": [one.id, other.id]}}


def _text(one: Standard, other: Standard) -> str:
    return said(
        "{one} and {other} have the same thread{thread}: one starts in the other and leaks. Look before you screw: the "
        "first is sealed by {seal}, the second by {other_seal}.",
        one=named(one.name),
        other=named(other.name),
        thread="" if one.thread is None else f" ({_told(one.thread)})",
        seal=word(SEALED_BY[one.seal]),
        other_seal=word(SEALED_BY[other.seal]),
    )


def _same(one: Thread | None, other: Thread | None) -> bool:
    if one is None or other is None:
        return False
    return abs(one.diameter_mm - other.diameter_mm) <= _SAME_MM and abs(one.pitch_mm - other.pitch_mm) <= _SAME_MM


def _told(thread: Thread) -> str:
    if thread.unified:
        count = f"{units.MM_PER_IN / thread.pitch_mm:.0f}"
        return said("{size}, {count} threads to the inch", size=_inches(thread.diameter_mm), count=count)
    return in_figures(f"M{thread.diameter_mm:g} x {thread.pitch_mm:g}")


def _inches(mm: float) -> str:
    """A diameter as threads are called by it, in sixteenths; another in both systems."""
    size = Fraction(round(mm / units.MM_PER_IN * 16), 16)
    return f"{size} in" if abs(float(size) * units.MM_PER_IN - mm) <= _SAME_MM else units.length(mm)
