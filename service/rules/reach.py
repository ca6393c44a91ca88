"""`reach`: a hookup that is reached only from some spots, within a window of standout, is reached."""

from collections.abc import Iterator
from typing import Literal

from service.domain import units
from service.domain.chains import Chain, Measured
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.margins import Limit
from service.domain.request import SpotSituation
from service.domain.tongue import place, said, word
from service.domain.vehicles import HOOKUP_WORDS, Reach
from service.rules.rule import ChainRule, Holds, always


def reads(situation: SpotSituation) -> Reach | Literal["nowhere"] | None:
    return situation.reach if situation.reached else "nowhere"


def holds(chain: Measured, window: Reach | Literal["nowhere"] | None) -> Holds:
    if window == "nowhere" or window is None:
        return window is None
    return (chain.reach_mm >= round(window.min_mm, 3)) & (chain.reach_mm <= round(window.max_mm, 3))


def facts(chain: Chain, situation: SpotSituation) -> Facts | None:
    base = {"hookup": situation.hookup_kind, "spot": situation.spot, "standout_mm": chain.reach_mm}
    if not situation.reached:
        return base
    window = situation.reach
    return None if window is None else base | {"min_mm": window.min_mm, "max_mm": window.max_mm}


def limits(chain: Measured, situation: SpotSituation) -> Iterator[Limit]:
    """Both ends of the window, where there is one at the spot; neither is a margin of the bill."""
    if situation.reached and situation.reach is not None:
        yield Limit(None, chain.reach_mm, round(situation.reach.max_mm, 3))
        yield Limit(None, -chain.reach_mm, -round(situation.reach.min_mm, 3))


def left(facts: Facts) -> Left | None:
    """How far within the window, less than nothing outside; None where there is no window at the spot."""
    if "min_mm" not in facts:
        return None
    standout = facts["standout_mm"]
    left = min(standout - round(facts["min_mm"], 3), round(facts["max_mm"], 3) - standout)
    return Left(round(left, 3), "mm")


def _hookup(facts: Facts) -> str:
    hookup = str(facts["hookup"])
    return word(HOOKUP_WORDS.get(hookup, hookup))


def _window(facts: Facts) -> str:
    return said("{least} to {most}", least=units.length(facts["min_mm"]), most=units.length(facts["max_mm"]))


def _reason(facts: Facts) -> str:
    return said(
        "Stands {standout} proud of the {spot} spot: the {line} is reached at {window}.",
        standout=units.length(facts["standout_mm"]),
        spot=place(facts["spot"]),
        line=_hookup(facts),
        window=_window(facts),
    )


def _rejection(facts: Facts) -> str:
    if "min_mm" not in facts:
        return said(
            "The {line} of this car does not reach the {spot} spot.", line=_hookup(facts), spot=place(facts["spot"])
        )
    return said(
        "Stands {standout} proud of the {spot} spot, but the {line} is reached only at {window}.",
        standout=units.length(facts["standout_mm"]),
        spot=place(facts["spot"]),
        line=_hookup(facts),
        window=_window(facts),
    )


RULE = ChainRule(
    "reach",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    limits=limits,
    left=left,
    short=lambda _: 0.0,  # too long and too short are not compared
    missing=always("None ends where the car's own line is."),
)
