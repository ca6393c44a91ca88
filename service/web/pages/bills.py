"""Bills as their pages show them: the first whole, mirror images as one, the others by what differs."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

from service.documents.answer import Bill, Line
from service.documents.sheet import SheetRail
from service.domain.vehicles import Duty
from service.drawing import draw_rails, without_room
from service.web.pages.pictures import Pictures

_SAME_KW = 0.05
_COMMA = ", "
_FLOWING: tuple[Duty, ...] = ("feed", "return", "link", "gauge")


@dataclass(frozen=True)
class Piece:
    """Some units of a part in a difference."""

    qty: int
    sku: str
    name: str


def _apart(name: str, other: str) -> str:
    """What a name says between its commas that another does not."""
    return _COMMA.join(word for word in name.split(_COMMA) if word not in other.split(_COMMA))


@dataclass(frozen=True)
class Difference:
    """What another bill has at a place instead; `where` empty: at no spot. `duty`: what the spot does, where that
    differs."""

    where: str
    duty: str
    takes: tuple[Piece, ...]
    instead: tuple[Piece, ...]

    @property
    def in_short(self) -> str:
        """The same on a line: of two parts with a name in common the words that differ, of several their first."""
        names, left = ([piece.name for piece in pieces] for pieces in (self.takes, self.instead))
        if not names and not left:
            return f"{self.where}: {self.duty}"
        if len(names) == len(left) == 1:
            new, old = _apart(names[0], left[0]), _apart(left[0], names[0])
            if new and old and new != names[0]:
                return f"{new} instead of {old}"
        told = names or left
        words = told[0] if len(told) == 1 else " + ".join(name.split(_COMMA)[0] for name in told)
        return words if names else f"without {words}"


@dataclass(frozen=True)
class ShownBill:
    """A bill with its picture, its lines numbered as there, and the ways in which it can be built as well."""

    bill: Bill
    picture: Markup
    lines: Sequence[tuple[int, Line]]
    ways: Sequence[Bill] = ()


@dataclass(frozen=True)
class OtherBill:
    """A bill by what differs from the first; `dearer` in minor units, below 0: it costs less."""

    bill: Bill
    dearer: int
    later_days: int
    differences: Sequence[Difference]
    ways: Sequence[Bill] = ()

    @property
    def in_short(self) -> str:
        """What differs, on one line."""
        return "; ".join(one.in_short for one in self.differences) or "the same parts"


@dataclass
class _Ways:
    """Bills of the same parts at other places."""

    first: int
    others: list[int] = field(default_factory=list)


def together(bills: Sequence[Bill]) -> list[tuple[int, list[int]]]:
    """The bills by their places in the list, each with those that have the very same parts at other spots."""
    found: dict[object, _Ways] = {}
    for place, bill in enumerate(bills):
        ways = found.setdefault(_parts(bill), _Ways(place))
        if ways.first != place:
            ways.others.append(place)
    return [(ways.first, ways.others) for ways in found.values()]


def _parts(bill: Bill) -> object:
    """What two bills share that differ by their places alone."""
    chains = Counter((bill["duties"][spot], min(chain, chain[::-1])) for spot, chain in _chains(bill))
    lines = Counter((line["sku"], line["qty"], line["source"]) for line in bill["lines"])
    carries = bill["power"]["carries_kw"]
    return (
        frozenset(chains.items()),
        frozenset(lines.items()),
        bill["price"],
        None if carries is None else round(carries / _SAME_KW),
    )


def _chains(bill: Bill) -> Iterator[tuple[str, tuple[str, ...]]]:
    return ((spot, tuple(chain)) for spot, chain in bill["chains"].items())


def shown_bill(
    bill: Bill, rails: Sequence[SheetRail], pictures: Pictures, ways: Sequence[Bill] = (), name: str = "built"
) -> ShownBill:
    """A bill with the picture of its rails; the numbers in it are those of the lines."""
    lines = list(enumerate(bill["lines"], 1))
    skus = {part["sku"] for rail in rails for spot in rail["spots"] for part in spot["standing"]}
    drawn = draw_rails(
        without_room(rails),
        f"The rail as built: {ways_told(bill)}",
        name=name,
        numbers=[
            [[_number(lines, part["sku"], spot["spot"]) for part in spot["standing"]] for spot in rail["spots"]]
            for rail in rails
        ],
        shapes={sku: pictures.shape(sku) for sku in skus},
    )
    return ShownBill(bill, Markup(drawn), lines, ways)  # noqa: S704 its writer has escaped what is in it


def _number(lines: Sequence[tuple[int, Line]], sku: str, spot: str) -> int:
    """The number of the line that a part at a spot is of."""
    of_part = [(number, line) for number, line in lines if line["sku"] == sku]
    at_spot = (number for number, line in of_part if spot in line["spots"])
    return next(at_spot, of_part[0][0] if of_part else 0)


def other_bill(best: Bill, bill: Bill, ways: Sequence[Bill] = ()) -> OtherBill:
    """A bill beside the first one."""
    return OtherBill(
        bill, bill["price"] - best["price"], bill["lead_days"] - best["lead_days"], differences(best, bill), ways
    )


def ways_told(bill: Bill) -> str:
    """Which spots do something, in words."""
    duties = [f"{spot}: {duty}" for spot, duty in bill["duties"].items() if duty in _FLOWING]
    return ", ".join(duties)


def differences(best: Bill, other: Bill) -> list[Difference]:
    """What another bill has instead of the best one: spot by spot, then what stands at no spot."""
    names = {line["sku"]: line["name"] for bill in (best, other) for line in bill["lines"]}
    found = []
    for spot in dict.fromkeys((*best["duties"], *other["duties"])):
        one, two = (bill["duties"].get(spot, "no spot") for bill in (best, other))
        had, has = best["chains"].get(spot, []), other["chains"].get(spot, [])
        if (one, had) != (two, has):
            takes, instead = _pieces(Counter(has) - Counter(had), names), _pieces(Counter(had) - Counter(has), names)
            found.append(Difference(spot, "" if one == two else f"{two} instead of {one}", takes, instead))
    lacks, adds = _elsewhere(best), _elsewhere(other)
    if lacks != adds:
        found.append(Difference("", "", _pieces(adds - lacks, names), _pieces(lacks - adds, names)))
    return found


def _elsewhere(bill: Bill) -> Counter[str]:
    counted: Counter[str] = Counter()
    for line in bill["lines"]:
        if not line["spots"]:
            counted[line["sku"]] += line["qty"]
    return counted


def _pieces(counted: Counter[str], names: Mapping[str, str]) -> tuple[Piece, ...]:
    return tuple(Piece(qty, sku, names.get(sku, sku)) for sku, qty in counted.items())
