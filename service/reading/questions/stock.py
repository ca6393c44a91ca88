"""Whether only what lies in stock may be used."""

from collections.abc import Sequence

from service.reading.questions.facts import Choice, Found, Open, Said, Understood, settled
from service.reading.questions.sentence import Sentence
from service.reading.questions.stance import stance_of


def read_stock(sentence: Sentence) -> Found:
    """Whether only what lies in stock may be used."""
    said: list[Said] = []
    phrases = (
        "in stock",
        "from stock",
        "ex stock",
        "stock only",
        "on the shelf",
        "on your shelf",
        "on your shelves",
        "in your warehouse",
        "in the warehouse",
        "off the shelf",
        "ab lager",
        "auf lager",
        "on hand",
        "stock parts only",
        "stock items only",
        "nothing on back order",
        "no back orders",
        "no backorder",
        "nothing on backorder",
        "on stock",
        "in your stock",
        "available immediately",
        "immediately available",
        "available from stock",
        "have to hand",
    )
    for first, last in sentence.phrases(phrases):
        if sentence.at(first) == "nothing" or sentence.at(first) == "no":
            said.append(Said(True, first, last, "in stock only"))
            continue
        start, end = sentence.clause_of(first)
        stance = stance_of(sentence, first, last)
        near = [sentence.at(x) for x in range(start, min(end, last + 4))]
        is_asked = sentence.is_question(first) or (
            any(x in ("if", "ideally", "preferably", "what's", "whether") for x in near) and "only" not in near
        )
        if any(x in ("matter", "needn't", "irrespective", "regardless", "necessarily") for x in near) or (
            stance == "no" and not _is_double(near)
        ):
            stance = "no"
        elif _is_double(near) or (stance == "doubt" and "except" in near):
            stance = "yes"
        elif is_asked or (
            sentence.at(first - 1) in ("is", "are", "isn't", "not")
            and "must" not in near
            and "only" not in near
            and "that" not in near
            and "what" not in near
        ):
            stance = "doubt"
        said.append(Said(True, first, last, "in stock only", stance))
    for one in said:
        sentence.mark(one.first, one.last)
    if any(one.stance == "yes" for one in said):
        said = [one for one in said if one.stance != "doubt"]
    fact = settled(said)
    if fact is not None:
        told = [x for x in said if x.stance == "yes"]
        return Found(True, [Understood.of(sentence, x.first, x.last, "in_stock_only", True, x.says) for x in told])
    if any(x.stance != "no" for x in said):
        choices = (Choice(True, "only what is in stock"), Choice(False, "what has to be ordered as well"))
        return Found(open=Open("in_stock_only", "Is it to be made of what is in stock alone?", choices))
    return Found()


def _is_double(near: Sequence[str]) -> bool:
    """Whether two denials make a wish: nothing that is not in stock."""
    return "nothing" in near and any(x in ("not", "isn't", "but") for x in near)
