"""The steps of an assembly sheet once the joints are made, in words: lines held, the leak checks.

Sources: the cautions of `safety` and what they rest on; common workshop practice for the rest.
"""

from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.explain.sheet_words import Words, counted, few_spots


def clip(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Clip the car's line",
        f"Put {counted(step.used)} back on the car's line.",
        "It snaps in, and the line cannot slide off its connector.",
        "It stands open or is worn.",
        "Take a new one: a clip that has opened once does not hold.",
    )


def hold(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Hold the lines",
        f"Fix the line with {counted(step.used)}: off exhaust, edges and moving parts, with a little slack.",
        "Nothing rubs, and no line pulls at its joint.",
        "A line touches something or is drawn tight.",
        "Lay it anew; a line that has chafed is changed.",
    )


def reconnect(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Make ready",
        "Look at every spot once more. Mark each joint across with the pen and wipe it dry. Plug the injectors in, put "
        "fuse or relay back, connect the battery, earth side last.",
        "No port is open, no tool or cloth is left.",
        "A spot is without its part.",
        "Leave the ignition off until it is made.",
    )


def prime(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "First pressure: fill and bleed, engine off",
        "Extinguisher at hand, no flame or hot lamp near, starter untouched. Ignition on for two seconds, off for "
        "ten, three or four times: the pump fills the lines, and the air leaves by the return or the injectors. Each "
        "time hold dry paper to every joint, gloved.",
        "The paper stays dry, and the pump's note steadies.",
        "The paper turns wet, it smells of fuel, or the pump runs on.",
        "Ignition off, pressure to zero, wipe up, make that joint anew, begin again.",
    )


def pressurise(step: Step, sheet: Sheet, request: Request, _: Revision) -> Words:
    where = f"the gauge at the {few_spots(step.spots)}" if has_gauge(sheet) else "a test gauge"
    return Words(
        "Leak check, engine off",
        f"Run the pump in short bursts until {where} stands near {units.pressure(request.regulated_kpa)}. After five "
        "minutes wipe every joint with dry paper; look at hidden ones with lamp and mirror.",
        "Every joint stays dry, and the pressure holds.",
        "A joint turns wet or smells, or the pressure drops.",
        "Pump off, pressure to zero, make that joint anew, check again. Never tighten under pressure.",
    )


def idle(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Leak check at idle",
        "Start the engine only once all has stayed dry. Let it idle, and look at every joint again.",
        "Dry joints, a steady pressure, an even idle.",
        "A wet joint, or a smell of fuel.",
        "Engine off at once, pressure to zero, make the joint anew, check with the engine off again.",
    )


def heat(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Check after the first full heat",
        "Run it hot once, let it cool, and look at every joint, mark and line; again after the first drive.",
        "All is dry, and every mark stands as it was drawn.",
        "A joint weeps, or a mark has moved.",
        "Pressure to zero, make it anew, cold; never retighten it hot or under pressure.",
    )


def has_gauge(sheet: Sheet) -> bool:
    return any(spot.duty == "gauge" for rail in sheet.rails for spot in rail.spots)
