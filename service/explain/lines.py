"""The lines of a bill: what to get from where, how many, where each goes, and why."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from service.documents.answer import Line, LineHead, Source, Stocked
from service.domain.answer import Bill, PlacedChain
from service.domain.findings import Finding
from service.domain.flows import PathFlow
from service.domain.lazy import lazy
from service.domain.parts import OWN_RAIL, Item, Supplied
from service.domain.stock import Stocked as StockOfItem
from service.domain.stock import stocked
from service.domain.tongue import named
from service.explain.reasons import of_elsewhere, of_part, of_path, of_place, of_rail
from service.explain.sound_twins import sound_twin
from service.explain.telling import Telling, Told, at_all_spots, in_order, worded
from service.rules import mounting, supplied


class _Use(NamedTuple):
    """One use of an item: where from, how many, at which spot, what else would do, and why."""

    item: Item
    source: Source
    qty: int
    spot: str | None
    choices: tuple[str, ...]
    reasons: tuple[Told, ...]
    flowing: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class ToldLine:
    """A line of a bill with its reasons in the order of telling: one object for all bills that have it.

    `flowing`: the spots of the paths that are told of beside them.
    """

    item: Item
    qty: int
    source: Source
    spots: tuple[str, ...]
    choices: tuple[str, ...]
    reasons: tuple[Told, ...]
    flowing: tuple[str, ...]

    def saying(self, reasons: tuple[Told, ...]) -> "ToldLine":
        """The same line with other reasons."""
        line = ToldLine(self.item, self.qty, self.source, self.spots, self.choices, reasons, self.flowing)
        vars(line)["head"] = self.head
        return line

    @property
    def price(self) -> int:
        """Of the whole line, minor units; 0 unless bought from us."""
        return self.item.price * self.qty if self.source == "buy" else 0

    @lazy
    def head(self) -> LineHead:
        """The line without its reasons."""
        return {
            "sku": self.item.sku,
            "name": named(self.item.name),
            "qty": self.qty,
            "source": self.source,
            "unit_price": self.item.price if self.source == "buy" else 0,
            "price": self.price,
            "spots": list(self.spots),
            "choices": list(self.choices),
        }

    @lazy
    def by_text(self) -> tuple[Told, ...]:
        """Its reasons, those that differ in the spot alone as one."""
        return at_all_spots(self.reasons) if len(self.spots) > 1 else self.reasons


def lines(bill: Bill, telling: Telling) -> list[Line]:
    """All lines with their reasons in full; of what is bought the stock beside it."""
    return [_whole(line) for line in told_lines(bill, telling)]


def _whole(line: ToldLine) -> Line:
    return {**line.head, **stock_beside(line), "reasons": [told.reason for told in line.reasons]}


def stock_beside(line: ToldLine) -> Stocked:
    """The stock of what a line buys for one set; nothing for other lines."""
    return stock_told(stocked(line.item, line.qty)) if line.source == "buy" else {}


def stock_told(stock: StockOfItem) -> Stocked:
    """The stock of an item beside what is needed of it."""
    return {"need": stock.need, "in_stock": stock.in_stock, "short": stock.short, "rest_days": stock.rest_days}


def told_lines(bill: Bill, telling: Telling) -> list[ToldLine]:
    """All lines: rail, chains by spot, mounting parts, and what else comes in the boxes.

    What the customer has goes first, to the spots that sort first.
    """
    lines = telling.of_bill("lines", bill, partial(_without_paths, bill, telling))
    if telling.is_silent:
        return lines
    paths = {spot: path for path in bill.paths for spot in path.spots}
    return [_with_paths(line, paths, telling) if line.flowing else line for line in lines]


def _without_paths(bill: Bill, telling: Telling) -> list[ToldLine]:
    """The lines without what depends on how much flows, which few bills have in common."""
    by_line: dict[tuple[str, Source], list[_Use]] = {}
    for use in _uses(bill, telling):
        by_line.setdefault((use.item.sku, use.source), []).append(use)
    return [_line(uses, telling) for uses in by_line.values()]


def _with_paths(line: ToldLine, paths: Mapping[str, PathFlow], telling: Telling) -> ToldLine:
    flows = [paths[spot] for spot in line.flowing if spot in paths]
    key = (line, *map(id, flows))  # they are kept by the bills of this answer
    known: ToldLine | None = telling.flowing.get(key)
    if known is None:
        reasons = in_order(sum([_path_told(path, telling) for path in flows], line.reasons))
        known = telling.flowing[key] = line.saying(reasons)
    return known


def _path_told(path: PathFlow, telling: Telling) -> tuple[Told, ...]:
    return telling.words.in_passing(path, lambda: worded([of_path(path)]))


def _uses(bill: Bill, telling: Telling) -> Iterator[_Use]:
    yield from _rails(bill, telling)
    have = dict(telling.request.have)
    have[bill.rail.sku] = have.get(bill.rail.sku, 0) - bill.banks
    for placed in bill.chains:
        for index, item in enumerate(placed.chain.items):
            source: Source = "supplied" if placed.supplied and index == 0 else _taken(item, have)
            reasons: tuple[Told, ...] = ()
            if not telling.is_silent:
                reasons = _of_place(bill, placed, index, telling) + _of_part(item, source, placed.spot, telling)
            flowing = () if index else (placed.spot,)
            yield _Use(item, source, 1, placed.spot, placed.choices[index], reasons, flowing)
    if bill.rail.sku != OWN_RAIL:
        yield from _mounting(bill, telling)
    yield from _boxed(bill, telling)


def _rails(bill: Bill, telling: Telling) -> Iterator[_Use]:
    rail, request = bill.rail, telling.request
    had = bill.banks if rail.sku == OWN_RAIL else min(bill.banks, dict(request.have).get(rail.sku, 0))
    rails: tuple[tuple[Source, int], ...] = (("have", had), (_bought(rail), bill.banks - had))
    for source, qty in rails:
        if qty:
            find = partial(of_rail, bill, request, telling.revision, is_had=source == "have")
            key = (rail, source, request.chassis, request.layout, bill.placement, *bill.duties.items(), telling.parts)
            yield _Use(rail, source, qty, None, bill.rail_choices, telling.told(key, find))


def _of_place(bill: Bill, placed: PlacedChain, index: int, telling: Telling) -> tuple[Told, ...]:
    situation, request = bill.situations[placed.spot], telling.request
    gauge = request.gauge if situation.duty == "gauge" else None
    find = partial(of_place, situation, placed, index, request, telling.revision)
    return telling.told((situation, placed.chain, placed.supplied, index, gauge), find)


def _of_part(item: Item, source: Source, spot: str, telling: Telling) -> tuple[Told, ...]:
    """What speaks for a part from where it comes; of one that is bought, a better one that costs about the same."""
    request, revision = telling.request, telling.revision

    def find() -> Iterator[Finding]:
        yield from of_part(item, request, revision, is_supplied=source == "supplied", is_had=source == "have")
        if source == "elsewhere":
            yield of_elsewhere(spot)
        twin = sound_twin(item, request.fuel.id, revision) if source == "buy" else None
        if twin is not None:
            yield twin

    return telling.told((item, source, spot if source == "elsewhere" else None, telling.parts), find)


def _mounting(bill: Bill, telling: Telling) -> Iterator[_Use]:
    chassis, addons, rail = telling.request.chassis, telling.request.addons, bill.rail
    for filling in telling.once(("mounting", chassis, addons, rail), lambda: mounting.fill(chassis, addons, rail)):
        reasons = telling.told(filling, partial(_of_filling, filling))
        yield _Use(telling.revision.items[filling.sku], filling.source, filling.qty, None, (), reasons)


def _boxed(bill: Bill, telling: Telling) -> Iterator[_Use]:
    """What comes in the boxes of the parts that are got, for neither a spot nor a role of the rail."""
    owners = [(bill.rail, bill.banks)]
    owners += [(item, 1) for placed in bill.chains for item in placed.chain.items[int(placed.supplied) :]]
    for owner, count in owners:
        for box in owner.supplied:
            if box.spot is None and not (box.role is not None and owner.kind == "rail"):
                reasons = telling.told((owner, box), partial(_of_box, owner, box))
                yield _Use(telling.revision.items[box.sku], "supplied", box.qty * count, None, (), reasons)


def _of_filling(filling: mounting.Filling) -> list[Finding]:
    return [Finding(mounting.RULE.id, mounting.facts(filling))]


def _of_box(owner: Item, box: Supplied) -> list[Finding]:
    return [Finding(supplied.RULE.id, supplied.box_facts(owner.name, box.qty))]


def _taken(item: Item, have: dict[str, int]) -> Source:
    """Where the next unit of an item comes from; a unit that is had is taken."""
    if have.get(item.sku, 0) > 0:
        have[item.sku] -= 1
        return "have"
    return _bought(item)


def _bought(item: Item) -> Source:
    return "buy" if item.sold else "elsewhere"


def _line(uses: list[_Use], telling: Telling) -> ToldLine:
    first = uses[0]
    told = (
        first.item,
        sum([use.qty for use in uses]),
        first.source,
        tuple(sorted({use.spot for use in uses if use.spot is not None})),
        tuple(sorted({sku for use in uses for sku in use.choices})),
        in_order(tuple([told for use in uses for told in use.reasons])),
        tuple([spot for use in uses for spot in use.flowing]),
    )
    return telling.once(("line", *told), lambda: ToldLine(*told))
