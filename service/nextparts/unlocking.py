"""Which candidates unlock which questions: what could help by what the spots lack, then asked anew with the part."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from service.domain.answer import Bill
from service.domain.margins import least_relative
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.domain.work import Meter, TooCostlyError, metered
from service.nextparts.candidates import Candidate, item_of, openings, sku_for, with_part
from service.nextparts.lacking import Lack, lack_of
from service.nextparts.needs import Needs, narrowest, needs_of
from service.nextparts.settings import Spot, settings
from service.nextparts.steps import Steps
from service.solver.engine import Engine


@dataclass(frozen=True)
class Unanswered:
    """A request without a bill: how many standing questions ask it, and how often it was asked."""

    request: Request
    questions: int = 1
    asked: int = 0


@dataclass(frozen=True)
class Unlocked:
    """A request that has a bill with a candidate: its place among those that were given, the pieces of the first bill
    with the part, and what that asks of it."""

    place: int
    pieces: int
    needs: Needs


@dataclass(frozen=True)
class Found:
    """A candidate with all that it unlocks; `pieces`: those of the first bills of all its questions."""

    candidate: Candidate
    unlocked: tuple[Unlocked, ...]
    questions: int
    asked: int
    pieces: int

    @property
    def needs(self) -> Needs:
        """The narrowest that the unlocked questions ask of the part."""
        return narrowest(one.needs for one in self.unlocked)


def next_parts(
    revision: Revision, unanswered: Sequence[Unanswered], new_meter: Callable[[], Meter] = Meter
) -> list[Found]:
    """Return the candidates that unlock something, those that unlock most first.

    Then most asked, the fewest pieces in the unlocked bills, the fewest ports, their names.
    """
    helping: dict[Candidate, dict[int, frozenset[float]]] = {}
    lacks = _Lacks(revision)
    for place, one in enumerate(unanswered):
        for candidate, standouts in lacks.helpful(one.request).items():
            helping.setdefault(candidate, {})[place] = standouts
    found = []
    for candidate, places in sorted(helping.items()):
        unlocked = tuple(_unlocked(revision, candidate, places, unanswered, new_meter))
        if unlocked:
            questions = sum(unanswered[one.place].questions for one in unlocked)
            asked = sum(unanswered[one.place].asked for one in unlocked)
            pieces = sum(one.pieces * unanswered[one.place].questions for one in unlocked)
            found.append(Found(candidate, unlocked, questions, asked, pieces))
    return sorted(found, key=lambda x: (-x.questions, -x.asked, x.pieces, len(x.candidate.ports), x.candidate.ports))


class _Lacks:
    """Finds the candidates that could help a request; each spot is looked at once."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._openings = openings(revision)
        self._steps: dict[PartSituation, Steps] = {}
        self._known: dict[tuple[Spot, PartSituation], Lack] = {}

    def helpful(self, request: Request) -> dict[Candidate, frozenset[float]]:
        """Return the candidates that could give a request a bill, with the standouts [mm] to try of each."""
        parts = PartSituation.of(request)
        found: dict[Candidate, frozenset[float]] = {}
        for spots in settings(request, self._revision):
            lacks = [self._lack(spot, parts) for spot in spots]
            lacking = [lack.helpful for lack in lacks if not lack.served]
            helping = frozenset.intersection(*lacking) if lacking else frozenset().union(*(x.helpful for x in lacks))
            standouts = frozenset({0.0}).union(*(lack.standouts_mm for lack in lacks))
            for candidate in helping:
                found[candidate] = found.get(candidate, frozenset()) | standouts
        return found

    def _lack(self, spot: Spot, parts: PartSituation) -> Lack:
        key = (spot, parts)
        if key not in self._known:
            steps = self._steps.setdefault(parts, Steps(self._revision, parts))
            self._known[key] = lack_of(spot, steps, self._openings, self._revision.policies.max_chain)
        return self._known[key]


def _unlocked(
    revision: Revision,
    candidate: Candidate,
    places: Mapping[int, frozenset[float]],
    unanswered: Sequence[Unanswered],
    new_meter: Callable[[], Meter],
) -> Iterator[Unlocked]:
    """Yield what a candidate unlocks of those that it could help, each by the first of its bills with the part."""
    sku = sku_for(revision)
    firsts: dict[int, tuple[tuple[object, ...], Bill]] = {}
    for standout_mm in sorted({mm for tried in places.values() for mm in tried}):
        engine = Engine(with_part(revision, item_of(candidate, sku, standout_mm)))
        for place in (place for place, tried in places.items() if standout_mm in tried):
            request = unanswered[place].request
            bill = _first(engine, request, new_meter())
            if bill is not None:
                ranked = (_rank(bill, request), bill)
                firsts[place] = min(firsts.get(place, ranked), ranked, key=lambda one: one[0])
    for place, (_, bill) in sorted(firsts.items()):
        request = unanswered[place].request
        yield Unlocked(place, bill.pieces, needs_of(bill, request, sku, revision.policies))


def _first(engine: Engine, request: Request, meter: Meter) -> Bill | None:
    """The first bill of a request; None where it has none, or takes too much work."""
    try:
        with metered(meter):
            return next(iter(engine.answer(replace(request, limit=1, group_variants=False)).bills), None)
    except TooCostlyError:
        return None


def _rank(bill: Bill, request: Request) -> tuple[object, ...]:
    """The place of a bill among bills with other standouts of the part, by the order of its request."""
    drop = round(max((path.drop_kpa for path in bill.paths), default=0.0), 3)
    first = {"pieces": bill.pieces, "drop": drop, "lead": bill.lead_days}.get(request.order_by, bill.price)
    if request.order_by == "margin":
        first = -least_relative(bill.margins)
    texts = sorted(f"{placed.spot}:{placed.chain.text}" for placed in bill.chains)
    return first, bill.price, bill.pieces, drop, texts, bill.rail.sku
