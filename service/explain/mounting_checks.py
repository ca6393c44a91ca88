"""Words for checks of how a rail is mounted: screws, the stack with the injectors in it, heat."""

from collections.abc import Mapping
from typing import Any

from service.domain import units

Facts = Mapping[str, Any]


def screws(facts: Facts) -> str:
    tight = f"{units.torque(facts['min_nm'])} to {units.torque(facts['max_nm'])}"
    told = (
        f"{facts['count']} x {facts['screw']} at {tight}: each holds {units.force(facts['preload_least_n'])} to "
        f"{units.force(facts['preload_most_n'])}, at most {units.percent(facts['proof_part'])} of its proof load, with "
        f"{units.length(facts['engaged_mm'])} of thread engaged ({units.figure(facts['engaged_diameters'])} diameters)"
    )
    if facts["clamp_ratio"] is not None:
        told += (
            f"; together they hold {facts['clamp_ratio']:.0f} times the {units.force(facts['pressure_force_n'])} "
            "with which the fuel lifts the rail"
        )
    wrong = _wrong(facts)
    own = "The vehicle maker's own torque comes first."
    return f"{told}. {' '.join(wrong)} {own}" if wrong else f"{told}. {own}"


def _wrong(facts: Facts) -> list[str]:
    found = []
    limit = facts["most_proof_part"]
    if facts["proof_part"] > limit:
        found.append(f"That is over the {units.percent(limit)} of proof load allowed: it may stretch for good.")
    if facts["reaches_mm"] > facts["thread_mm"]:
        found.append(
            f"It reaches {units.length(facts['reaches_mm'])} into a thread of {units.length(facts['thread_mm'])}: "
            "it bottoms before it clamps."
        )
    if facts["engaged_diameters"] < facts["least_diameters"]:
        found.append(f"In aluminium {facts['least_diameters']:g} diameters are asked for: its thread may tear out.")
    if facts["stripping_n"] is not None and facts["stripping_n"] < facts["preload_most_n"]:
        found.append(f"The thread tears out at {units.force(facts['stripping_n'])}, before the screw is tight.")
    if facts["clamp_ratio"] is not None and facts["clamp_ratio"] < facts["least_clamp_ratio"]:
        found.append(f"At least {facts['least_clamp_ratio']:g} times are asked for: the rail may lift.")
    return found


def stack(facts: Facts) -> str:
    rooms = facts["rooms"]
    tightest = min(rooms, key=lambda room: room["play_mm"]["least"])
    loosest = min(rooms, key=_insertion)
    least, insertion = facts["least_insertion_mm"], _insertion(loosest)
    spaced = f"With {units.length(facts['spacer_mm'])} of spacer" if facts["spacer_mm"] else "Without a spacer"
    told = (
        f"{spaced} an injector has at least {_signed(tightest['play_mm']['least'])} of play "
        f"({_signed(tightest['play_mm']['least_rss'])} as a rule; at {units.temperature(tightest['celsius'])}), and "
        f"its rings sit at least {_signed(insertion)} deep (at {units.temperature(loosest['celsius'])})"
    )
    bare = facts["play_without_spacer_mm"]
    why = ""
    if bare is not None:
        short = f"the rail would press on the injectors, as {units.length(-bare)} is missing"
        why = f" Without its spacers {short if bare < 0 else f'they would have {units.length(bare)} of play'}."
    if tightest["play_mm"]["least"] < 0:
        return f"{told}: the rail may crush the injectors. Check spacers and seats before tightening.{why}"
    if least is not None and insertion < least:
        return f"{told}, less than the {units.length(least)} asked for: a ring may leave its bore and spray fuel.{why}"
    return f"{told}.{why}"


def _insertion(room: Facts) -> float:
    return float(min(room["upper_ring_mm"]["least"], room["lower_ring_mm"]["least"]))


def _signed(mm: float) -> str:
    return units.length(mm) if mm >= 0 else f"minus {units.length(-mm)}"


def heat(facts: Facts) -> str:
    hot, cool = units.temperature(facts["hot_c"]), units.temperature(facts["fuel_c"])
    return (
        f"From a manifold at {hot} to fuel at {cool} each {facts['spacer']} and its screw let "
        f"{facts['spacer_w']:.1f} W through; as much bare metal would let {facts['metal_w']:.0f} W through, "
        f"{facts['times_less']:.0f} times as much. That is what the spacers are for: never leave them out."
    )
