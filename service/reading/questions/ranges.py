"""Amounts that leave open how much: from one to another, more than one."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from service.domain.units import figure
from service.reading.questions.facts import Said
from service.reading.questions.measures import Measure
from service.reading.questions.sentence import Sentence


def is_open_ended(sentence: Sentence, one: Measure) -> bool:
    if sentence.at(one.last) == "+" and sentence.is_glued(one.last):
        return True
    return sentence.at(one.first - 1) in ("over", "than", "plus", "another", "extra", "+", ">", "<", "by", "additional")


def ranges_in(sentence: Sentence, measures: Sequence[Measure], kind: str) -> Iterable[Said]:
    """A bare number that goes with a measure behind it: `250 to 300 kW`, `250-300 hp`, `250 or 300 hp`."""
    for one, other in pairwise(measures):
        between = [sentence.at(x) for x in range(one.last, other.first)]
        is_free = one.kind == "bare" and not any(sentence.read[one.first : one.last])
        if is_free and other.kind == kind and between in (["to"], ["-"], ["or"], ["and"], ["bis"], ["/"], ["\u2013"]):
            if between == ["and"] and sentence.at(one.first - 1) not in ("between", "somewhere"):
                continue
            for value in one.values[:1]:
                ratio = other.values[0] / _plain(sentence, other) if _plain(sentence, other) else 1.0
                yield Said(round(value * ratio, 2), one.first, one.last, f"{figure(value)} {other.unit}", "doubt")


def _plain(sentence: Sentence, one: Measure) -> float:
    text = sentence.at(one.first).replace(",", ".")
    try:
        return float(text)
    except ValueError:
        return 0.0
