"""The steps of an assembly sheet for what stands over the rail, in words: how an add-on goes back on.

Sources: common workshop practice; what holds an add-on on comes from the catalog.
"""

from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.explain.make_up import torque_range
from service.explain.sheet_words import Words, counted, spot_words


def addon_on(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    [name] = step.addons
    return Words(
        f"Back on: {name.partition(',')[0]}",
        "Where it came off: clean the faces, set it back; gaskets, belt and hoses as its maker says. "
        f"{_fastened(step)}",
        f"It touches nothing of the fuel system{_room(step)}.",
        "It does not lie down by hand, or it catches a line.",
        "Lift it off, clear what is in the way; never pull it down by its fasteners.",
    )


def _fastened(step: Step) -> str:
    if not step.used:
        return "Its fasteners and torque are not told here: ask its maker."
    start = f"Start {counted(step.used)} by hand, then tighten them from the middle outwards, in two rounds"
    if step.torque_nm is None:
        return f"{start}, to its maker's figure."
    return f"{start}: {torque_range(step.torque_nm.min, step.torque_nm.max)}. Its maker's figure comes first."


def _room(step: Step) -> str:
    if step.left_mm is None:
        return ""
    left = units.length(step.left_mm) if step.left_mm else "nothing"
    return f"; at the {spot_words(step.spots[0])} {left} stays free"
