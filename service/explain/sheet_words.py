"""The shape of a step's words, and the small words that several kinds of step share."""

from typing import NamedTuple

from service.domain.sheet import Sheet, Used
from service.domain.tongue import numbered, places, plural, said
from service.domain.vehicles import HOOKUP_WORDS, bank_of, place_of
from service.explain.phrases import listed


class Words(NamedTuple):
    """What to do, what to look for, how to tell that it went wrong, and what then."""

    title: str
    text: str
    look_for: str
    wrong: str
    then: str


def hookup(kind: str | None) -> str:
    """A hookup as a sentence calls it."""
    if kind is None:
        return "the line"
    words = HOOKUP_WORDS.get(kind, kind)
    return words if kind == "own-hose" else f"the {words}"


def spot_words(spot: str) -> str:
    """A spot as a sentence calls it, as in `left spot of bank 2`."""
    return spots_words((spot,))


def spots_words(spots: tuple[str, ...]) -> str:
    """Several spots, as in `left and right spots of bank 1 and top spot of bank 2`."""
    banks: dict[str, list[str]] = {}
    for spot in spots:
        banks.setdefault(bank_of(spot), []).append(place_of(spot))
    return listed(
        [
            numbered(len(found), *(_OF_BANK if bank else _SPOTS), spots=listed(places(found)), bank=bank)
            for bank, found in banks.items()
        ]
    )


_SPOTS = plural("{spots} spot", "{spots} spots")
_OF_BANK = plural("{spots} spot of bank {bank}", "{spots} spots of bank {bank}")


_MOST_NAMED = 4


def few_spots(spots: tuple[str, ...]) -> str:
    """Several spots, of many how many they are."""
    return said("{count} spots", count=len(spots)) if len(spots) > _MOST_NAMED else spots_words(spots)


def injectors(sheet: Sheet) -> str:
    """The injectors of the car, as in `4 injectors`."""
    return f"{sheet.injectors} injectors" if sheet.injectors else "injectors"


def counted(used: tuple[Used, ...]) -> str:
    """Parts, each behind how many of it."""
    told = [f"{x.qty} \u00d7 {x.item.name}{' (where the car has it)' if x.optional else ''}" for x in used]
    return listed(told)
