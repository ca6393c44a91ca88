"""Words for checks of what seals: rings in their glands, what they are made of, taper threads."""

import math
from collections.abc import Mapping
from typing import Any

from service.domain import units
from service.domain.tongue import in_figures, named, numbered, said, sentence
from service.explain.phrases import joined

Facts = Mapping[str, Any]


def ring_fit(facts: Facts) -> str:
    if "squeeze" not in facts:
        return said(
            "{standard}: squeeze and fill of its ring are not checked, as no published dimensions of its seat are "
            "told. Use the ring that the part maker names.",
            standard=named(facts["standard"]),
        )
    squeeze, fill = facts["squeeze"], facts["fill"]
    told = said(
        "{standard}: {seal} is pressed together by {squeeze} ({worst} at the worst, {usual} as a rule) and fills its "
        "gland to {fill} ({fullest} at the worst)",
        standard=named(facts["standard"]),
        seal=named(facts["seal"]),
        squeeze=units.percent(squeeze["nominal"]),
        worst=_range(squeeze["least"], squeeze["most"]),
        usual=_range(squeeze["least_rss"], squeeze["most_rss"]),
        fill=units.percent(fill["nominal"]),
        fullest=units.percent(fill["most"]),
    )
    wrong = _wrong(facts)
    told = f"{told}."
    if wrong:
        told = said(
            "{told}: {wrong}. It may leak; measure ring and gland before fitting.", told=told[:-1], wrong=joined(wrong)
        )
    over = facts["over_thread"]
    if not over:
        return told
    stretch = units.percent(over)
    sleeve = said("Slide it over the thread with a sleeve: it stretches by {part} there.", part=stretch)
    return f"{told} {sleeve}"


def _range(least: float, most: float) -> str:
    return said("{least} to {most}", least=units.percent(least), most=units.percent(most))


def _wrong(facts: Facts) -> list[str]:
    squeeze, fill = facts["squeeze"], facts["fill"]
    least, most, fullest = facts["least_squeeze"], facts["most_squeeze"], facts["most_fill"]
    found = []
    if least is not None and squeeze["least"] < least:
        found.append(said("at the worst less than the {limit} that seals", limit=units.percent(least)))
    if most is not None and squeeze["most"] > most:
        found.append(said("at the worst more than the {limit} that a ring bears", limit=units.percent(most)))
    if fullest is not None and fill["most"] > fullest:
        found.append(said("at the worst fuller than {limit}, with no room to swell", limit=units.percent(fullest)))
    return found


def ring_material(facts: Facts) -> str:
    if "seals" in facts:
        return said(
            "{standard}: none of the rings that the catalog names for it is rated A or B for {fuel}, so none is "
            "listed. Ask the part maker for a ring that stands this fuel.",
            standard=named(facts["standard"]),
            fuel=named(facts["fuel"]),
        )
    wrong = [*_of_rating(facts["rating"]), *_of_temperature(facts)]
    told = said(
        _MATERIAL[bool(facts["rating"]), bool(wrong)],
        standard=named(facts["standard"]),
        seal=named(facts["seal"]),
        material=named(facts["material"]),
        rating=facts["rating"],
        fuel=named(facts["fuel"]),
        coldest=units.temperature(facts["material_min_c"]),
        hottest=units.temperature(facts["material_max_c"]),
    )
    return " ".join([told, *wrong])


_MATERIAL = {
    (True, True): sentence(
        "{standard}: {seal} is of {material}, rated {rating} for {fuel}, good for {coldest} to {hottest}."
    ),
    (True, False): sentence(
        "{standard}: {seal} is of {material}, rated {rating} for {fuel} and good for {coldest} to {hottest}."
    ),
    (False, True): sentence("{standard}: {seal} is of {material}, good for {coldest} to {hottest}."),
    (False, False): sentence("{standard}: {seal} is of {material} and good for {coldest} to {hottest}."),
}
"""By whether it is rated, and whether something is wrong."""
_WEAK = sentence("The fuel swells or hardens it in time: look at it at every service, and renew it early.")


def _of_rating(rating: str | None) -> list[str]:
    return [said(_WEAK)] if rating == "B" else []


def _of_temperature(facts: Facts) -> list[str]:
    found = []
    if facts["coldest_c"] is not None and facts["coldest_c"] < facts["material_min_c"]:
        cold = units.temperature(facts["coldest_c"])
        found.append(said("At {cold} it is stiff and may weep until it is warm.", cold=cold))
    if facts["hottest_c"] is not None and facts["hottest_c"] > facts["material_max_c"]:
        hot = units.temperature(facts["hottest_c"])
        found.append(said("{hot} is too hot for it: choose another compound.", hot=hot))
    return found


def taper_engagement(facts: Facts) -> str:
    least, most, turns = facts["asked_least"], facts["asked_most"], facts["turns_past_hand"]
    told = said(
        "{standard}: hand-tight engages {by_hand} threads at basic size; gauges allow a turn either way. With {turns} "
        "of the wrench {threads} are engaged, {engaged} of the {effective} of full thread",
        standard=named(facts["standard"]),
        by_hand=units.figure(facts["hand_tight_threads"]),
        turns=_turns(turns),
        threads=units.figure(facts["threads"]),
        engaged=units.length(facts["engaged_mm"]),
        effective=units.length(facts["effective_mm"]),
    )
    if least is None or most is None:
        return said("{told}; no range is set.", told=told)
    shown = {"least": in_figures(f"{least:g}"), "most": in_figures(f"{most:g}")}
    if facts["threads"] > most:
        return said(
            "{told}, over the {least} to {most} asked for: the boss may split. Stop at {most} threads.",
            told=told,
            **shown,
        )
    if facts["threads"] < least:
        return said("{told}, below the {least} to {most} asked for: it may leak.", told=told, **shown)
    return said(
        "{told}; {least} to {most} are asked for, so at most {turns} of the wrench in all.",
        told=told,
        turns=_turns(facts["most_turns"]),
        **shown,
    )


def _turns(turns: float) -> str:
    """Turns as they are counted at a wrench, rounded down: nobody is sent too far."""
    shown = f"{math.floor(turns * 10 + 1e-6) / 10:g}"
    return numbered(1 if shown == "1" else _MANY, "{count} turn", "{count} turns", count=in_figures(shown))


_MANY = 2
