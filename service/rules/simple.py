"""`simple`: no needless part. A chain keeps to `max_chain` items, and its open port never repeats along it."""

from collections.abc import Set as AbstractSet

from service.domain.findings import Facts
from service.domain.parts import Opening
from service.domain.tongue import said
from service.rules.rule import Rule, always, no_wish_helps


def may_leave(leaves: Opening, seen: AbstractSet[Opening], kind: str, via: tuple[str, ...]) -> bool:
    """Whether an item may leave this port open; an item of a kind in `via` may leave one like an earlier one."""
    return kind in via or leaves not in seen


def facts(max_chain: int) -> Facts:
    return {"max_chain": max_chain}


def _reason(facts: Facts) -> str:
    return said("No part of the chain is needless, and it has at most {most} parts.", most=facts["max_chain"])


def _rejection(facts: Facts) -> str:
    return said(
        "Reaches the end of the path only through more than {most} parts in a row, or through a "
        "connection that the chain has already.",
        most=facts["max_chain"],
    )


RULE = Rule(
    "simple", _reason, _rejection, missing=always("Every way takes too many parts."), a_wish_could_help=no_wish_helps
)
