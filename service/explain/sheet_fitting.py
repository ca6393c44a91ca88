"""The steps of an assembly sheet that bring rings, injectors and rail into their places, in words.

Sources: the cautions of `safety` and what they rest on; common workshop practice for the rest.
"""

from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet, Step
from service.explain.sheet_tightening import screw_text
from service.explain.sheet_words import Words, counted, few_spots, injectors

_LOOK = "It rests on all its feet, and each injector still turns a little by hand."
_WRONG = "One end stands up, or a ring creeps out of its gap."
_AGAIN = "Lift it straight off, change every cut ring, set it again. Never pull it down by its screws."


def ring(step: Step, _: Sheet, request: Request, revision: Revision) -> Words:
    text = "Slip a new ring on each part and wet it lightly with a fluid that suits the fuel."
    if not step.used:
        text = (
            f"No ring of this catalog is rated A or B for {request.fuel.name}. Get one that stands it from the part "
            "maker before anything goes in, and wet it lightly."
        )
    return Words(
        f"Rings of {revision.standards[step.standard or ''].name}: {few_spots(step.spots)}",
        text,
        "Each ring lies round in its groove, without twist or nick.",
        "It is cut, swollen, or does not stay in its groove.",
        "Take a new one; never glue or tape a ring.",
    )


def connector(step: Step, _: Sheet, __: Request, revision: Revision) -> Words:
    return Words(
        f"Connectors of {revision.standards[step.standard or ''].name}",
        f"For the {few_spots(step.spots)}: look into each connector, and wet its spigot lightly with a fluid that "
        "suits the fuel.",
        "The rings are whole, the spigot is smooth, the latch springs back.",
        "A ring is missing or nicked, or the spigot is scored.",
        "Change the ring; a scored spigot does not seal with a new one either.",
    )


def injector_rings(_: Step, sheet: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Rings of the injectors",
        f"The {injectors(sheet)}: new rings at both ends, of a compound that stands the fuel; wet them lightly.",
        "Each ring sits in its groove, and its bore is clean.",
        "A ring is cut, or a bore is scored.",
        "Change the ring; a scored bore is not mended by one.",
    )


def injectors_in(_: Step, sheet: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Injectors into the rail",
        f"Push the {injectors(sheet)} straight into the rail's cups, plugs turned to their wires. Where they have "
        "clips, press each clip home in both grooves. Wipe the seats in the manifold.",
        "Each clip lies flush, and each injector turns a little.",
        "A clip stands proud, or an injector slides out.",
        "Take it out, look at ring and groove; change a clip that has opened.",
    )


def spacer(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Set the spacers",
        f"Lay {counted(step.used)} on the cleaned bosses of the manifold.",
        "Each lies flat, its hole over the thread.",
        "A spacer rocks, or they are not of one height.",
        "Clean both faces; use spacers of one height, never washers.",
    )


def rail(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        f"Set the rail{_bank(step)}",
        "Hold it over the manifold and press it down evenly by hand, until every injector sits in its seat.",
        _LOOK,
        _WRONG,
        _AGAIN,
    )


def own_rail(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        f"Mount your own rail{_bank(step)}",
        "How it is mounted is not known here: no spacers and no screws are listed. Mount it as its maker says, so that "
        "nothing strains or rubs.",
        _LOOK,
        _WRONG,
        _AGAIN,
    )


def screw(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    return Words(
        "Tighten the rail's screws",
        f"Start {counted(step.used)} by hand, then tighten from the middle outwards, in two rounds. "
        f"{screw_text(step.torque_nm)}",
        "The rail lies flat, and each injector still turns a little.",
        "A screw does not grow tight, or is hard too early.",
        "Take it out, look at its length and thread; mend a pulled thread first.",
    )


def _bank(step: Step) -> str:
    return f" of bank {step.bank}" if step.bank else ""
