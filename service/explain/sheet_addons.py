"""The steps of an assembly sheet for add-ons that stand over the rail, in words: off before it, back on after it.

Sources: common workshop practice; what holds an add-on on comes from the catalog.
"""

from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.explain.make_up import torque_range
from service.explain.phrases import listed
from service.explain.sheet_words import Words, counted, spot_words


def addon_off(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    names = [name.partition(",")[0] for name in step.addons]
    return Words(
        "Take off what stands over the rail",
        f"Where {listed(names)} {'is' if len(names) == 1 else 'are'} on the car already: take off what keeps the rail "
        "from coming up, as its maker says, and keep its fasteners. Cap every opening.",
        "The rail can be lifted straight off.",
        "Something has to be bent aside.",
        "Take that off as well.",
    )


def addon_on(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    [name] = step.addons
    return Words(
        f"Back on: {name.partition(',')[0]}",
        "Where a part of it came off: clean the faces and set it back; gaskets, belt and hoses as its maker says. "
        f"{_fastened(step)}",
        f"It touches nothing of the fuel system{_room(step)}.",
        "It does not lie down by hand, or it catches a line.",
        "Lift it off and clear what stands in the way. Never pull it down by its fasteners.",
    )


def _fastened(step: Step) -> str:
    if not step.used:
        return "Its fasteners and their torque are not told here: its maker's instructions have them."
    start = f"Start {counted(step.used)} by hand, then tighten them from the middle outwards, in two rounds"
    if step.torque_nm is None:
        return f"{start}, to its maker's figure."
    return f"{start}: {torque_range(step.torque_nm.min, step.torque_nm.max)}. Its maker's figure comes first."


def _room(step: Step) -> str:
    if step.left_mm is None:
        return ""
    left = units.length(step.left_mm) if step.left_mm else "nothing"
    return f"; at the {spot_words(step.spots[0])} {left} stays free"
