"""Which of many chains that rules stop could miss the least, told by columns of figures."""

from collections.abc import Iterator

import numpy as np

from service.domain.findings import Facts
from service.rules import CHAIN_RULES, PART_RULES, PartRule, Rule
from service.rules.rule import nothing_left
from service.solver.judge.arrays import unique_ints, unique_rows
from service.solver.judge.chain_rows import Bools, Ints
from service.solver.judge.columns import Columns
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import Mask, mask_bools, places_in

_PARTS = 1000
"""What is missing is told to so many parts of a unit."""


def lacking_least(served: ServedSpot, chains: Mask, over: Mask) -> Ints:
    """The places of those of some chains that could miss the least of what rules measure; of those that miss the same
    the one that comes first. `over`: the chains that lose too much, which miss some flow besides."""
    places = places_in(chains)
    if served.plugs or len(places) == 1:
        return places
    columns = served.table.chains.columns
    measuring = [rule for rule in PART_RULES if rule.left is not nothing_left]
    weak = [_weak_parts(served, columns, places, rule) for rule in measuring]
    of_parts = [_of_parts(served, columns, rule, own) for rule, own in zip(measuring, weak, strict=True)]
    lacks = [*_of_chains(served, columns, places), *of_parts]
    missing: Ints = np.sum(lacks, axis=0) if lacks else np.zeros(len(places), np.int64)
    is_over: Bools = mask_bools(over, len(columns.rows))[places]
    runs = np.where(is_over, columns.passages[places] + 1, 0)
    known = missing[~is_over]
    near = missing <= known.min() if len(known) else np.ones(len(places), np.bool_)
    links = np.count_nonzero(columns.rows[places], axis=1)
    order = np.lexsort((columns.text_order[places], links))
    order = order[near[order]]
    _, alike = unique_rows(np.column_stack((*lacks, *weak, runs))[order])
    found: Ints = places[order[unique_ints(alike)[2]]]
    return found


def _of_chains(served: ServedSpot, columns: Columns, places: Ints) -> Iterator[Ints]:
    """What is missing of each limit of the rules for chains, each in the order of the chains."""
    situation, chains = served.situation, served.table.chains.chains
    for rule in CHAIN_RULES:
        for limit in rule.limits(columns, situation) if rule.limits is not None else ():
            over = np.asarray(limit.measure)[places] - limit.most
            yield np.maximum(0, np.rint(over * _PARTS).astype(np.int64))
        if rule.limits is None and rule.left is not nothing_left:
            told = [rule.broken(chains[place], situation) for place in places.tolist()]
            yield np.array([sum(max(0, _lacking(rule, facts)) for facts in each) for each in told], np.int64)


def _weak_parts(served: ServedSpot, columns: Columns, places: Ints, rule: PartRule) -> Ints:
    """By chain the numbers of its parts that break a rule, each part once; 0 for the others."""
    judge = served.judge.parts(served.parts)
    holds = [judge.holds(rule, item) for item in columns.items]
    parts = np.where(np.array([True, *holds]), 0, np.arange(len(holds) + 1))[columns.parts[places]]
    for place in range(1, parts.shape[1]):
        parts[(parts[:, :place] == parts[:, [place]]).any(axis=1), place] = 0
    return parts


def _of_parts(served: ServedSpot, columns: Columns, rule: PartRule, weak: Ints) -> Ints:
    """What the weak parts miss of what a rule asks, by chain."""
    judge = served.judge.parts(served.parts)
    numbers = set(np.unique(weak).tolist())
    told = [
        judge.broken_by(rule, item, "bought") if number in numbers else ()
        for number, item in enumerate(columns.items, 1)
    ]
    lacking = [0, *(sum(_lacking(rule, facts) for facts in each) for each in told)]
    found: Ints = np.array(lacking, np.int64)[weak].sum(axis=1)
    return found


def _lacking(rule: Rule, facts: Facts) -> int:
    left = rule.left(facts)
    return 0 if left is None else round(-left.amount * _PARTS)
