"""Every chain that may serve one spot, found by trying all items: the rules that look at one spot alone.

Written apart from `service`, on the plain JSON documents, to be read rather than to be fast.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Any

Json = dict[str, Any]
Port = tuple[str, str]  # (standard, end)

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
    """What is screwed into one spot. `supplied`: its first item comes with the rail."""

    parts: tuple[Part, ...]
    supplied: bool = False

    @property
    def items(self) -> list[Json]:
        return [item for part in self.parts for item in part.all]

    @property
    def bought(self) -> list[Json]:
        return self.items[1:] if self.supplied else self.items

    @property
    def skus(self) -> tuple[str, ...]:
        return tuple(item["sku"] for item in self.items)


class Question:
    """A request on a catalog, with everything that it names looked up."""

    def __init__(self, catalog: Json, request: Json) -> None:
        self.request = request
        self.items: list[Json] = catalog["items"]
        self.policies: Json = catalog["policies"]
        self.chassis = _named(catalog["chassis"], request["chassis"])
        self.layout = _named(catalog["layouts"], request["layout"])
        self.fuel = _named(catalog["fuels"], self.wish("fuel") or catalog["fuels"][0]["id"])
        self.addons = [_named(catalog["addons"], addon) for addon in self.wish("addons") or []]
        self.ratings = {material["id"]: material["ratings"] for material in catalog["materials"]}
        self.boost_kpa: float = sum(addon["boost_kpa"] for addon in self.addons) + (self.wish("boost_kpa") or 0)
        self.pressure_kpa: float = self.chassis["base_kpa"] + self.boost_kpa
        self.gauge: str = self.wish("gauge") or "none"
        self.allow_unsold = self.wish("allow_unsold") is not False
        self.excluded = set(self.wish("exclude") or [])
        self.plugs = [item for item in self.items if item["kind"] == "plug"]

    def wish(self, name: str) -> Any:
        return self.request.get(name)

    def limit(self, spot: str, dimension: str) -> float:
        """The smallest clearance at a spot among chassis, add-ons and request; infinite if there is none."""
        lists = [
            self.chassis["clearances"],
            *(addon["clearances"] for addon in self.addons),
            self.wish("clearances") or [],
        ]
        entries = [entry for entries in lists for entry in entries if entry["spot"] == spot]
        return min((entry[dimension] for entry in entries if entry.get(dimension) is not None), default=float("inf"))


def _named(records: list[Json], wanted: str) -> Json:
    return next(record for record in records if record["id"] == wanted)


# --- rules that look at one item alone ----------------------------------------------------------------------


def item_stands(question: Question, item: Json, *, free: bool) -> bool:
    """pattern, fuel, pressure, exclude; and supply, sold, finish unless it comes with the rail (`free`)."""
    return (
        (item.get("patterns") is None or question.chassis["pattern"] in item["patterns"])
        and all(question.ratings[material][question.fuel["id"]] in ("A", "B", "C") for material in item["wetted"])
        and (item.get("max_kpa") is None or item["max_kpa"] >= question.pressure_kpa)
        and item["sku"] not in question.excluded
        and (free or _may_be_bought(question, item))
    )


def _may_be_bought(question: Question, item: Json) -> bool:
    return item["status"] == "active" and (item["sold"] or question.allow_unsold) and _finish_suits(question, item)


def _finish_suits(question: Question, item: Json) -> bool:
    finish = question.wish("finish")
    if finish is None:
        return True
    if item["kind"] == "rail":
        return item.get("finish") == finish
    offered = any(
        other.get("family") == item["family"] and other.get("finish") == finish and other["status"] == "active"
        for other in question.items
        if item.get("family") is not None
    )
    return not offered or item.get("finish") == finish


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


def walks(question: Question, start: Port, kinds: set[str], via: set[str], longest: int) -> Iterator[Walk]:
    """Every walk of at most `longest` items of these kinds from `start`, the empty one included."""
    pending = [Walk((), (), start, frozenset([start]))]
    while pending:
        walk = pending.pop()
        yield walk
        if len(walk.items) == longest:
            continue
        for item in question.items:
            if item["kind"] not in kinds:
                continue
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
    """The chains found, each once, whose items stand; of these the supplied ones; of these the sold ones."""
    standing: dict[tuple[str, ...], Chain] = {}
    for chain in found:
        if all(item_stands(question, item, free=chain.supplied and n == 0) for n, item in enumerate(chain.items)):
            standing.setdefault(chain.skus, chain)
    chains = list(standing.values())
    chains = [chain for chain in chains if chain.supplied] or chains
    return [chain for chain in chains if all(item["sold"] for item in chain.bought)] or chains
