"""Whether two sides meet, by which ports; if not, in what they differ, and the shortest chain that joins them."""

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from service.domain.joints import Bridge, Difference, Gap, Join, JointEnd, Step
from service.domain.parts import Opening
from service.domain.revision import Revision
from service.rules import mates

BRIDGING_KINDS = (frozenset({"fitting"}), frozenset({"fitting", "line"}))
"""The kinds that a bridge may be made of; lines only where fittings alone do not reach.

A regulator changes the pressure and is no adapter: it joins nothing that it was not asked for.
"""


def find_join(one: Sequence[JointEnd], other: Sequence[JointEnd], revision: Revision) -> Join:
    """How two sides meet or what joins them. The ends of a side are those that may be used, in order of preference."""
    joints = tuple((end, facing) for end in one for facing in other if mates.meets(end.opening, facing.opening))
    if joints:
        return Join(joints, (), None)
    bridges = (_bridge(one, other, kinds, revision) for kinds in BRIDGING_KINDS)
    bridge = next((found for found in bridges if found is not None), None)
    return Join((), tuple(sorted(_gaps(one, other, revision), key=_distance)), bridge)


def _gaps(one: Sequence[JointEnd], other: Sequence[JointEnd], revision: Revision) -> Iterator[Gap]:
    """Each pair of openings once, told of the first ports that have them."""
    for end in _first_of_each(one).values():
        for facing in _first_of_each(other).values():
            yield Gap(end, facing, _differences(end.opening, facing.opening, revision))


def _first_of_each(ends: Sequence[JointEnd]) -> dict[Opening, JointEnd]:
    found: dict[Opening, JointEnd] = {}
    for end in ends:
        found.setdefault(end.opening, end)
    return found


def _differences(one: Opening, other: Opening, revision: Revision) -> tuple[Difference, ...]:
    standard, facing = revision.standards[one.standard], revision.standards[other.standard]
    same_family = standard.family == facing.family
    holds: dict[Difference, bool] = {
        "standard": standard is not facing,
        "family": not same_family,
        "size": same_family and standard.size != facing.size,  # sizes of different families do not compare
        "seal": standard.seal != facing.seal,
        "end": one.end == other.end,
    }
    return tuple(difference for difference, differs in holds.items() if differs)


def _distance(gap: Gap) -> tuple[bool, bool, bool]:
    return ("family" in gap.differs, "standard" in gap.differs, "end" in gap.differs)


class _Rank(NamedTuple):
    """What is better among bridges of one length, the smallest first; what is alike in all of it is the same."""

    unsold: int = 0
    price: int = 0
    estimate: int = 0
    sorted_skus: tuple[str, ...] = ()
    skus: tuple[str, ...] = ()
    start: int = 0
    ports: tuple[str, ...] = ()


class _Trail(NamedTuple):
    """The best way to an opening: longer by the same part, what was better stays better, as every length is one."""

    rank: _Rank
    start: JointEnd
    steps: tuple[Step, ...] = ()

    def with_step(self, step: Step) -> "_Trail":
        item, rank = step.item, self.rank
        longer = _Rank(
            unsold=rank.unsold + (not item.sold),
            price=rank.price + (item.price if item.sold else 0),
            estimate=rank.estimate + (0 if item.sold else item.price),
            sorted_skus=tuple(sorted((*rank.skus, item.sku))),
            skus=(*rank.skus, item.sku),
            start=rank.start,
            ports=(*rank.ports, step.enters.id, step.leaves.id),
        )
        return _Trail(longer, self.start, (*self.steps, step))


def _bridge(
    one: Sequence[JointEnd], other: Sequence[JointEnd], kinds: Collection[str], revision: Revision
) -> Bridge | None:
    """The best of the shortest chains of active items of these kinds; None where `max_chain` items do not reach."""
    goals = {opening.mate: end for opening, end in _first_of_each(other).items()}
    starts = _first_of_each(one)
    front = {opening: _Trail(_Rank(start=place), end) for place, (opening, end) in enumerate(starts.items())}
    reached = set(front)
    for _ in range(revision.policies.max_chain):
        front = _one_step_on(front, kinds, reached, revision)
        arrived = [(front[opening].rank, place, opening) for place, opening in enumerate(goals) if opening in front]
        if arrived:
            _, _, opening = min(arrived)
            return Bridge(front[opening].start, front[opening].steps, goals[opening])
        reached |= front.keys()
    return None


def _one_step_on(
    front: dict[Opening, _Trail], kinds: Collection[str], reached: Collection[Opening], revision: Revision
) -> dict[Opening, _Trail]:
    """The best trail to each opening that one more part leads to for the first time."""
    following: dict[Opening, _Trail] = {}
    for opening, trail in front.items():
        for item, enters in revision.mating.get(opening, ()):
            for leaves in item.ports if item.active and item.kind in kinds else ():
                if leaves is enters or leaves.opening in reached:
                    continue
                longer = trail.with_step(Step(item, enters, leaves))
                known = following.get(leaves.opening)
                if known is None or longer.rank < known.rank:
                    following[leaves.opening] = longer
    return following
