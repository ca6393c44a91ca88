"""What a standing question asks for beside its car and layout, in few words: two of one car are told apart by them."""

from collections.abc import Callable, Iterable
from functools import cache
from typing import Any, NamedTuple

from service.documents.packed import PackedCatalog
from service.documents.request import BillRequest
from service.domain import units
from service.domain.money import priced

_MOST_NAMED = 3


class Names(NamedTuple):
    """What catalogs call the object of an id, and the currency of their prices."""

    name: Callable[[str], str]
    currency: str


def names_in(*catalogs: PackedCatalog) -> Names:
    """Return the names of the first of these catalogs that has an id, else the id; the currency is the first one's."""
    sections = [
        section
        for catalog in catalogs
        for section in (catalog.layouts, catalog.chassis, catalog.items, catalog.fuels, catalog.addons)
    ]

    @cache
    def name(id_: str) -> str:
        return next((one.name for section in sections if (one := section.get(id_)) is not None), id_)

    return Names(name, catalogs[0].maker.currency)


def asked_told(request: BillRequest, names: Names) -> str:
    """Return car, layout and wishes, as in `Brook 2.0, Own hose, with a gauge`."""
    told = names.name(request.chassis), names.name(request.layout), wishes_told(request, names)
    return ", ".join(filter(None, told))


def wishes_told(request: BillRequest, names: Names) -> str:
    """As in `E85, 120 kW (161 hp), with a gauge`; nothing where there is no wish. Of many parts the first are named."""
    asked = request.model_dump(exclude_defaults=True, exclude={"chassis", "layout"})
    told = (words(asked[wish], names) for wish, words in _WORDS.items() if wish in asked)
    return ", ".join(told)


def _listed(before: str, ids: Iterable[str], names: Names) -> str:
    called = [names.name(id_) for id_ in ids]
    more = len(called) - _MOST_NAMED
    shown = [*called[:_MOST_NAMED], *([f"{more} more"] if more > 0 else [])]
    *first, last = shown
    return f"{before} {', '.join(first)} and {last}" if first else f"{before} {last}"


def _gauge(value: Any, _: Names) -> str:
    return "with a gauge" if value == "any" else f"with a gauge at {value}"


def _as_it_is(words: str) -> Callable[[Any, Names], str]:
    return lambda _, __: words


_WORDS: dict[str, Callable[[Any, Names], str]] = {
    "fuel": lambda value, names: names.name(value),
    "power_kw": lambda value, _: units.power(value),
    "boost_kpa": lambda value, _: f"boost of {units.pressure(value)}",
    "pump_l_h": lambda value, _: f"a pump of {units.flow(value)}",
    "pump": _as_it_is("another pump"),
    "pump_v": lambda value, _: f"the pump at {value['fed']:g} V",
    "regulator": _as_it_is("another regulator"),
    "injectors": _as_it_is("other injectors"),
    "feed_hose_m": lambda value, _: f"a feed hose of {value:g} m",
    "return_hose_m": lambda value, _: f"a return hose of {value:g} m",
    "addons": lambda value, names: _listed("beside", value, names),
    "clearances": _as_it_is("with less room"),
    "gauge": _gauge,
    "finish": lambda value, _: f"in {value}",
    "exclude": lambda value, names: _listed("without", value, names),
    "in_stock_only": _as_it_is("from stock"),
    "allow_unsold": _as_it_is("with nothing from elsewhere"),
    "max_price": lambda value, names: f"for at most {priced(value, names.currency)}",
    "have": lambda value, names: _listed("having", (part["sku"] for part in value), names),
    "own_rail": _as_it_is("on another maker's rail"),
}
"""By wish; how bills are listed is none."""
