"""What holds the pressure where fuel returns, in words: reference hose, setting, or a regulator beyond the bill.

Sources: one to one reference of return regulators and the reading with its hose off, common practice.
"""

from service.documents.answer import Reason
from service.domain import units
from service.domain.answer import Bill
from service.domain.engine_side import Follows
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.domain.tongue import said
from service.explain.sheet_words import Words, few_spots, spot_words

_TITLE = "Reference of the regulator"
_MANIFOLD = "a nipple of the manifold behind the throttle (the vehicle's manual tells which)"
_REFERENCE: dict[Follows | None, Words] = {
    "manifold": Words(
        _TITLE,
        "Join the nipple of {name}{nipple} to {where}, with a hose that stands fuel vapour, and clip both ends. "
        "Nothing else shares that hose.",
        "The hose is whole, falls towards the manifold, and both ends hold a pull.",
        "It is split, kinked or comes off: under boost the engine then runs lean.",
        "Change hose and clips before the engine runs.",
    ),
    "atmosphere": Words(
        _TITLE,
        "Leave the nipple of {name}{nipple} open to the air, pointing down and free of dirt; join nothing to it.",
        "It is open and dry.",
        "It is capped, or fuel comes out of it.",
        "Take the cap off; where fuel comes, its diaphragm has failed: change the regulator.",
    ),
    None: Words(
        _TITLE,
        "Whether {name} follows the manifold or the air is not told: ask its maker. Then join its nipple{nipple} to "
        "{where} with a clipped hose, or leave it open.",
        "The nipple stands as its maker says.",
        "Nobody knows what it follows.",
        "Do not run the engine under boost before that is known.",
    ),
}


def reference_hose(step: Step, _: Sheet, request: Request, __: Revision) -> Words:
    regulator = step.used[0].item
    words = _REFERENCE[follows(regulator, request)]
    own = None if regulator.regulates is None else regulator.regulates.nipple
    told = {
        "name": regulator.name.partition(",")[0],
        "nipple": f" ({own})" if own else "",
        "where": request.chassis.regulator.reference or _MANIFOLD,
    }
    return words._replace(text=words.text.format(**told))


def set_pressure(step: Step, sheet: Sheet, request: Request, _: Revision) -> Words:
    regulator = step.used[0].item
    name = regulator.name.partition(",")[0]
    set_kpa = units.pressure(request.regulated_kpa)
    by_manifold = follows(regulator, request) == "manifold"
    off = "the reference hose off and closed" if by_manifold else "its nipple open"
    falls = " At idle, hose back on, it falls with the manifold's vacuum." if by_manifold else ""
    return Words(
        "Set the regulator",
        f"Pump running, engine off, {off}: set {name} to {set_kpa}, read at {_read_at(sheet)}. "
        f"{_range(regulator)} Lock its nut.",
        f"The pressure stands still there.{falls}",
        "It cannot be set there, creeps or wanders.",
        "Look for dirt in its seat and for a pinched return line; change a regulator that still creeps.",
    )


def regulate_elsewhere(step: Step, _: Sheet, request: Request, __: Revision) -> Words:
    return Words(
        "Fit the regulator in the return line",
        f"Nothing in this bill holds the pressure. Fit a regulator between the return hose at the "
        f"{few_spots(step.spots)} and the tank."
        f"{' Under boost it has to follow the manifold.' if request.boost_kpa else ''}",
        "Its inlet is towards the rail, and both hoses are held.",
        "It stands the wrong way round, or a hose slides.",
        "Turn it round, or clip the hose anew.",
    )


def set_elsewhere(_: Step, sheet: Sheet, request: Request, __: Revision) -> Words:
    return Words(
        "Set the regulator in the return line",
        f"Pump running, engine off, its reference open to the air: set it to {units.pressure(request.regulated_kpa)}, "
        f"read at {_read_at(sheet)}. Lock its nut.",
        "Fuel goes back to the tank, and the pressure stands still.",
        "The pressure stays low, or climbs towards what the pump can give.",
        "Pump off. Too low: nothing throttles the return. Too high: it is closed or too narrow.",
    )


def of_returns(bill: Bill, request: Request) -> list[Reason]:
    """A caution beside a bill that returns fuel and has no regulator: where one goes."""
    spots = tuple(spot for spot, duty in bill.duties.items() if duty == "return")
    if not spots or any(link.item.kind == "regulator" for placed in bill.chains for link in placed.chain.links):
        return []
    set_kpa = request.regulated_kpa
    text = said(
        "No part of this bill holds the pressure: fit a regulator in the return, between the hose at the "
        "{spots} and the tank, set to {pressure}.",
        spots=few_spots(spots),
        pressure=units.pressure(set_kpa),
    )
    return [{"rule": "regulator", "text": text, "facts": {"spots": list(spots), "set_kpa": set_kpa}}]


def follows(regulator: Item, request: Request) -> Follows | None:
    """What a regulator of the bill follows: as the request tells, else the catalog of the part, else of the car."""
    own = None if regulator.regulates is None else regulator.regulates.follows
    return request.follows or own or request.chassis.regulator.follows


def _range(regulator: Item) -> str:
    told = regulator.regulates
    if told is None:
        return "Its range is not told: see its maker's."
    return f"It sets {units.pressure(told.min_kpa)} to {units.pressure(told.max_kpa)}."


def _read_at(sheet: Sheet) -> str:
    gauges = [spot.spot for rail in sheet.rails for spot in rail.spots if spot.duty == "gauge"]
    return f"the gauge at the {spot_words(gauges[0])}" if gauges else "a test gauge in the feed line"
