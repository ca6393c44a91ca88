"""Words for checks of how a rail is mounted: screws, the stack with the injectors in it, heat."""

from collections.abc import Mapping
from typing import Any

from service.domain import units
from service.domain.tongue import in_figures, named, said, sentence

Facts = Mapping[str, Any]


def screws(facts: Facts) -> str:
    told = said(
        "{count} x {screw} at {least} to {most}: each holds {preload_least} to {preload_most}, at most {part} of its "
        "proof load, with {engaged} of thread engaged ({diameters} diameters)",
        count=facts["count"],
        screw=named(facts["screw"]),
        least=units.torque(facts["min_nm"]),
        most=units.torque(facts["max_nm"]),
        preload_least=units.force(facts["preload_least_n"]),
        preload_most=units.force(facts["preload_most_n"]),
        part=units.percent(facts["proof_part"]),
        engaged=units.length(facts["engaged_mm"]),
        diameters=units.figure(facts["engaged_diameters"]),
    )
    if facts["clamp_ratio"] is not None:
        told = said(
            "{told}; together they hold {times} times the {force} with which the fuel lifts the rail",
            told=told,
            times=f"{facts['clamp_ratio']:.0f}",
            force=units.force(facts["pressure_force_n"]),
        )
    own = said("The vehicle maker's own torque comes first.")
    return " ".join([f"{told}.", *_wrong(facts), own])


def _wrong(facts: Facts) -> list[str]:
    found = []
    limit = facts["most_proof_part"]
    if facts["proof_part"] > limit:
        limit = units.percent(limit)
        found.append(said("That is over the {limit} of proof load allowed: it may stretch for good.", limit=limit))
    if facts["reaches_mm"] > facts["thread_mm"]:
        found.append(
            said(
                "It reaches {reach} into a thread of {thread}: it bottoms before it clamps.",
                reach=units.length(facts["reaches_mm"]),
                thread=units.length(facts["thread_mm"]),
            )
        )
    if facts["engaged_diameters"] < facts["least_diameters"]:
        least = in_figures(f"{facts['least_diameters']:g}")
        found.append(said("In aluminium {least} diameters are asked for: its thread may tear out.", least=least))
    if facts["stripping_n"] is not None and facts["stripping_n"] < facts["preload_most_n"]:
        force = units.force(facts["stripping_n"])
        found.append(said("The thread tears out at {force}, before the screw is tight.", force=force))
    if facts["clamp_ratio"] is not None and facts["clamp_ratio"] < facts["least_clamp_ratio"]:
        least = in_figures(f"{facts['least_clamp_ratio']:g}")
        found.append(said("At least {least} times are asked for: the rail may lift.", least=least))
    return found


def stack(facts: Facts) -> str:
    rooms = facts["rooms"]
    tightest = min(rooms, key=lambda room: room["play_mm"]["least"])
    loosest = min(rooms, key=_insertion)
    least, insertion = facts["least_insertion_mm"], _insertion(loosest)
    told = said(
        _SPACED if facts["spacer_mm"] else _UNSPACED,
        spacer=units.length(facts["spacer_mm"]) if facts["spacer_mm"] else "",
        play=_signed(tightest["play_mm"]["least"]),
        usual=_signed(tightest["play_mm"]["least_rss"]),
        at=units.temperature(tightest["celsius"]),
        deep=_signed(insertion),
        deep_at=units.temperature(loosest["celsius"]),
    )
    if tightest["play_mm"]["least"] < 0:
        told = said("{told}: the rail may crush the injectors. Check spacers and seats before tightening.", told=told)
    elif least is not None and insertion < least:
        told = said(
            "{told}, less than the {least} asked for: a ring may leave its bore and spray fuel.",
            told=told,
            least=units.length(least),
        )
    else:
        told = f"{told}."
    bare = facts["play_without_spacer_mm"]
    if bare is None:
        return told
    why = said(_PRESSES if bare < 0 else _PLAYS, length=units.length(abs(bare)))
    return f"{told} {why}"


_SPACED = sentence(
    "With {spacer} of spacer an injector has at least {play} of play ({usual} as a rule; at {at}), and its rings sit "
    "at least {deep} deep (at {deep_at})"
)
_UNSPACED = sentence(
    "Without a spacer an injector has at least {play} of play ({usual} as a rule; at {at}), and its rings sit at least "
    "{deep} deep (at {deep_at})"
)
_PRESSES = sentence("Without its spacers the rail would press on the injectors, as {length} is missing.")
_PLAYS = sentence("Without its spacers they would have {length} of play.")


def _insertion(room: Facts) -> float:
    return float(min(room["upper_ring_mm"]["least"], room["lower_ring_mm"]["least"]))


def _signed(mm: float) -> str:
    return units.length(mm) if mm >= 0 else said("minus {length}", length=units.length(-mm))


def heat(facts: Facts) -> str:
    return said(
        "From a manifold at {hot} to fuel at {cool} each {spacer} and its screw let {spacer_w} W through; as much bare "
        "metal would let {metal_w} W through, {times} times as much. That is what the spacers are for: never leave "
        "them out.",
        hot=units.temperature(facts["hot_c"]),
        cool=units.temperature(facts["fuel_c"]),
        spacer=named(facts["spacer"]),
        spacer_w=in_figures(f"{facts['spacer_w']:.1f}"),
        metal_w=f"{facts['metal_w']:.0f}",
        times=f"{facts['times_less']:.0f}",
    )
