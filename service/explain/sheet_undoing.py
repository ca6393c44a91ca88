"""The steps of an assembly sheet up to clean ports, in words.

Sources: the cautions of `safety` and what they rest on; common workshop practice for the rest.
"""

from service.domain.parts import OWN_RAIL
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.explain.phrases import listed
from service.explain.sheet_words import Words, counted, injectors

RELIEVE = Words(
    "Bring the fuel to zero pressure",
    "Let engine and exhaust cool. Take the pump's fuse or relay out, release the pressure as the vehicle's manual "
    "says, and catch what drains.",
    "A gauge that you trust stands at zero.",
    "Fuel still comes with force.",
    "Stop, find what feeds the line, begin again.",
)
BATTERY = Words(
    "Disconnect the battery",
    "Earth side first. Lay the cables where they cannot spring back.",
    "With the ignition on nothing lights.",
    "A lamp still lights, or the pump runs.",
    "Find the second supply before any fuel is opened.",
)
LINES_OFF = Words(
    "Take the car's fuel lines off the rail",
    "Cloth under each joint; two wrenches on flared nuts, the release tool on connectors. Cap every open end.",
    "Every end is capped, and nothing drips.",
    "Fuel keeps running from a line.",
    "Cap it, and go back to the first step.",
)


def rail_off(step: Step, sheet: Sheet, _: Request, __: Revision) -> Words:
    kept = f" Keep for later: {counted(step.used)}." if step.used else ""
    own = any(rail.rail.sku == OWN_RAIL for rail in sheet.rails)
    where = "Where another rail is on the engine: u" if own else "U"
    return Words(
        "Take the old rail off",
        f"{_above(step)}{where}nplug the injectors and mark the plugs. Undo the screws evenly, lift the rail straight "
        f"off, keep the injectors' clips.{kept}",
        f"The {injectors(sheet)} are out with both rings on.",
        "An injector hangs, or a ring stays in its bore.",
        "Turn it gently as it is pulled, never pry at its body; take the ring out.",
    )


def _above(step: Step) -> str:
    """What may stand over the rail, and comes off before it."""
    if not step.addons:
        return ""
    names = [name.partition(",")[0] for name in step.addons]
    return (
        f"Where {listed(names)} {'is' if len(names) == 1 else 'are'} on the car, first take off what keeps the rail "
        "from coming up, as its maker says; keep its fasteners. "
    )


def clean(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Clean every port",
        "Wipe threads and sealing faces of every spot, and of every part that goes in, with a lint-free cloth. Cap "
        "each spot until its part goes in.",
        "No burr, scratch, old sealant or old ring on thread or face.",
        "A scratch runs across a face, or a thread is flat.",
        "Change the part: sealant does not mend a face.",
    )
