"""What a standing question asks for beside its car and layout, in few words: two of one car are told apart by them."""

from collections.abc import Callable, Iterable
from typing import Any

from service.documents.packed import PackedCatalog
from service.documents.request import BillRequest
from service.domain import units

Name = Callable[[str], str]
"""What the catalog calls the object of an id."""
_MOST_NAMED = 3


def names_in(*catalogs: PackedCatalog) -> Name:
    """Return what tells the name of an id in the first of these catalogs that has it; else the id."""
    sections = [
        section
        for catalog in catalogs
        for section in (catalog.layouts, catalog.chassis, catalog.items, catalog.fuels, catalog.addons)
    ]
    return lambda id_: next((one.name for section in sections if (one := section.get(id_)) is not None), id_)


def asked_told(request: BillRequest, name: Name) -> str:
    """Return car, layout and wishes, as in `Brook 2.0, Own hose, with a gauge`."""
    return ", ".join(filter(None, (name(request.chassis), name(request.layout), wishes_told(request, name))))


def wishes_told(request: BillRequest, name: Name) -> str:
    """As in `E85, 120 kW (161 hp), with a gauge`; nothing where there is no wish. Of many parts the first are named."""
    asked = request.model_dump(exclude_defaults=True, exclude={"chassis", "layout"})
    told = (words(asked[wish], name) for wish, words in _WORDS.items() if wish in asked)
    return ", ".join(told)


def _listed(before: str, ids: Iterable[str], name: Name) -> str:
    names = [name(id_) for id_ in ids]
    more = len(names) - _MOST_NAMED
    shown = [*names[:_MOST_NAMED], *([f"{more} more"] if more > 0 else [])]
    *first, last = shown
    return f"{before} {', '.join(first)} and {last}" if first else f"{before} {last}"


def _gauge(value: Any, _: Name) -> str:
    return "with a gauge" if value == "any" else f"with a gauge at {value}"


def _as_it_is(words: str) -> Callable[[Any, Name], str]:
    return lambda _, __: words


_WORDS: dict[str, Callable[[Any, Name], str]] = {
    "fuel": lambda value, name: name(value),
    "power_kw": lambda value, _: units.power(value),
    "boost_kpa": lambda value, _: f"boost of {units.pressure(value)}",
    "pump_l_h": lambda value, _: f"a pump of {units.flow(value)}",
    "pump": _as_it_is("another pump"),
    "pump_v": lambda value, _: f"the pump at {value['fed']:g} V",
    "regulator": _as_it_is("another regulator"),
    "injectors": _as_it_is("other injectors"),
    "feed_hose_m": lambda value, _: f"a feed hose of {value:g} m",
    "return_hose_m": lambda value, _: f"a return hose of {value:g} m",
    "addons": lambda value, name: _listed("beside", value, name),
    "clearances": _as_it_is("with less room"),
    "gauge": _gauge,
    "finish": lambda value, _: f"in {value}",
    "exclude": lambda value, name: _listed("without", value, name),
    "in_stock_only": _as_it_is("from stock"),
    "allow_unsold": _as_it_is("with nothing from elsewhere"),
    "max_price": _as_it_is("up to a price"),
    "have": lambda value, name: _listed("having", (part["sku"] for part in value), name),
    "own_rail": _as_it_is("on another maker's rail"),
}
"""By wish; how bills are listed is none."""
