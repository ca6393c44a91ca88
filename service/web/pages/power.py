"""A power answer as pages have room for it: how it stands, how much, what stops it there."""

from typing import Literal

from service.documents.answer import Power
from service.domain import power as domain
from service.domain import units
from service.domain.power import STOPS, PowerVerdict


def carried(power: Power) -> str:
    """What a set-up carries and what stops it there, as a clause."""
    return domain.in_short(power["carries_kw"], power["limited_by"], power["not_told"])


def most(power: Power) -> str:
    """How much a set-up carries."""
    return "power not known" if power["carries_kw"] is None else units.power(power["carries_kw"])


def stop(power: Power) -> str:
    """What stops a set-up there."""
    if power["limited_by"] is None:
        return ""
    return f"there {STOPS[power['limited_by']]}{', as far as is told' if power['not_told'] else ''}"


def standing(power: Power) -> PowerVerdict | Literal["untold"]:
    """The verdict, or `untold` where no limit is told: what is not known is not said to be enough."""
    return "untold" if power["carries_kw"] is None else power["verdict"]


def in_short(power: Power) -> str:
    """What a set-up carries, in a line; nothing where more must be said, so that no warning is left out."""
    _, *usual = power["text"].split(". ")
    if len(usual) != 1 or power["not_told"] or power["verdict"] == "over":
        return ""
    spare = "" if power["verdict"] == "ok" else f"; {usual[0].rpartition(', ')[2].rstrip('.')}"
    return f"{most(power)}: {stop(power)}{spare}."
