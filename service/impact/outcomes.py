"""The outcome of one question under two catalogs: the first that is so, from a broken promise to the same answer."""

from typing import Literal, get_args

from service.impact.questions import Pair, Question, Standing
from service.impact.seen import NOTHING, Seen, SeenBill, kept_beside, kept_promises

Outcome = Literal["broken", "lost", "gained", "new", "gone", "other best", "price", "power", "count", "same"]
OUTCOMES: tuple[Outcome, ...] = get_args(Outcome)
"""In the order of telling."""
EXPLAINED: frozenset[Outcome] = frozenset({"broken", "lost", "gained"})
"""Those for which it is told which changes did it."""
POWER_PART = 0.005
"""The part by which the power that a bill carries may differ before it is told."""


def outcome_of(pair: Pair, before: Seen | None, after: Seen | None) -> Outcome:
    """Return the outcome of a question; None: it is not there."""
    if broken_promises(pair.question, before, after):
        return "broken"
    if before is None or after is None:
        return "new" if before is None else "gone"
    if not isinstance(pair.question, Standing):
        return "same"
    old, new = before.best, after.best
    if old is None or new is None:
        if old is not new:
            return "gained" if old is None else "lost"
        return "same" if before.total_valid == after.total_valid else "count"
    if old.body != new.body:
        return "other best"
    if old.price != new.price:
        return "price"
    if _power_differs(old, new):
        return "power"
    return "same" if before.total_valid == after.total_valid else "count"


def broken_promises(question: Question, before: Seen | None, after: Seen | None) -> frozenset[str]:
    """Return the names of the promises that were kept and are not kept any more.

    What was not there before broke nothing, and a case that is taken out of the catalog promises nothing any more.
    """
    if question.promises is None or before is None or (after is None and question.origin == "case"):
        return frozenset()
    if not isinstance(question, Standing):
        return kept_beside(question.promises, before) - kept_beside(question.promises, after or NOTHING)
    body = question.body or (before.best.body if before.best else None)
    was = kept_promises(question.promises, before, body)
    return was - kept_promises(question.promises, after or NOTHING, body)


def _power_differs(old: SeenBill, new: SeenBill) -> bool:
    if old.limited_by != new.limited_by:
        return True
    if old.carries_kw is None or new.carries_kw is None:
        return old.carries_kw is not new.carries_kw
    return abs(new.carries_kw - old.carries_kw) > POWER_PART * abs(old.carries_kw)
