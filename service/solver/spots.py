"""Judges one spot: which chains serve it under all rules that look at one spot alone, and what stops the others."""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from service.domain.chains import Chain
from service.domain.findings import Finding, Rejection
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision
from service.rules import (
    CHAIN_RULES,
    PART_RULES,
    RULE_ORDER,
    ChainRule,
    PartRule,
    closed,
    elsewhere,
    mates,
    simple,
    supplied,
    via,
)
from service.solver.chains import MEMO_SIZE, ChainFinder, Way, one_port_plugs
from service.solver.options import Choice, Choices, Option


class PartJudge:
    """Judges parts in one situation, each part once."""

    def __init__(self, revision: Revision, situation: PartSituation) -> None:
        self.revision = revision
        self.situation = situation
        self._broken: dict[Item, PartRule | None] = {}

    def broken(self, item: Item) -> PartRule | None:
        """The first part rule that the item breaks where it has to be got; each item is judged once."""
        try:
            return self._broken[item]
        except KeyError:
            self._broken[item] = found = self._judge(item, supplied=False)
            return found

    def broken_if_supplied(self, item: Item) -> PartRule | None:
        """The first part rule that the item breaks where it comes with the rail."""
        return self._judge(item, supplied=True)

    def _judge(self, item: Item, *, supplied: bool) -> PartRule | None:
        situation, revision = self.situation, self.revision
        return next((rule for rule in PART_RULES if not rule.holds(item, situation, revision, supplied)), None)

    def finding(self, item: Item, rule: PartRule) -> Finding:
        return Finding(rule.id, {"part": item.name, **(rule.facts(item, self.situation, self.revision) or {})})


class SpotJudge:
    """Gives the choices of a spot; each situation is judged once."""

    def __init__(self, revision: Revision, finder: ChainFinder) -> None:
        self._revision = revision
        self._finder = finder
        self.parts = lru_cache(256)(self._part_judge)
        self.choices = lru_cache(1024)(self._choices)
        self._dead_ends = lru_cache(MEMO_SIZE)(self._structural_rejections)

    def _part_judge(self, situation: PartSituation) -> PartJudge:
        return PartJudge(self._revision, situation)

    def _choices(self, spot: SpotSituation, parts: PartSituation, plugs: tuple[Item, ...]) -> Choices:
        """The choices of a spot whose rail comes with these plugs for it."""
        way = Way(spot.opening, spot.duty, spot.target, spot.via)
        judge = self.parts(parts)
        judged = [(chain, _first_broken(chain, spot, judge)) for chain in self._finder.chains(way)]
        own = _supplied_options(judged, spot, judge, plugs) if plugs else []
        options = own or [Option(spot, chain) for chain, rule in judged if rule is None]
        lost = _rejections_of_losers(judged, spot, judge)
        if own:
            facts = supplied.facts(own[0].chain.skus[0], spot.spot)
            lost |= {chain.skus[0]: Finding(supplied.RULE.id, facts) for chain, rule in judged if rule is None}
        options, unsold = _prefer_sold(options)
        lost |= {
            option.head[0]: Finding(elsewhere.RULE.id, elsewhere.facts(spot.spot, options[0].chain.items[0].name))
            for option in unsold
            if options[0].chain.links
        }
        used = {option.head[0] for option in options}
        rejections = [Rejection(sku, spot.spot, finding) for sku, finding in lost.items() if sku not in used]
        rejections += [Rejection(sku, spot.spot, finding) for sku, finding in self._dead_ends(way)]
        return Choices((Choice((option,)) for option in options), tuple(rejections))

    def _structural_rejections(self, way: Way) -> tuple[tuple[str, Finding], ...]:
        """Why parts that meet the spot, of a kind that its duty takes, head no chain at all."""
        heads = _heads(self._finder.chains(way))
        missing = [
            (item, entry)
            for item, entry in self._revision.mating.get(way.opening, ())
            if item.sku not in heads and closed.takes(way.duty, item.kind)
        ]
        if not missing:
            return ()
        max_chain = self._revision.policies.max_chain
        heads_without_via = _heads(self._finder.enumerate(way, max_chain, heed_via=False)) if way.via else set()
        steps = self._finder.steps(way.duty, way.target)
        found: dict[str, Finding] = {}
        for item, entry in missing:
            carries = item.kind in closed.CARRIERS[way.duty]
            others = [port.opening for port in item.ports if port is not entry]
            unclosable = [opening for opening in others if not any(one_port_plugs(self._revision, opening))]
            unclosable.sort(key=steps.__contains__)  # a port that could carry the chain on need not be closed
            if carries and not any(opening in steps for opening in others):
                found[item.sku] = Finding(mates.RULE.id, mates.dead_end_facts(way.target, self._revision))
            elif len(unclosable) > (carries and any(opening in steps for opening in unclosable)):
                found[item.sku] = Finding(closed.RULE.id, closed.side_port_facts(item.kind, unclosable[0].standard))
            elif item.sku in heads_without_via or not via.may_stand((item.kind,), way.via):
                found[item.sku] = Finding(via.RULE.id, via.facts(way.via, item.kind))
            else:
                found[item.sku] = Finding(simple.RULE.id, simple.facts(max_chain))
        return tuple(found.items())


def _heads(chains: Iterable[Chain]) -> set[str]:
    return {chain.skus[0] for chain in chains if chain.links}


_Judged = tuple[Chain, PartRule | ChainRule | None]


def _first_broken(
    chain: Chain, spot: SpotSituation, judge: PartJudge, *, supplied: bool = False
) -> PartRule | ChainRule | None:
    """The first rule, in the order of telling, that the chain or one of its parts breaks."""
    broken = [rule for item in chain.items[int(supplied) :] if (rule := judge.broken(item)) is not None]
    if supplied and (rule := judge.broken_if_supplied(chain.items[0])) is not None:
        broken.append(rule)
    first = min(broken, key=_order) if broken else None
    for chain_rule in CHAIN_RULES:
        if first is not None and _order(first) < _order(chain_rule):
            break
        if not chain_rule.holds(chain, spot):
            return chain_rule
    return first


def _order(rule: PartRule | ChainRule) -> int:
    return RULE_ORDER[rule.id]


def _supplied_options(
    judged: Iterable[_Judged], spot: SpotSituation, judge: PartJudge, plugs: tuple[Item, ...]
) -> list[Option]:
    """The options of a closed spot that begin with a plug that its rail comes with."""
    return [
        Option(spot, chain, supplied=True)
        for chain, _ in judged
        if chain.items[0] in plugs and _first_broken(chain, spot, judge, supplied=True) is None
    ]


def _rejections_of_losers(judged: Sequence[_Judged], spot: SpotSituation, judge: PartJudge) -> dict[str, Finding]:
    """For each part that heads only chains that break a rule, what stops the one that comes furthest."""
    furthest: dict[str, tuple[int, Chain, PartRule | ChainRule]] = {}
    fine = {chain.skus[0] for chain, rule in judged if rule is None and chain.links}
    for chain, rule in judged:
        if rule is not None and chain.links and chain.skus[0] not in fine:
            order, sku = _order(rule), chain.skus[0]
            if sku not in furthest or order > furthest[sku][0]:
                furthest[sku] = (order, chain, rule)
    return {sku: _finding(rule, chain, spot, judge) for sku, (_, chain, rule) in furthest.items()}


def _finding(rule: PartRule | ChainRule, chain: Chain, spot: SpotSituation, judge: PartJudge) -> Finding:
    if isinstance(rule, ChainRule):
        return Finding(rule.id, {"chain": list(chain.skus), **(rule.facts(chain, spot) or {})})
    culprit = next(item for item in chain.items if judge.broken(item) is rule)
    return judge.finding(culprit, rule)


def _prefer_sold(options: list[Option]) -> tuple[list[Option], list[Option]]:
    """Rule `elsewhere`: where a chain of sold or supplied items serves, chains with unsold ones do not stand."""
    sold = [option for option in options if all(item.sold for item in option.needed)]
    if sold and len(sold) < len(options):
        return sold, [option for option in options if not all(item.sold for item in option.needed)]
    return options, []
