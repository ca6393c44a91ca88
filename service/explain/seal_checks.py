"""Words for checks of what seals: rings in their glands, what they are made of, taper threads."""

from collections.abc import Mapping
from typing import Any

from service.domain import units

Facts = Mapping[str, Any]


def ring_fit(facts: Facts) -> str:
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
    told = f"{facts['standard']}: {facts['seal']} is of {facts['material']}"
    rated = f", rated {facts['rating']} for {facts['fuel']}" if facts["rating"] else ""
    stands = f"{units.temperature(facts['material_min_c'])} to {units.temperature(facts['material_max_c'])}"
    wrong = []
    if facts["rating"] in ("C", "D"):
        wrong.append("the fuel swells or hardens it")
    if facts["coldest_c"] is not None and facts["coldest_c"] < facts["material_min_c"]:
        wrong.append(f"at {units.temperature(facts['coldest_c'])} it is stiff and may weep until it is warm")
    if facts["hottest_c"] is not None and facts["hottest_c"] > facts["material_max_c"]:
        wrong.append(f"{units.temperature(facts['hottest_c'])} are too hot for it")
    if wrong:
        return f"{told}{rated}, good for {stands}: {'; '.join(wrong)}. Choose another compound for it."
    return f"{told}{rated} and good for {stands}."


def taper_engagement(facts: Facts) -> str:
    least, most = facts["asked_least"], facts["asked_most"]
    threads = f"{units.figure(facts['fewest_threads'])} to {units.figure(facts['most_threads'])} threads"
    told = (
        f"{facts['standard']}: {units.figure(facts['turns_past_hand'])} turns past hand-tight engage {threads} "
        f"({units.length(facts['engaged_mm'])} at basic size, of {units.length(facts['effective_mm'])} of full thread; "
        "gauges allow a turn either way)"
    )
    if least is None or most is None:
        return f"{told}; no range is set."
    asked = f"{least:g} to {most:g}"
    if facts["fewest_threads"] > most or facts["most_threads"] < least:
        return f"{told}, never the {asked} asked for: it may leak or split its boss."
    return f"{told}; {asked} are asked for: stop within both."
