"""What a spot, or the rails, come to under every subset of the wishes: a case for each set of chains that is left."""

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from service.domain.parts import OWN_RAIL, Item, RailShape
from service.domain.request import PartSituation, Request, SpotSituation
from service.domain.revision import Revision
from service.domain.wishes import Wishes
from service.domain.work import spend
from service.rules import SPOT_RULES, ChainRule, PartRule
from service.rules.rule import Got
from service.solver.judge.judges import Judges
from service.solver.judge.parts import PartJudge
from service.solver.judge.picked import CHAINS_A_STEP, Picked, SpotTable
from service.solver.judge.situations import Situations
from service.solver.judge.spots import preferred
from service.solver.judge.tables import Mask
from service.solver.why_not.truth import Cases, Universe, crossed, merged


class SpotCase(NamedTuple):
    """The chains that are left to choose from at a spot; `own`: their first items come with the rail; `bought`:
    whether a chain that could be bought whole is among those that keep the rules."""

    table: SpotTable
    kept: Mask
    own: bool
    bought: bool

    @property
    def choices(self) -> Picked:
        return self.table.picked(self.kept, self.own)


class Variants:
    """The request with any of its wishes: those of `fixed` always, the universe's as chosen."""

    def __init__(self, wishes: Wishes, fixed: Iterable[str]) -> None:
        self.wishes = wishes
        self.fixed = tuple(fixed)
        self.request = lru_cache(None)(self._request)
        self.parts = lru_cache(None)(self._parts)
        self._situations = lru_cache(None)(lambda chosen: Situations(self.request(chosen)))

    def _request(self, chosen: tuple[str, ...]) -> Request:
        return self.wishes.request_with((*self.fixed, *chosen))

    def _parts(self, chosen: tuple[str, ...]) -> PartSituation:
        return PartSituation.of(self.request(chosen))

    def at(self, spot: SpotSituation, chosen: tuple[str, ...]) -> SpotSituation:
        """The spot with the room that these wishes leave it."""
        return self._situations(chosen).in_its_room(spot)


def axes(rule: PartRule | ChainRule, names: Iterable[str]) -> list[tuple[str, ...]]:
    """The wishes that sway a rule: those that only decide together as one axis, others each for itself."""
    swaying = [name for name in names if rule.is_swayed_by(name)]
    return ([tuple(swaying)] if swaying else []) if rule.together else [(name,) for name in swaying]


class SpotCases:
    """Cases of spots and rails over a universe of wishes."""

    def __init__(self, judges: Judges, variants: Variants, universe: Universe) -> None:
        self._judges = judges
        self._variants = variants
        self._universe = universe
        self._known: dict[tuple[SpotSituation, tuple[Item, ...]], Cases[SpotCase]] = {}
        self._ways = [
            (rule, list(universe.choosing(axis))) for rule in SPOT_RULES for axis in axes(rule, universe.names) or [()]
        ]
        """Each rule with the ways to take of the wishes that sway it together, and the subsets where each is taken."""

    def of_spot(self, spot: SpotSituation, plugs: tuple[Item, ...]) -> Cases[SpotCase]:
        """What is left at a spot (its room as in no wish at all) whose rail comes with these plugs."""
        if (spot, plugs) not in self._known:
            self._known[spot, plugs] = self._of_spot(spot, plugs)
        return self._known[spot, plugs]

    def _of_spot(self, spot: SpotSituation, plugs: tuple[Item, ...]) -> Cases[SpotCase]:
        table = self._judges.spots.table(spot)
        parts = self._variants.parts(())

        def spot_case(fit: Mask, own: Mask) -> SpotCase:
            kept, bought = preferred(table.chains, fit, own, parts)
            return SpotCase(table, kept, bool(own), bool(bought))

        own = self._keeping(table, spot, plugs) if plugs else {0: self._universe.always}
        return crossed(self._keeping(table, spot, None), own, spot_case)

    def _keeping(self, table: SpotTable, spot: SpotSituation, plugs: tuple[Item, ...] | None) -> Cases[Mask]:
        """The chains that keep every rule at the spot (`plugs`: of those that begin with one, as it comes)."""
        found: Cases[Mask] = {table.chains.whole: self._universe.always}
        for rule, ways in self._ways:
            cases = merged(
                (mask_under(self._variants, table, rule, spot, plugs, chosen), truth) for chosen, truth in ways
            )
            found = crossed(found, cases, int.__and__)
        return found

    def of_rails(self, shape: RailShape) -> Cases[Mask]:
        """The rails of a shape that keep the part rules, as places among them."""
        found: Cases[Mask] = {(1 << len(shape.rails)) - 1: self._universe.always}
        for rule, ways in self._ways:
            if isinstance(rule, PartRule):
                cases = merged(
                    (rails_keeping(self._judges.revision, self._variants, shape, rule, chosen), truth)
                    for chosen, truth in ways
                )
                found = crossed(found, cases, int.__and__)
        return found


def mask_under(
    variants: Variants,
    table: SpotTable,
    rule: PartRule | ChainRule,
    spot: SpotSituation,
    plugs: tuple[Item, ...] | None,
    chosen: tuple[str, ...],
) -> Mask:
    """The chains that keep a rule with these wishes alone."""
    spend(1 + table.chains.size // CHAINS_A_STEP, "wishes")
    parts = variants.parts(chosen)
    if isinstance(rule, ChainRule):
        return table.chains.keeping(rule, variants.at(spot, chosen), parts)
    if plugs is None:
        return table.chains.keeping(rule, spot, parts)
    return table.chains.supplied_keeping(rule, plugs, parts)


def rails_keeping(
    revision: Revision, variants: Variants, shape: RailShape, rule: PartRule, chosen: tuple[str, ...]
) -> Mask:
    """The rails that keep a rule with these wishes alone, as places among those of their shape."""
    request = variants.request(chosen)
    judge = PartJudge(revision, variants.parts(chosen))
    have = dict(request.have)
    kept = 0
    for place, rail in enumerate(shape.rails):
        got: Got = "had" if have.get(rail.sku, 0) >= request.chassis.banks else "bought"
        if rail.sku == OWN_RAIL or judge.holds(rule, rail, got):
            kept |= 1 << place
    return kept
