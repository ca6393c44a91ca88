"""Words for checks of what seals: rings in their glands, what they are made of, taper threads."""

import math
from collections.abc import Mapping
from typing import Any

from service.domain import units

Facts = Mapping[str, Any]


def ring_fit(facts: Facts) -> str:
    if "squeeze" not in facts:
        return (
            f"{facts['standard']}: squeeze and fill of its ring are not checked, as no published dimensions of its "
            "seat are told. Use the ring that the part maker names."
        )
    squeeze, fill = facts["squeeze"], facts["fill"]
    told = (
        f"{facts['standard']}: {facts['seal']} is pressed together by {units.percent(squeeze['nominal'])} "
        f"({_worst(squeeze)} at the worst, {_rule(squeeze)} as a rule) and fills its gland to "
        f"{units.percent(fill['nominal'])} ({units.percent(fill['most'])} at the worst)"
    )
    wrong = list(_wrong(facts))
    over = facts["over_thread"]
    sleeve = f" Slide it over the thread with a sleeve: it stretches by {units.percent(over)} there." if over else ""
    if wrong:
        return f"{told}: {' and '.join(wrong)}. It may leak; measure ring and gland before fitting.{sleeve}"
    return f"{told}.{sleeve}"


def _worst(spread: Facts) -> str:
    return f"{units.percent(spread['least'])} to {units.percent(spread['most'])}"


def _rule(spread: Facts) -> str:
    return f"{units.percent(spread['least_rss'])} to {units.percent(spread['most_rss'])}"


def _wrong(facts: Facts) -> list[str]:
    squeeze, fill = facts["squeeze"], facts["fill"]
    least, most, fullest = facts["least_squeeze"], facts["most_squeeze"], facts["most_fill"]
    found = []
    if least is not None and squeeze["least"] < least:
        found.append(f"at the worst less than the {units.percent(least)} that seals")
    if most is not None and squeeze["most"] > most:
        found.append(f"at the worst more than the {units.percent(most)} that a ring bears")
    if fullest is not None and fill["most"] > fullest:
        found.append(f"at the worst fuller than {units.percent(fullest)}, with no room to swell")
    return found


def ring_material(facts: Facts) -> str:
    if "seals" in facts:
        return (
            f"{facts['standard']}: none of the rings that the catalog names for it is rated A or B for "
            f"{facts['fuel']}, so none is listed. Ask the part maker for a ring that stands this fuel."
        )
    told = f"{facts['standard']}: {facts['seal']} is of {facts['material']}"
    rated = f", rated {facts['rating']} for {facts['fuel']}" if facts["rating"] else ""
    stands = f"{units.temperature(facts['material_min_c'])} to {units.temperature(facts['material_max_c'])}"
    wrong = [*_of_rating(facts["rating"]), *_of_temperature(facts)]
    if wrong:
        return f"{told}{rated}, good for {stands}. {' '.join(wrong)}"
    return f"{told}{rated} and good for {stands}."


_WEAK = "The fuel swells or hardens it in time: look at it at every service, and renew it early."


def _of_rating(rating: str | None) -> list[str]:
    return [_WEAK] if rating == "B" else []


def _of_temperature(facts: Facts) -> list[str]:
    found = []
    if facts["coldest_c"] is not None and facts["coldest_c"] < facts["material_min_c"]:
        found.append(f"At {units.temperature(facts['coldest_c'])} it is stiff and may weep until it is warm.")
    if facts["hottest_c"] is not None and facts["hottest_c"] > facts["material_max_c"]:
        found.append(f"{units.temperature(facts['hottest_c'])} is too hot for it: choose another compound.")
    return found


def taper_engagement(facts: Facts) -> str:
    least, most, turns = facts["asked_least"], facts["asked_most"], facts["turns_past_hand"]
    told = (
        f"{facts['standard']}: hand-tight engages {units.figure(facts['hand_tight_threads'])} threads at basic size; "
        f"gauges allow a turn either way. With {_turns(turns)} of the wrench "
        f"{units.figure(facts['threads'])} are engaged, {units.length(facts['engaged_mm'])} of the "
        f"{units.length(facts['effective_mm'])} of full thread"
    )
    if least is None or most is None:
        return f"{told}; no range is set."
    asked = f"{least:g} to {most:g}"
    if facts["threads"] > most:
        return f"{told}, over the {asked} asked for: the boss may split. Stop at {most:g} threads."
    if facts["threads"] < least:
        return f"{told}, below the {asked} asked for: it may leak."
    return f"{told}; {asked} are asked for, so at most {_turns(facts['most_turns'])} of the wrench in all."


def _turns(turns: float) -> str:
    """Turns as they are counted at a wrench, rounded down: nobody is sent too far."""
    shown = f"{math.floor(turns * 10 + 1e-6) / 10:g}"
    return f"{shown} turn{'' if shown == '1' else 's'}"
