"""Every chain that may serve one spot, found by trying all items: the rules that look at one spot alone.

Written apart from `service`, on the plain JSON documents, to be read rather than to be fast.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from tests.support.slow_questions import Json, Port, Question, item_stands, may_be_got

FLOWING_KINDS = {
    "feed": {"fitting", "line", "regulator"},
    "return": {"fitting", "line", "regulator"},
    "link": {"fitting", "line"},
}


@dataclass(frozen=True)
class Part:
    """An item of a chain with the side plugs that close its further ports, by SKU."""

    item: Json
    plugs: tuple[Json, ...]

    @property
    def all(self) -> tuple[Json, ...]:
        return (self.item, *self.plugs)


@dataclass(frozen=True)
class Chain:
    """What is screwed into one spot.

    `supplied`: its first item comes with the rail. `replaceable`: a chain that could be bought whole would serve too.
    """

    parts: tuple[Part, ...]
    supplied: bool = False
    replaceable: bool = False

    @property
    def items(self) -> list[Json]:
        return [item for part in self.parts for item in part.all]

    @property
    def needed(self) -> list[Json]:
        """The items that do not come with the rail: to be had, or else to be got."""
        return self.items[1:] if self.supplied else self.items

    @property
    def unsold(self) -> Counter[str]:
        return Counter(item["sku"] for item in self.needed if not item["sold"])

    @property
    def skus(self) -> tuple[str, ...]:
        return tuple(item["sku"] for item in self.items)


# --- walks: items screwed one into the next -----------------------------------------------------------------


@dataclass(frozen=True)
class Walk:
    """Items from a spot outwards, the ports that side plugs must close at each, the port open at the end."""

    items: tuple[Json, ...]
    sides: tuple[tuple[Port, ...], ...]
    open_port: Port
    seen: frozenset[Port]


def mates(one: Port, other: Port) -> bool:
    return one[0] == other[0] and one[1] != other[1]


def ports(item: Json) -> list[Port]:
    return [(port["standard"], port["end"]) for port in item["ports"]]


def walks(question: Question, start: Port, kinds: set[str], via: set[str], longest: int) -> list[Walk]:
    """Every walk of at most `longest` items of these kinds from `start`, the empty one included."""
    asked = (start, frozenset(kinds), frozenset(via), longest)
    if asked not in question.walked:
        items = [item for item in question.items if item["kind"] in kinds and item_stands(question, item)]
        question.walked[asked] = list(_walks(items, start, via, longest))
    return question.walked[asked]


def _walks(items: list[Json], start: Port, via: set[str], longest: int) -> Iterator[Walk]:
    pending = [Walk((), (), start, frozenset([start]))]
    while pending:
        walk = pending.pop()
        yield walk
        if len(walk.items) == longest:
            continue
        for item in items:
            own = ports(item)
            for inner, outer in product(range(len(own)), repeat=2):
                if inner == outer or not mates(own[inner], walk.open_port):
                    continue
                if own[outer] in walk.seen and item["kind"] not in via:
                    continue
                sides = tuple(own[i] for i in range(len(own)) if i not in (inner, outer))
                pending.append(Walk((*walk.items, item), (*walk.sides, sides), own[outer], walk.seen | {own[outer]}))


def closed_off(walk: Walk, last: Json) -> Iterator[tuple[tuple[Json, ...], tuple[tuple[Port, ...], ...]]]:
    """The walk with `last` (a plug, a gauge) on its open port, once for each port that it can go on by."""
    own = ports(last)
    for inner in range(len(own)):
        if mates(own[inner], walk.open_port):
            yield (*walk.items, last), (*walk.sides, tuple(own[i] for i in range(len(own)) if i != inner))


def with_side_plugs(
    question: Question, items: tuple[Json, ...], sides: tuple[tuple[Port, ...], ...]
) -> Iterator[tuple[Part, ...]]:
    """Each way to close every side port with a plug that has one port only."""
    ways = []
    for item, open_sides in zip(items, sides, strict=True):
        closers = [
            [plug for plug in question.plugs if len(plug["ports"]) == 1 and mates(ports(plug)[0], side)]
            for side in open_sides
        ]
        ways.append([Part(item, tuple(sorted(chosen, key=lambda plug: plug["sku"]))) for chosen in product(*closers)])
    yield from product(*ways)


# --- rules that look at one chain ---------------------------------------------------------------------------


def standout_mm(parts: tuple[Part, ...]) -> float:
    return round(sum(part.item.get("standout_mm") or 0 for part in parts), 3)


def before_line(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    for index, part in enumerate(parts):
        if part.item["kind"] == "line":
            return parts[:index]
    return parts


def clears(question: Question, spot: str, outwards: tuple[Part, ...]) -> bool:
    near = before_line(outwards)
    across_mm = [item["across_mm"] for part in near for item in part.all if item.get("across_mm") is not None]
    return standout_mm(near) <= round(question.limit(spot, "axial_mm"), 3) and all(
        round(across, 3) <= round(question.limit(spot, "across_mm"), 3) for across in across_mm
    )


def via_holds(chain: Chain, via: set[str]) -> bool:
    kinds = [item["kind"] for item in chain.items]
    return all(kinds.count(kind) == 1 for kind in via) and ("regulator" in via or "regulator" not in kinds)


def reaches(hookup: Json, spot: str, parts: tuple[Part, ...]) -> bool:
    windows = hookup.get("spots")
    if windows is None:
        return True
    length_mm = standout_mm(tuple(part for part in parts if part.item["kind"] != "line"))
    return spot in windows and round(windows[spot]["min_mm"], 3) <= length_mm <= round(windows[spot]["max_mm"], 3)


# --- the chains of a spot -----------------------------------------------------------------------------------


def hookup_of(question: Question, entry: Json) -> Json | None:
    """Where a feed or return leads to: the layout's own-hose, or the car's hookup of that id, if any."""
    hookup: Json = entry["hookup"]
    if hookup["kind"] == "own-hose":
        return hookup
    return next((offered for offered in question.chassis["hookups"] if offered["id"] == hookup["kind"]), None)


def feed_or_return_chains(question: Question, spot: str, port: Port, entry: Json) -> Iterator[Chain]:
    hookup = hookup_of(question, entry)
    if hookup is None:
        return
    via = set(entry.get("via") or [])
    for walk in walks(question, port, FLOWING_KINDS[entry["duty"]], via, question.policies["max_chain"]):
        if mates(walk.open_port, (hookup["standard"], hookup["end"])):
            for parts in with_side_plugs(question, walk.items, walk.sides):
                chain = Chain(parts)
                if via_holds(chain, via) and reaches(hookup, spot, parts) and clears(question, spot, parts):
                    yield chain


def link_chains(question: Question, spots: tuple[str, str], ends: tuple[Port, Port], via: set[str]) -> Iterator[Chain]:
    for walk in walks(question, ends[0], FLOWING_KINDS["link"], via, question.policies["max_chain"]):
        if mates(walk.open_port, ends[1]) and [item["kind"] for item in walk.items].count("line") == 1:
            for parts in with_side_plugs(question, walk.items, walk.sides):
                chain = Chain(parts)
                if (
                    via_holds(chain, via)
                    and clears(question, spots[0], parts)
                    and clears(question, spots[1], parts[::-1])
                ):
                    yield chain


def gauge_chains(question: Question, spot: str, port: Port) -> Iterator[Chain]:
    for walk in walks(question, port, {"fitting"}, set(), question.policies["max_chain"] - 1):
        for gauge in question.items:
            if gauge["kind"] == "gauge":
                for items, sides in closed_off(walk, gauge):
                    for parts in with_side_plugs(question, items, sides):
                        if clears(question, spot, parts):
                            yield Chain(parts)


def closed_chains(question: Question, spot: str, port: Port, rail: Json) -> Iterator[Chain]:
    place = spot.rpartition(".")[2]
    supplied = {entry["sku"] for entry in rail.get("supplied") or [] if entry.get("spot") == place}
    for plug in question.plugs:
        for items, sides in closed_off(Walk((), (), port, frozenset([port])), plug):
            for parts in with_side_plugs(question, items, sides):
                if clears(question, spot, parts):
                    yield Chain(parts, supplied=plug["sku"] in supplied)


def preferred(question: Question, found: Iterator[Chain]) -> list[Chain]:
    """The chains found, each once, that stand; of these the supplied ones; of these what `elsewhere` leaves."""
    standing: dict[tuple[str, ...], Chain] = {}
    for chain in found:
        if _stands(question, chain):
            standing.setdefault(chain.skus, chain)
    chains = list(standing.values())
    chains = [chain for chain in chains if chain.supplied] or chains
    if not any(_could_be_bought_whole(chain) for chain in chains):
        return chains
    return [replace(chain, replaceable=True) for chain in chains if chain.unsold <= question.have]


def _stands(question: Question, chain: Chain) -> bool:
    """The rules for one item, for each; and no more units of a retired item (or a barred unsold one) than are had."""
    return all(
        item_stands(question, item, supplied=chain.supplied and n == 0) for n, item in enumerate(chain.items)
    ) and may_be_got(question, Counter(item["sku"] for item in chain.needed))


def _could_be_bought_whole(chain: Chain) -> bool:
    return all(item["sold"] and item["status"] == "active" for item in chain.needed)
