"""Tell what the newest revision makes of a bill that was given in an earlier one."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from service.documents.answer import ChangedPart, CurrentBill
from service.documents.catalog import IN_TRADE, Item
from service.documents.fields import Document
from service.documents.money import money_of
from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.money import priced
from service.domain.parts import OWN_RAIL
from service.domain.request import Request
from service.domain.tongue import named, said, sentence
from service.solver.engine import BillName
from service.usecases.bill_keys import BillKey
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import key_maker, name_of
from service.usecases.library import Edition
from service.usecases.resolve_order import successor
from service.usecases.resolve_request import resolve_request, with_skus

_MOST_REPLACED_APART = 6
"""Of so many retired parts it is tried whether some may stay, as what comes with a rail may; else all are replaced."""
_SILENT = IN_TRADE.union(
    ("name", "second_name", "aliases", "mass_g", "stock", "lead_days", "price", "status", "superseded_by")
)
_FIGURES = {
    "kind": sentence("its kind"),
    "family": sentence("its family"),
    "finish": sentence("its finish"),
    "sold": sentence("whether we sell it"),
    "ports": sentence("its ports"),
    "wetted": sentence("its wetted materials"),
    "max_kpa": sentence("the pressure that it stands"),
    "standout_mm": sentence("how far it stands proud"),
    "across_mm": sentence("its width across"),
    "flow": sentence("the passage in it"),
    "patterns": sentence("the rail patterns that it is made for"),
    "supplied": sentence("what comes with it"),
    "regulates": sentence("what it regulates"),
}
_OTHER_FIGURES = sentence("figures for fitting it")
_Place = tuple[str, int] | None
"""A place in a bill: a spot with the part's number in its chain; None: the rail."""


def current_bill(then: Edition, held: BillKey, bill: Bill, now: Edition) -> CurrentBill:
    """Return whether the same rail, duties and chains are a valid bill of `now`, and what became of its parts.

    `bill` is the bill that the key holds, of the edition `then`.
    """
    asked = _still_known(held.request, now)
    found = _found_now(asked, bill, now)
    changed = list(_changed(then, bill, now, found))
    if found is None:
        lost = said("In catalog revision {number} this is not a valid bill any more.", number=now.number)
        return {
            "revision": now.number,
            **money_of(now.revision),
            "valid": False,
            "price": None,
            "changed": changed,
            "key": None,
            "text": " ".join((lost, *_asked_changed(held.request, then, now))),
        }
    return {
        "revision": now.number,
        **money_of(now.revision),
        "valid": True,
        "price": found.price,
        "changed": changed,
        "key": key_maker(now.number, asked)(found),
        "text": _valid_text(bill, found, now),
    }


def _still_known(asked: BillRequest, now: Edition) -> BillRequest:
    """The request without the parts that are not in the catalog any more: none of them can be taken in by mistake."""
    items = now.revision.items
    asked = with_skus(asked, now.revision)
    exclude = [sku for sku in asked.exclude if sku in items]
    have = [part for part in asked.have if part.sku in items]
    if len(exclude) == len(asked.exclude) and len(have) == len(asked.have):
        return asked
    return asked.model_copy(update={"exclude": exclude, "have": have})


def _found_now(asked: BillRequest, bill: Bill, now: Edition) -> Bill | None:
    try:
        request = resolve_request(asked, now.revision)
    except RequestFaultsError:
        return None
    for rail, chains in _readings(bill, now):
        found = _same(request, bill, rail, chains, now)
        if found is not None:
            return found
    return None


def _same(request: Request, bill: Bill, rail: str, chains: Mapping[str, tuple[str, ...]], now: Edition) -> Bill | None:
    """The bill with this rail, these chains and the same duties; the layout may have its placements in another
    order."""
    gauge = name_of(bill).gauge
    for placement in range(len(request.layout.placements)):
        found = now.engine.recall(request, BillName(rail, placement, gauge, chains))
        if found is not None and dict(found.duties) == dict(bill.duties):
            return found
    return None


def _readings(bill: Bill, now: Edition) -> Iterator[tuple[str, dict[str, tuple[str, ...]]]]:
    """Yield the rail and the chains as they may be called now: as they were, with every retired part replaced by its
    successor, then with some."""
    chains = {placed.spot: placed.chain.skus for placed in bill.chains}
    places: list[_Place] = [None, *((spot, number) for spot, skus in chains.items() for number in range(len(skus)))]
    retired = [place for place in places if _is_replaced(_sku_at(place, bill.rail.sku, chains), now)]
    yield bill.rail.sku, chains
    if retired:
        yield _replaced(retired, bill.rail.sku, chains, now)
    for count in range(1, len(retired)) if len(retired) <= _MOST_REPLACED_APART else ():
        for some in combinations(retired, count):
            yield _replaced(some, bill.rail.sku, chains, now)


def _is_replaced(sku: str, now: Edition) -> bool:
    item = now.revision.items.get(sku)
    return item is not None and not item.active and item.superseded_by is not None


def _sku_at(place: _Place, rail: str, chains: Mapping[str, tuple[str, ...]]) -> str:
    return rail if place is None else chains[place[0]][place[1]]


def _replaced(
    places: Sequence[_Place], rail: str, chains: Mapping[str, tuple[str, ...]], now: Edition
) -> tuple[str, dict[str, tuple[str, ...]]]:
    items = now.revision.items
    taken = set(places)
    return successor(items, rail) if None in taken else rail, {
        spot: tuple(successor(items, sku) if (spot, number) in taken else sku for number, sku in enumerate(skus))
        for spot, skus in chains.items()
    }


def _changed(then: Edition, bill: Bill, now: Edition, found: Bill | None) -> Iterator[ChangedPart]:
    """Yield what became of the rail and the parts of the chains, by SKU."""
    for sku in sorted(_skus(bill) - {OWN_RAIL}):
        was, is_ = then.items[sku], now.items.get(sku)
        if is_ is None:
            yield {
                "sku": sku,
                "what": "gone",
                "text": said("{part} is not in the catalog any more.", part=named(was.name)),
            }
            continue
        yield from _of_part(was, is_, now, found)


def _of_part(was: Item, is_: Item, now: Edition, found: Bill | None) -> Iterator[ChangedPart]:
    sku, name = is_.sku, named(is_.name)
    if is_.status == "retired" and was.status != "retired":
        follower = now.items[successor(now.revision.items, sku)]
        if follower.sku != sku and (found is None or follower.sku in _skus(found)):
            text = said("{part} is no longer made; {other} takes its place.", part=name, other=named(follower.name))
            yield {"sku": sku, "what": "replaced", "text": text}
        else:
            yield {"sku": sku, "what": "retired", "text": said("{part} is no longer made.", part=name)}
    if is_.price != was.price and is_.sold:
        costs, cost = (priced(item.price, now.revision.currency) for item in (is_, was))
        yield {
            "sku": sku,
            "what": "price",
            "text": said("{part} costs {new}, not {old}.", part=name, new=costs, old=cost),
        }
    if fields := _changed_fields(was, is_):
        told = ", ".join(said(_FIGURES[x]) for x in fields if x in _FIGURES) or said(_OTHER_FIGURES)
        text = said("{part} has changed: {figures}.", part=name, figures=told)
        yield {"sku": sku, "what": "changed", "text": text}


def _asked_changed(asked: BillRequest, then: Edition, now: Edition) -> Iterator[str]:
    """Yield what became of the car, the layout, the fuel and the add-ons that were asked for."""
    fuel = next(iter(then.catalog.fuels.by_id)) if asked.fuel is None else asked.fuel
    wanted = {"chassis": (asked.chassis,), "layouts": (asked.layout,), "fuels": (fuel,), "addons": asked.addons}
    for section, ids in wanted.items():
        before, after = (getattr(edition.catalog, section).by_id for edition in (then, now))
        for id_ in ids:
            was, is_ = before[id_], after.get(id_)
            if is_ is None:
                yield said("{part} is not in the catalog any more.", part=named(was.name))
            elif _changed_fields(was, is_):
                yield said("{part} has changed.", part=named(was.name))


def _changed_fields(was: Document, is_: Document) -> list[str]:
    """The fields that differ and are more than words, money or stock."""
    return [x for x in type(was).model_fields if x not in _SILENT and getattr(was, x) != getattr(is_, x)]


def _skus(bill: Bill) -> set[str]:
    return {bill.rail.sku, *(sku for placed in bill.chains for sku in placed.chain.skus)}


def _valid_text(bill: Bill, found: Bill, now: Edition) -> str:
    currency = now.revision.currency
    more = found.price - bill.price
    told = {"number": now.number, "price": priced(found.price, currency), "difference": priced(abs(more), currency)}
    return said(_SAME_PRICE if not more else _DEARER if more > 0 else _CHEAPER, **told)


_SAME_PRICE = sentence("Catalog revision {number} has this bill for {price}: at the same price.")
_DEARER = sentence("Catalog revision {number} has this bill for {price}: {difference} dearer.")
_CHEAPER = sentence("Catalog revision {number} has this bill for {price}: {difference} cheaper.")
