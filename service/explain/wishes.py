"""Wishes in words: what is asked for, and what to do so that it is asked for no longer, or differently."""

from collections.abc import Callable, Mapping
from typing import Any

from service.documents.answer import Reason
from service.documents.nearest import nearest
from service.domain import units
from service.domain.money import priced
from service.domain.request import Request
from service.domain.revision import Fuel, Revision
from service.domain.tongue import named, place, said, sentence
from service.explain.phrases import capital, joined, listed, quoted

_Words = Callable[[Any], str]
_MOST_FINISHES = 5


def no_such_finish(finish: str | None, revision: Revision) -> str:
    """That no part comes in a finish, with those that are alike, else some that there are; nothing where one does."""
    known = sorted(revision.index.finishes)
    if finish is None or finish in known:
        return ""
    alike = nearest(finish, known)
    if alike:
        return said("no part comes in {finish}; nearest: {alike}", finish=finish, alike=", ".join(alike))
    if known:
        return said("no part comes in {finish}; there is {these}", finish=finish, these=listed(known[:_MOST_FINISHES]))
    return said("no part comes in {finish}", finish=finish)


def with_nearest_finish(reason: Reason, finish: str | None, revision: Revision) -> Reason:
    """A reason against a part; where it is a finish that no part has, with the nearest."""
    none = no_such_finish(finish, revision) if reason["facts"].get("wish") == "finish" else ""
    return {**reason, "text": f"{reason['text']} {capital(none)}."} if none else reason


class WishWords:
    """Words the wishes of one request."""

    def __init__(self, request: Request, revision: Revision) -> None:
        self._request = request
        self._revision = revision

    def all_asked(self, values: Mapping[str, Any]) -> str:
        """What wishes ask for together; what is excluded comes last, in one breath."""
        asked = [self.asked(name, value) for name, value in values.items() if not name.startswith("exclude/")]
        excluded = [self._revision.items[name.partition("/")[2]].name for name in values if name.startswith("exclude/")]
        with_these = [said("with {these}", these=listed(asked))] if asked else []
        without = listed([quoted(name) for name in excluded], "or") if excluded else ""
        return joined([*with_these, *([said("without {these}", these=without)] if excluded else [])])

    def asked(self, name: str, value: Any) -> str:
        """What a wish asks for, as in `a gauge at the top spot`."""
        kind, _, rest = name.partition("/")
        if kind == "addons":
            return quoted(self._revision.addons[rest].name)
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            return said(_ROOM_ASKED[measure], room=units.length(value), spot=place(spot))
        if kind == "max_price":
            return said("a price of at most {price}", price=priced(value, self._revision.currency))
        if kind == "gauge":
            return said("a gauge") if value == "any" else said("a gauge at the {spot} spot", spot=place(value))
        if kind == "finish" and (none := no_such_finish(value, self._revision)):
            return said("finish {value} ({none})", value=value, none=none)
        text, worded = _ASKED[kind]
        return said(text, value=worded(value))

    def without(self, name: str) -> str:
        """What to do to drop a wish, as in `do without the gauge`."""
        kind, _, rest = name.partition("/")
        if kind == "addons":
            return said("do without {what}", what=quoted(self._revision.addons[rest].name))
        if kind == "exclude":
            return said("accept {what}", what=quoted(self._revision.items[rest].name))
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            return said(_ROOM_DROPPED[measure], spot=place(spot))
        if kind == "fuel":
            return self.run(next(iter(self._revision.fuels.values())))
        if kind == "power_kw":
            power = units.power(self._request.chassis.stock_kw)
            return said("stay at the engine's own power of {power}", power=power)
        if kind == "finish" and (none := no_such_finish(self._request.finish, self._revision)):
            return said("accept any finish ({none})", none=none)
        return said(_WITHOUT[kind])

    def run(self, fuel: Fuel) -> str:
        """What to do to ask for another fuel."""
        return said("run {fuel} instead of {other}", fuel=named(fuel.name), other=named(self._request.fuel.name))

    def changed(self, name: str, given: float, value: float) -> str:
        """What to do to ask for another number, as in `lower the power to 210 kW (282 hp)`."""
        kind, _, rest = name.partition("/")
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            more, less = _ROOM_CHANGED[measure]
            return said(more if value > given else less, spot=place(spot), value=units.length(value))
        more, less, worded = _CHANGED[kind]
        told = priced(int(value), self._revision.currency) if kind == "max_price" else worded(value)
        return said(more if value > given else less, value=told)


_ROOM_ASKED = {
    "axial_mm": sentence("no more than {room} of room along the axis at the {spot} spot"),
    "across_mm": sentence("no more than {room} of room across at the {spot} spot"),
}
_ROOM_DROPPED = {
    "axial_mm": sentence("do without the limit on the room along the axis at the {spot} spot"),
    "across_mm": sentence("do without the limit on the room across at the {spot} spot"),
}
_ROOM_CHANGED = {
    "axial_mm": (
        sentence("raise the room along the axis at the {spot} spot to {value}"),
        sentence("lower the room along the axis at the {spot} spot to {value}"),
    ),
    "across_mm": (
        sentence("raise the room across at the {spot} spot to {value}"),
        sentence("lower the room across at the {spot} spot to {value}"),
    ),
}
_CHANGED: dict[str, tuple[str, str, _Words]] = {
    "max_price": (sentence("raise the price limit to {value}"), sentence("lower the price limit to {value}"), str),
    "feed_hose_m": (
        sentence("lengthen the feed hose to {value}"),
        sentence("shorten the feed hose to {value}"),
        units.distance,
    ),
    "return_hose_m": (
        sentence("lengthen the return hose to {value}"),
        sentence("shorten the return hose to {value}"),
        units.distance,
    ),
    "power_kw": (sentence("raise the power to {value}"), sentence("lower the power to {value}"), units.power),
    "pump_l_h": (
        sentence("raise the pump's flow to {value}"),
        sentence("lower the pump's flow to {value}"),
        units.flow,
    ),
    "boost_kpa": (
        sentence("raise the boost of your own to {value}"),
        sentence("lower the boost of your own to {value}"),
        units.pressure,
    ),
}
"""By wish: for more, for less, and how the value is worded."""
_ASKED: dict[str, tuple[str, _Words]] = {
    "fuel": (sentence("fuel {value}"), lambda fuel: named(fuel.name)),
    "power_kw": (sentence("a power of {value}"), units.power),
    "pump_l_h": (sentence("a pump that moves {value}"), units.flow),
    "feed_hose_m": (sentence("a feed hose of {value}"), units.distance),
    "return_hose_m": (sentence("a return hose of {value}"), units.distance),
    "boost_kpa": (sentence("{value} of boost of your own"), units.pressure),
    "finish": (sentence("finish {value}"), str),
    "in_stock_only": (sentence("only parts in stock"), str),
    "allow_unsold": (sentence("no parts bought elsewhere"), str),
}
_WITHOUT = {
    "pump_l_h": sentence("let the pump move what the demand asks for"),
    "feed_hose_m": sentence("leave the feed hose at its usual length"),
    "return_hose_m": sentence("leave the return hose at its usual length"),
    "boost_kpa": sentence("do without the boost of your own"),
    "gauge": sentence("do without the gauge"),
    "finish": sentence("accept any finish"),
    "in_stock_only": sentence("accept parts that are not in stock"),
    "allow_unsold": sentence("accept parts bought elsewhere"),
    "max_price": sentence("do without the price limit"),
}
