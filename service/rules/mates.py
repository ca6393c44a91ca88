"""`mates`: each item of a chain meets the port before it with one of its own ports."""

from service.domain.chains import Link
from service.domain.findings import Facts
from service.domain.parts import Opening
from service.domain.revision import Revision
from service.domain.tongue import called, named, place, said, sentence, word
from service.rules.rule import Rule, always, no_wish_helps


def meets(opening: Opening, other: Opening) -> bool:
    """Two ports mate: the same standard and opposite ends."""
    return opening.mate == other


def facts(link: Link, partner: str, revision: Revision) -> Facts:
    standard = revision.standards[link.meets.standard]
    return {"standard": standard.id, "name": standard.name, "end": link.meets.mate.end, "meets": partner}


def dead_end_facts(target: Opening | None, revision: Revision) -> Facts:
    """Facts for a part from which no chain of catalog parts leads on to where the path ends."""
    if target is None:
        return {"target": None}
    return {"target": target.standard, "name": revision.standards[target.standard].name, "end": target.end}


def unmet_facts(spot: str) -> Facts:
    """Facts for a spot that nothing in the catalog meets."""
    return {"spot": spot, "unmet": True}


def apart_facts(spot: str, max_chain: int | None = None, *, ends_in_it: bool = False) -> Facts:
    """Facts for a part that does not meet a spot, nor stands in a chain of so many parts from there; `ends_in_it`: it
    would be the last of it."""
    return {"spot": spot, "max_chain": max_chain, "ends_in_it": ends_in_it}


def _reason(facts: Facts) -> str:
    return said(
        "Its {end} {standard} end meets {meets}.",
        end=word(facts["end"]),
        standard=named(facts["name"]),
        meets=called(facts["meets"]),
    )


def _rejection(facts: Facts) -> str:
    if "max_chain" in facts:
        spot, most = place(facts["spot"]), facts["max_chain"]
        if most is None:
            return said("It has no port that mates with the {spot} spot.", spot=spot)
        return said(_NO_CHAIN_TO_IT if facts["ends_in_it"] else _NO_CHAIN_THROUGH_IT, spot=spot, most=most)
    if "unmet" in facts:
        return said("Nothing in the catalog meets its {spot} spot.", spot=place(facts["spot"]))
    if facts["target"] is None:
        return said("No catalog part leads on from its other port to a gauge.")
    return said(
        "No catalog part leads on from its other port to the {end} {standard} end of this path.",
        end=word(facts["end"]),
        standard=named(facts["name"]),
    )


_NO_CHAIN_TO_IT = sentence("No chain of at most {most} parts leads from the {spot} spot to it.")
_NO_CHAIN_THROUGH_IT = sentence(
    "No chain of at most {most} parts leads from the {spot} spot to it and on to where the path ends."
)


RULE = Rule(
    "mates",
    _reason,
    _rejection,
    missing=always("None has an end that meets what is there."),
    a_wish_could_help=no_wish_helps,
)
