"""Judges one spot: which chains serve it under all rules that look at one spot alone, and what stops the others."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from service.domain.chains import Chain
from service.domain.findings import Finding, Rejection
from service.domain.lazy import lazy, memo
from service.domain.parts import Item, Opening
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision
from service.domain.work import kept, spend
from service.rules import (
    SPOT_RULES,
    ChainRule,
    PartRule,
    closed,
    elsewhere,
    mates,
    simple,
    supplied,
    via,
)
from service.solver.judge.chains import MEMO_SIZE, ChainFinder, ChainSpec
from service.solver.judge.parts import PartJudge
from service.solver.judge.picked import CHAINS_A_STEP, MOST_PICKED, PASSES_OF_A_TABLE, Picked, SpotTable
from service.solver.judge.shelf import Shelf
from service.solver.judge.tables import ChainTable, Mask, first_of

MOST_PLANS = 8192
"""Of the plans that are kept; one takes two thirds of a kilobyte."""


@dataclass(eq=False)
class ServedSpot:
    """A spot in its situation: `fit` are the chains that keep every rule there, `kept` those that are left to choose
    from (a plug that comes with the rail goes before others, sold ones before those from elsewhere)."""

    judge: "SpotJudge"
    situation: SpotSituation
    parts: PartSituation
    """As far as it concerns the chains of the table."""
    table: SpotTable
    fit: Mask
    kept: Mask
    own: Mask
    """Those of the chains whose first item comes with the rail; 0 where the rail has no plug that will do."""
    could_be_bought: bool
    """Whether a chain that we sell whole serves the spot, whatever is had."""
    plugs: tuple[Item, ...] = ()
    """The plugs that come with the rail for the spot."""

    @property
    def choices(self) -> Picked:
        return self.table.picked(self.kept, bool(self.own))

    def without(self, chains: Mask) -> Picked:
        """What is left to choose from without these chains."""
        return self.table.picked(self.kept & ~chains, bool(self.own))

    @property
    def bought_instead(self) -> str:
        """The name of what begins a chain that we sell whole, where there is one."""
        table, spot = self.table.chains, self.situation
        sold = table.sold_beyond_first if self.own else table.sold
        chain = table.chains[first_of(self.kept & sold)]
        return chain.items[0].name if chain.links else f"the {spot.hookup_kind or 'far spot'} itself"

    @lazy
    def rejections(self) -> tuple[Rejection, ...]:
        """For each part that heads none of the choices, what stops the chain of it that comes furthest."""
        table, spot = self.table.chains, self.situation
        lost = self._broken(table)
        if self.own:
            plug = table.chains[first_of(self.own)].skus[0]
            finding = Finding(supplied.RULE.id, supplied.facts(plug, spot.spot))
            lost |= {sku: finding for sku, headed in table.headed.items() if headed & self.fit}
        outdone = (self.own or self.fit) & ~self.kept
        if outdone and self.kept:
            instead = table.chains[first_of(self.kept)]
            if instead.links:
                finding = Finding(elsewhere.RULE.id, elsewhere.facts(spot.spot, instead.items[0].name))
                lost |= dict.fromkeys(table.heads_in(outdone), finding)
        used = {sku for sku, headed in table.headed.items() if headed & self.kept}
        found = [Rejection(sku, spot.spot, finding) for sku, finding in lost.items() if sku not in used]
        return (*found, *self.judge.dead_ends(spot))

    def _broken(self, table: ChainTable) -> dict[str, Finding]:
        """For each part that heads only chains that break a rule, the rule that stops the one that comes furthest."""
        lost = {sku: headed for sku, headed in table.headed.items() if not headed & self.fit}
        found: dict[str, Finding] = {}
        left = table.whole
        for rule in SPOT_RULES if lost else ():
            keeping = left & table.keeping(rule, self.situation, self.parts)
            for sku, headed in lost.items():
                if headed & left and not headed & keeping:
                    chain = table.chains[first_of(headed & left)]
                    found[sku] = self.judge.finding(rule, chain, self.situation, self.parts)
            left = keeping
        return found


class SpotJudge:
    """Tells what serves each spot; tables of chains are made once."""

    def __init__(self, revision: Revision, finder: ChainFinder) -> None:
        self._revision = revision
        self._finder = finder
        self.parts = lru_cache(1024)(self._part_judge)
        self._known_served = kept(8192, self._served)
        self.plans: Shelf[list[Any]] = Shelf(MOST_PLANS)
        self._picked: Shelf[Picked] = Shelf(MOST_PICKED)
        self._tables = memo(MEMO_SIZE, self._chain_table)
        self._spot_tables = memo(MEMO_SIZE, self._spot_table)
        self._dead_ends = lru_cache(MEMO_SIZE)(self._structural_rejections)

    def _part_judge(self, situation: PartSituation) -> PartJudge:
        return PartJudge(self._revision, situation)

    def _chain_table(self, spec: ChainSpec) -> ChainTable:
        return ChainTable(self._revision, self._finder.chains(spec))

    def _spot_table(self, spec: ChainSpec, spot: str) -> SpotTable:
        return SpotTable(self._tables(spec), spot, self._picked)

    def table(self, spot: SpotSituation) -> SpotTable:
        """The chains of a spot, before anything is judged."""
        table = self._spot_tables(spec_of(spot), spot.spot)
        spend(1 + PASSES_OF_A_TABLE * table.chains.size // CHAINS_A_STEP, "chains")
        return table

    def served(self, spot: SpotSituation, parts: PartSituation, plugs: tuple[Item, ...]) -> ServedSpot:
        """What serves a spot whose rail comes with these plugs for it."""
        return self._known_served(spot, self._tables(spec_of(spot)).concerned(parts), plugs)

    def _served(self, spot: SpotSituation, parts: PartSituation, plugs: tuple[Item, ...]) -> ServedSpot:
        spot_table = self.table(spot)
        table = spot_table.chains
        at_spot = table.keeping_at(spot)
        fit = table.keeping_parts(parts) & at_spot
        own = table.supplied_by(plugs, parts) & at_spot if plugs else 0
        kept, bought = preferred(table, fit, own, parts)
        return ServedSpot(self, spot, parts, spot_table, fit, kept, own, bool(bought), plugs)

    def finding(self, rule: PartRule | ChainRule, chain: Chain, spot: SpotSituation, parts: PartSituation) -> Finding:
        """What a rule that a chain breaks has to say of it."""
        if isinstance(rule, ChainRule):
            return Finding(rule.id, {"chain": list(chain.skus), **(rule.facts(chain, spot) or {})})
        judge = self.parts(parts)
        have = dict(parts.have)
        culprit = next(
            item
            for item in chain.items
            if not judge.holds(rule, item, "had" if chain.items.count(item) <= have.get(item.sku, 0) else "bought")
        )
        return judge.finding(culprit, rule)

    def dead_ends(self, spot: SpotSituation) -> tuple[Rejection, ...]:
        """Why parts that meet the spot, of a kind that its duty takes, head no chain at all."""
        return tuple(Rejection(sku, spot.spot, finding) for sku, finding in self._dead_ends(spec_of(spot)).items())

    def dead_end(self, spot: SpotSituation, sku: str) -> Finding | None:
        """As of `dead_ends`, for one part."""
        return self._dead_ends(spec_of(spot)).get(sku)

    def _structural_rejections(self, spec: ChainSpec) -> dict[str, Finding]:
        heads = self._finder.heads(spec)
        missing = [
            (item, entry)
            for item, entry in self._revision.mating.get(spec.opening, ())
            if item.sku not in heads and closed.takes(spec.duty, item.kind)
        ]
        if not missing:
            return {}
        max_chain = self._revision.policies.max_chain
        heads_without_via = self._finder.heads(spec, heed_via=False) if spec.via else set()
        steps = self._finder.steps(spec.duty, spec.target)

        def stopping(kind: str, others: tuple[Opening, ...], is_via_s: bool) -> Finding:
            """What stops a part of this kind with these openings besides the one that meets."""
            carries = kind in closed.CARRIERS[spec.duty]
            unclosable = [opening for opening in others if not self._finder.side_plugs(opening)]
            unclosable.sort(key=steps.__contains__)  # a port that could carry the chain on need not be closed
            if carries and not any(opening in steps for opening in others):
                return Finding(mates.RULE.id, mates.dead_end_facts(spec.target, self._revision))
            if len(unclosable) > (carries and any(opening in steps for opening in unclosable)):
                return Finding(closed.RULE.id, closed.side_port_facts(kind, unclosable[0].standard))
            if is_via_s or not via.may_stand((kind,), spec.via):
                return Finding(via.RULE.id, via.facts(spec.via, kind))
            return Finding(simple.RULE.id, simple.facts(max_chain))

        told = lru_cache(None)(stopping)
        others_of = {item: tuple([port.opening for port in item.ports if port is not entry]) for item, entry in missing}
        return {item.sku: told(item.kind, others, item.sku in heads_without_via) for item, others in others_of.items()}


def preferred(table: ChainTable, fit: Mask, own: Mask, parts: PartSituation) -> tuple[Mask, Mask]:
    """Of the chains that keep all rules at a spot, those that are left to choose from, and those that could be bought
    whole. Rule `supplied`: what comes with the rail (`own`) goes first; then `elsewhere`: sold chains, and those whose
    unsold items are had."""
    left = own or fit
    sold, active = (table.sold_beyond_first, table.active_beyond_first) if own else (table.sold, table.active)
    bought = left & sold & active
    had = table.unsold_had(parts.have, bool(own)) if parts.have else 0
    return (left & (sold | had) if bought else left), bought


def spec_of(spot: SpotSituation) -> ChainSpec:
    return ChainSpec(spot.opening, spot.duty, spot.target, spot.via)
