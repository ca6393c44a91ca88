"""Which wishes a bill is seen to go by, and words that are no words: pure judgements of an answer."""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from service.contract.outcomes import Broken
from service.documents.found import FoundAnswer, FoundBill

_GET = ("buy", "elsewhere")
_FIGURES = 1e-3
_NO_WORDS = re.compile(r"\{\w*\}|&(#\d+|#x[0-9a-f]+|[a-z]{2,8});|\ufffd|[ÃÂ][\x80-\xbf]|^\s*$", re.IGNORECASE)
"""A place that nothing was filled in, what was escaped for a page, what was read in another encoding, nothing."""
_SAID = ("text", "name")


def _is_had(have: list[Mapping[str, Any]], bill: FoundBill) -> bool:
    """Whether a part at hand is used before one of the kind is bought."""
    got = {(line["sku"], line["source"]) for line in bill["lines"]}
    return all((part["sku"], "have") in got for part in have if (part["sku"], "buy") in got)


HOLDS: dict[str, Callable[[Any, FoundBill], bool]] = {
    "max_price": lambda most, bill: bill["price"] <= most,
    "power_kw": lambda kw, bill: abs(bill["power"]["asked_kw"] - kw) <= _FIGURES * kw,
    "in_stock_only": lambda asked, bill: not (asked and any(line.get("short") for line in bill["lines"])),
    "allow_unsold": lambda asked, bill: asked or all(line["source"] != "elsewhere" for line in bill["lines"]),
    "gauge": lambda place, bill: ("gauge" in bill["duties"].values()) is (place != "none"),
    "exclude": lambda skus, bill: not {x["sku"] for x in bill["lines"] if x["source"] in _GET} & set(skus),
    "have": _is_had,
}
"""By the name of a wish whether a bill goes by its value."""


def faults_of_wishes(answer: FoundAnswer, asked: Mapping[str, Any], by: str) -> Iterator[Broken]:
    """The wishes of a question that a bill goes against."""
    for name, value in asked.items():
        holds = HOLDS.get(name)
        for place, bill in enumerate(answer["bills"] if holds and value is not None else ()):
            if holds is not None and not holds(value, bill):
                told = f"the wish {name} is ignored in the {by}: bill {place + 1} goes against it"
                yield Broken(told, f"#/bills/{place}", f"{name} {value}", "a bill against it")
                break


def faults_of_words(answer: Any, at: str = "#") -> Iterator[Broken]:
    """The first text or name that is empty, or has what nobody would read out."""
    if isinstance(answer, list):
        for place, one in enumerate(answer):
            yield from faults_of_words(one, f"{at}/{place}")
    elif isinstance(answer, dict):
        for name, one in answer.items():
            if name in _SAID and isinstance(one, str) and _NO_WORDS.search(one):
                yield Broken(f"a {name} is not in words: {one[:60]!r}", f"{at}/{name}", "words to be read", one[:200])
            else:
                yield from faults_of_words(one, f"{at}/{name}")
