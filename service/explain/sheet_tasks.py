"""The steps of an assembly sheet that make no joint, in words.

Sources: the cautions of `safety` and what they rest on; common workshop practice for the rest.
"""

from collections.abc import Callable

from service.domain import units
from service.domain.parts import OWN_RAIL
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step, Task
from service.explain.sheet_tightening import screw_text
from service.explain.sheet_words import Words, counted, spots_words

_RELIEVE = Words(
    "Bring the fuel to zero pressure",
    "Let engine and exhaust cool. Keep the pump from running (its fuse or relay out) and release the pressure the way "
    "the vehicle's manual says. Catch what drains.",
    "A gauge that you trust stands at zero, and nothing more comes at the bleed point.",
    "Fuel still comes with force, or the gauge does not fall.",
    "Stop, close the bleed point, find what still feeds the line, begin again.",
)
_BATTERY = Words(
    "Disconnect the battery",
    "Earth side first. Lay the cables where they cannot spring back.",
    "Nothing lights, and the pump does not prime, with the ignition on.",
    "A lamp still lights or the pump still runs.",
    "There is a second supply: find it before any fuel is opened.",
)
_LINES_OFF = Words(
    "Take the car's fuel lines off the rail",
    "Cloths under each joint. Flared nuts with two wrenches, quick connectors with their release tool. Cap every open "
    "end at once.",
    "Every end is capped and nothing drips.",
    "A line goes on running.",
    "It still holds pressure or siphons: cap it and go back to the first step.",
)
_CHANGED = "Do not fit it: change the part. Sealant does not mend a face."
_SET_AGAIN = (
    "Lift it straight off, look at every ring, change and wet those that are cut, set it again. Never pull a rail down "
    "with its screws."
)
_RAIL_LOOK = "It rests on all its feet before a screw is in, and each injector still turns a little by hand."
_RAIL_WRONG = "One end stands up, or a ring creeps out of its gap."


def task_words(step: Step, sheet: Sheet, request: Request, revision: Revision) -> Words:
    """The words of a step that makes no joint."""
    return _WORDS[step.task](step, sheet, request, revision)


def _rail_off(step: Step, sheet: Sheet, _: Request, __: Revision) -> Words:
    kept = f" Keep for later: {counted(step.used)}." if step.used else ""
    own = any(rail.rail.sku == OWN_RAIL for rail in sheet.rails)
    where = "Where another rail is on the engine: u" if own else "U"
    return Words(
        "Take the old rail off",
        f"{where}nplug the injectors and mark the plugs. Undo the screws evenly and lift the rail straight off.{kept}",
        f"{_injectors(sheet)} came out with both rings on, or still sit in the manifold.",
        "An injector hangs, or a ring stays behind in its bore.",
        "Turn it gently as it is pulled, never pry at its body; take the ring out before anything goes in.",
    )


def _clean(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Clean every port",
        f"Wipe threads and sealing faces at the {_spots(step)}, and of every part that goes on, with a lint-free "
        "cloth. Keep each capped until its part goes in.",
        "Clean threads; no burr, scratch, old sealant or old ring on a face.",
        "A scratch runs across a face, or a thread is flattened.",
        _CHANGED,
    )


def _ring(step: Step, _: Sheet, __: Request, revision: Revision) -> Words:
    return Words(
        f"Rings of {revision.standards[step.standard or ''].name}",
        f"For the {_spots(step)}: slip a new ring on each part and wet it lightly with a fluid that suits the fuel.",
        "Each ring lies round in its groove, without twist, nick or flat.",
        "It is cut, swollen or twisted, or does not stay in its groove.",
        "Throw it away and take a new one; never glue or tape a ring.",
    )


def _connector(step: Step, _: Sheet, __: Request, revision: Revision) -> Words:
    return Words(
        f"Connectors of {revision.standards[step.standard or ''].name}",
        f"For the {_spots(step)}: look into each connector, and wet its spigot lightly with a fluid that suits the "
        "fuel.",
        "The rings within are whole and in place, the spigot is round and smooth, the latch springs back.",
        "A ring is missing or nicked, or the spigot is scored.",
        "Change the connector or its ring; a scored spigot does not seal with a new ring either.",
    )


def _injector_rings(_: Step, sheet: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Rings of the injectors",
        f"{_injectors(sheet)}: new rings at both ends, of a compound that stands the fuel; wet them lightly.",
        "Each ring sits in its groove, and its bore is clean and without a burr.",
        "A ring is hard, flat or cut, or a bore is scored.",
        "Change the ring, on all injectors alike; a scored bore is not mended by a ring.",
    )


def _spacer(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Set the spacers",
        f"Lay {counted(step.used)} on the cleaned bosses of the manifold.",
        "Each lies flat, does not rock, and its hole stands over the thread.",
        "A spacer rocks, or they are not of one height.",
        "Clean both faces and look for a burr; use spacers of one height, never washers.",
    )


def _rail(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    [used] = step.used
    return Words(
        f"Set the rail{_bank(step)}",
        f"Hold {used.item.name} over the injectors and press it on evenly, by hand alone.",
        _RAIL_LOOK,
        _RAIL_WRONG,
        _SET_AGAIN,
    )


def _own_rail(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        f"Mount your own rail{_bank(step)}",
        "How it is mounted is not known here: no spacers and no screws are listed. Mount it as its maker says, so that "
        "nothing strains or rubs.",
        _RAIL_LOOK,
        _RAIL_WRONG,
        _SET_AGAIN,
    )


def _screw(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Tighten the rail's screws",
        f"Start {counted(step.used)} by hand, then tighten evenly from the middle outwards, in two rounds. "
        f"{screw_text(step.torque_nm)}",
        "The rail lies flat, and each injector still turns a little.",
        "A screw turns without growing tighter, comes up hard too early, or the rail bends.",
        "Take it out and look at its length and at the thread; a pulled thread is mended before any fuel comes.",
    )


def _hold(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Hold the lines",
        f"Fix the line with {counted(step.used)}: off exhaust, edges and moving parts, with a little slack.",
        "Nothing rubs, and no line pulls at its joint when the engine rocks.",
        "A line touches something or is drawn tight.",
        "Lay it anew; a line that has chafed is changed.",
    )


def _reconnect(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Make ready",
        f"Look at each spot once more: the {spots_words(step.spots)}. Lines lie off exhaust, "
        "edges and moving parts. Mark each joint across with the pen and wipe it dry. Plug the injectors in, put the "
        "pump's fuse or relay back, connect the battery, earth side last.",
        "No port is open, no cap, tool or cloth is left, every joint is dry.",
        "A spot is without its part, or a joint is unmarked.",
        "Leave the ignition off until it is made.",
    )


def _pressurise(step: Step, sheet: Sheet, request: Request, _: Revision) -> Words:
    base = units.pressure(request.chassis.base_kpa)
    gauged = any(spot.duty == "gauge" for rail in sheet.rails for spot in rail.spots)
    where = f"the gauge at the {_spots(step)}" if gauged else "a test gauge"
    return Words(
        "Leak check, engine off",
        f"Extinguisher at hand. Let the pump run in short bursts, engine off, until {where} stands near {base}. Look "
        "and feel, gloved, at every joint, and wait five minutes.",
        "Every joint stays dry, and the pressure falls slowly at most.",
        "A joint turns wet or smells, or the pressure drops at once.",
        "Pump off, pressure to zero, make that joint anew, check again. Never tighten under pressure.",
    )


def _idle(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Leak check at idle",
        "Start the engine only once all has stayed dry. Let it idle, and look at every joint again.",
        "Dry joints, a steady pressure, an even idle.",
        "A wet joint, a smell of fuel, a pressure that wanders.",
        "Engine off at once, pressure to zero, make the joint anew, and check from engine off again.",
    )


def _heat(_: Step, __: Sheet, ___: Request, ____: Revision) -> Words:
    return Words(
        "Check after the first full heat",
        "Run it hot once, let it cool, and look at every joint, mark and line; again after the first drive.",
        "All is dry, and every mark stands as it was drawn.",
        "A joint weeps, a mark has moved, or a line has shifted.",
        "Pressure to zero first, then make it anew, cold. Never retighten a joint that is hot or under pressure.",
    )


def _spots(step: Step) -> str:
    """The spots of a step, of many how many they are."""
    if len(step.spots) > _MOST_NAMED:
        return f"{len(step.spots)} spots"
    return spots_words(step.spots)


_MOST_NAMED = 4


def _bank(step: Step) -> str:
    return f" of bank {step.bank}" if step.bank else ""


def _injectors(sheet: Sheet) -> str:
    return f"The {sheet.injectors} injectors" if sheet.injectors else "The injectors"


_Worded = Callable[[Step, Sheet, Request, Revision], Words]


def _same(words: Words) -> _Worded:
    return lambda *_: words


_WORDS: dict[Task, _Worded] = {
    "relieve": _same(_RELIEVE),
    "battery": _same(_BATTERY),
    "lines-off": _same(_LINES_OFF),
    "rail-off": _rail_off,
    "clean": _clean,
    "ring": _ring,
    "connector": _connector,
    "injector-rings": _injector_rings,
    "spacer": _spacer,
    "rail": _rail,
    "own-rail": _own_rail,
    "screw": _screw,
    "hold": _hold,
    "reconnect": _reconnect,
    "pressurise": _pressurise,
    "idle": _idle,
    "heat": _heat,
}
