"""Cars of one name that a word beside it tells apart, or denies."""

from collections.abc import Iterable, Mapping

from service.reading.folding import singular
from service.reading.questions import words
from service.reading.questions.figures import figure_at
from service.reading.questions.mentions import Mention
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of_name
from service.reading.questions.terms import KNOWN, Term, may_be_of_a_name

_LONGEST_SHORT, _LONGEST_CODE = 3, 2
_OF_SIZES = words.set_of("an dn e m")
"""What stands before the number of a hose's size or of a fuel."""


def told_apart(
    sentence: Sentence, own: Mapping[str, frozenset[Term]], heads: frozenset[str], meant: frozenset[str]
) -> frozenset[str]:
    """Cars of the same name that another word of the text belongs to, where one car is meant. `own`: the words of each
    car; `heads`: those that name cars alone."""
    if len(meant) != 1:
        return frozenset()
    known = own[next(iter(meant))]
    found: set[str] = set()
    for place, word in enumerate(sentence.words):
        term: Term = singular(word.text)
        if sentence.read[place]:
            continue
        is_beside = sentence.at(place - 1) in ("or", "and", "oder", "not")
        is_beside = is_beside or (sentence.at(place - 1) == "/" and "." in word.text)
        is_short = word.is_word and len(word.text) <= _LONGEST_SHORT and word.text not in KNOWN
        is_short = is_short and sentence.is_capital(place)  # `the R of the ..`
        if word.is_number and (is_beside or may_be_of_a_name(sentence, place)):
            figure = figure_at(sentence, place)
            if figure is None or (not figure[2] and _is_counting(sentence, figure[1])):
                continue
            term = figure[0]
        elif not (term in heads or term in words.BODIES or is_short):
            continue
        if term not in known:
            found.update(x for x, terms in own.items() if term in terms and terms & known & heads)
    return frozenset(found)


def denied_variants(
    sentence: Sentence, own: Mapping[str, frozenset[Term]], heads: frozenset[str], meant: Iterable[Mention]
) -> frozenset[str]:
    """The cars of the name that is meant which a word of theirs denies: `..., not the coupe`."""
    shared = heads.intersection(*(own[id_] for one in meant for id_ in one.ids))
    kin = [(id_, terms - shared) for id_, terms in own.items() if terms & shared]
    denied: set[str] = set()
    for place, word in enumerate(sentence.words if kin else ()):
        is_whole = (
            word.is_word
            and word.text not in words.LIGHT
            and not (sentence.at(place + 1).isdigit() and sentence.is_glued(place + 1))
        )
        if is_whole and not sentence.read[place] and stance_of_name(sentence, place) == "no":
            found = {id_ for id_, terms in kin if singular(word.text) in terms}
            denied |= found
            sentence.read[place] = bool(found)
    return frozenset(denied)


def is_other_code(sentence: Sentence, place: int, docs: Iterable[tuple[str, frozenset[Term]]]) -> bool:
    """Whether letters and a figure right behind a name are a code that no car of that name has, where some have one:
    `NAME Q3` for `NAME Q2`."""
    code, behind = sentence.at(place), sentence.at(place + 1)
    if not code or sentence.read[place] or len(code) > _LONGEST_CODE or not code.isalpha() or code in _OF_SIZES:
        return False
    if not (behind.isdigit() and sentence.is_glued(place + 1)):
        return False
    coded = [terms for _, terms in docs if any(isinstance(x, str) and len(x) <= _LONGEST_CODE for x in terms)]
    return bool(coded) and not any({code, float(behind)} <= terms for terms in coded)


def _is_counting(sentence: Sentence, last: int) -> bool:
    """Whether a whole number counts what stands behind it: `and 2 plugs`."""
    return sentence.at(last).isalpha() and (sentence.at(last) not in words.LIGHT or sentence.at(last) in ("at", "on"))
