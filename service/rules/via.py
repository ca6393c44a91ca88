"""`via`: a chain has exactly one item of each kind that its path runs through, and no regulator unasked."""

from collections.abc import Iterable

from service.domain.findings import Facts
from service.domain.tongue import said, word
from service.rules.rule import Rule, always, no_wish_helps

ONLY_BY_VIA = frozenset({"regulator"})
"""Kinds that stand in a chain only where `via` names them."""


def has_each_once(kinds: Iterable[str], via: tuple[str, ...]) -> bool:
    present = list(kinds)
    return all(present.count(kind) == 1 for kind in via) and may_stand(present, via)


def may_stand(kinds: Iterable[str], via: tuple[str, ...]) -> bool:
    return all(kind in via or kind not in ONLY_BY_VIA for kind in kinds)


def facts(via: tuple[str, ...], kind: str) -> Facts:
    return {"via": list(via), "kind": kind}


def _reason(facts: Facts) -> str:
    return said("This path has to run through exactly one {kind}.", kind=word(facts["kind"]))


def _rejection(facts: Facts) -> str:
    via = facts["via"]
    if not via:
        return said("This path runs through no {kind}.", kind=word(facts["kind"]))
    each = f" {word('and')} ".join([said("one {kind}", kind=word(kind)) for kind in via])
    return said("This path has to run through exactly {each}: no way on from it does.", each=each)


RULE = Rule(
    "via",
    _reason,
    _rejection,
    missing=always("None has the part that the layout sends the fuel through."),
    a_wish_could_help=no_wish_helps,
)
