"""`fuel`: every wetted material stands the fuel. A or B: yes; C: with a caution; D: no."""

from collections.abc import Iterator

from service.domain.findings import Facts
from service.domain.money import priced_anew
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Joint, Revision
from service.domain.tongue import named, said
from service.rules.rule import Got, PartRule, always

UNFIT = "D"
WITH_CAUTION = "C"


def worst(item: Item, fuel: str, revision: Revision) -> tuple[str, str] | None:
    """The worst rating among the item's wetted materials with the material that has it; None where none is wetted."""
    ratings = [(revision.materials[material].ratings[fuel], material) for material in item.wetted]
    return max(ratings, key=lambda rated: rated[0], default=None)


_FIT_FOR_A_SEAL = ("A", "B")


def spare_seal(joint: Joint, fuel: str, revision: Revision) -> tuple[Item, str | None] | None:
    """The seal to fit anew with its rating: the first rated A, else the first rated B, else one whose materials are
    not told (rating None); None where each that the catalog names is rated worse, or it names none.
    """
    rated = [(seal, found and found[0]) for seal, found in _spare_seals(joint, fuel, revision)]
    return next((one for grade in (*_FIT_FOR_A_SEAL, None) for one in rated if one[1] == grade), None)


def _spare_seals(joint: Joint, fuel: str, revision: Revision) -> Iterator[tuple[Item, tuple[str, str] | None]]:
    for sku in joint.spare_seals:
        yield revision.items[sku], worst(revision.items[sku], fuel, revision)


def reads(situation: PartSituation) -> str:
    return situation.fuel


def holds(item: Item, fuel: str, revision: Revision, _got: Got) -> bool:
    found = worst(item, fuel, revision)
    return found is None or found[0] != UNFIT


def facts(item: Item, situation: PartSituation, revision: Revision) -> Facts | None:
    found = worst(item, situation.fuel, revision)
    if found is None:
        return None
    rating, material = found
    names = {"fuel": revision.fuels[situation.fuel].name, "material": revision.materials[material].name}
    return names | {"rating": rating}


def _reason(facts: Facts) -> str:
    if "instead" in facts:
        return said(
            "{material} is rated {rating} for {fuel}. {name} ({sku}) has the same ends, is rated A and costs {more} "
            "more.",
            **_named(facts),
            name=named(facts["name"]),
            sku=facts["instead"],
            more=priced_anew(facts["more"]),
        )
    if facts["rating"] == WITH_CAUTION:
        return said("{material} stands {fuel} only for a while (rated C): inspect and renew it early.", **_named(facts))
    return said("Its wetted materials stand {fuel}; the weakest, {material}, is rated {rating}.", **_named(facts))


def _rejection(facts: Facts) -> str:
    return said("{material} does not stand {fuel} (rated {rating}).", **_named(facts))


def _named(facts: Facts) -> dict[str, str]:
    """The material, the fuel and the rating of one for the other, as texts have them."""
    return {"material": named(facts["material"]), "fuel": named(facts["fuel"]), "rating": facts["rating"]}


RULE = PartRule(
    "fuel",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    ("fuel",),
    missing=always("None stands the fuel."),
    not_judged=lambda request: said(
        "Whether your own rail stands {fuel} was not judged: ask its maker, seals and inside finish included.",
        fuel=named(request.fuel.name),
    ),
)
