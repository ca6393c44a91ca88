"""The names that an order of a file uses, as the ids of a catalog; what was read as something else is noted."""

from decimal import Decimal

from service.documents.amounts import AmountError, money_in
from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.domain.money import decimals_of
from service.usecases.library import Edition
from service.usecases.order_sheet import SheetOrder

_SECTIONS = {"chassis": "a car", "layout": "a layout", "fuel": "a fuel", "addons": "an add-on"}
_MOST_OFFERED = 4


def resolve_names(edition: Edition, order: SheetOrder) -> None:
    """Put ids in the place of names, and minor units in that of an amount; what nobody can is told as a fault."""
    for name, what in _SECTIONS.items():
        if name in order.fields:
            order.fields[name] = _ids(edition, order, name, what)
    for part in order.fields.get("have", ()):
        part["sku"] = _sku(edition, order, "have", part["sku"])
    if "exclude" in order.fields:
        order.fields["exclude"] = [_sku(edition, order, "exclude", sku) for sku in order.fields["exclude"]]
    for row, line in zip(order.rows, order.fields.get("lines", ()), strict=False):
        if "sku" in line:
            line["sku"] = _sku(edition, order, f"line {row}, sku", line["sku"])
    if isinstance(order.fields.get("max_price"), str):
        _resolve_price(edition, order)


def _ids(edition: Edition, order: SheetOrder, name: str, what: str) -> object:
    told = order.fields[name]
    if isinstance(told, list):
        return [_id(edition, order, name, what, one) for one in told]
    return _id(edition, order, name, what, told)


def _id(edition: Edition, order: SheetOrder, name: str, what: str, text: str) -> str:
    found = edition.names[name].of(text)
    if len(found) > 1:
        offered = ", ".join(found[:_MOST_OFFERED])
        order.tell(f"{name}: found {rendered(text)}, expected {what} that is one only: it may be {offered}")
    if len(found) != 1:
        return text
    return _noted(order, name, text, found[0])


def _noted(order: SheetOrder, place: str, text: str, id_: str) -> str:
    if text != id_:
        order.note(f"{place} {rendered(text)} is read as {id_}")
    return id_


def _sku(edition: Edition, order: SheetOrder, place: str, text: str) -> str:
    meant = edition.revision.sku_of(text)
    found = (meant,) if meant in edition.items else edition.order_reader.named(text)
    if len(found) == 1:
        return _noted(order, place, text, found[0])
    near = found or tuple(edition.order_reader.near(text)) or tuple(nearest(text, edition.items))
    alike = f" (nearest: {', '.join(near[:_MOST_OFFERED])})" if near else ""
    order.tell(f"{place}: found {rendered(text)}, expected the SKU, the name or an alias of an item{alike}")
    return text


def _resolve_price(edition: Edition, order: SheetOrder) -> None:
    currency = edition.revision.currency
    text = order.fields["max_price"]
    try:
        minor = money_in(text, currency) * 10 ** decimals_of(currency)
    except AmountError as error:
        order.tell(f"max_price: found {rendered(text)}, expected {error}")
        return
    if minor != int(minor):
        order.tell(f"max_price: found {rendered(text)}, expected an amount with {decimals_of(currency)} decimals")
        return
    order.fields["max_price"] = int(minor)


def amount(minor_units: int, currency: str) -> str:
    """An amount in a currency's own units, as in -1234.50."""
    decimals = decimals_of(currency)
    return str(Decimal(minor_units).scaleb(-decimals).quantize(Decimal(1).scaleb(-decimals)))
