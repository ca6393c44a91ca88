"""Wishes in words: what is asked for, and what to do so that it is asked for no longer, or differently."""

from collections.abc import Callable, Mapping
from typing import Any

from service.documents.answer import Reason
from service.documents.nearest import nearest
from service.domain import units
from service.domain.money import priced
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.phrases import capital, listed, quoted

_Words = Callable[[Any], str]
_MOST_FINISHES = 5


def no_such_finish(finish: str | None, revision: Revision) -> str:
    """That no part comes in a finish, with those that are alike, else some that there are; nothing where one does."""
    known = sorted(revision.index.finishes)
    if finish is None or finish in known:
        return ""
    none, alike = f"no part comes in {finish}", nearest(finish, known)
    if alike:
        return f"{none}; nearest: {', '.join(alike)}"
    return f"{none}; there is {listed(known[:_MOST_FINISHES])}" if known else none


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
        with_these = [f"with {listed(asked)}"] if asked else []
        without = [f"without {listed([quoted(name) for name in excluded], 'or')}"] if excluded else []
        return " and ".join([*with_these, *without])

    def asked(self, name: str, value: Any) -> str:
        """What a wish asks for, as in `a gauge at the top spot`."""
        kind, _, rest = name.partition("/")
        if kind == "addons":
            return quoted(self._revision.addons[rest].name)
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            return f"no more than {units.length(value)} of room {_WAYS[measure]} at the {spot} spot"
        if kind == "max_price":
            return f"a price of at most {priced(value, self._revision.currency)}"
        if kind == "finish" and (none := no_such_finish(value, self._revision)):
            return f"finish {value} ({none})"
        return _ASKED[kind](value)

    def without(self, name: str) -> str:
        """What to do to drop a wish, as in `do without the gauge`."""
        kind, _, rest = name.partition("/")
        if kind == "addons":
            return f"do without {quoted(self._revision.addons[rest].name)}"
        if kind == "exclude":
            return f"accept {quoted(self._revision.items[rest].name)}"
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            return f"do without the limit on the room {_WAYS[measure]} at the {spot} spot"
        if kind == "fuel":
            return f"run {next(iter(self._revision.fuels.values())).name} instead of {self._request.fuel.name}"
        if kind == "power_kw":
            return f"stay at the engine's own power of {units.power(self._request.chassis.stock_kw)}"
        if kind == "finish" and (none := no_such_finish(self._request.finish, self._revision)):
            return f"accept any finish ({none})"
        return _WITHOUT[kind]

    def changed(self, name: str, given: float, value: float) -> str:
        """What to do to ask for another number, as in `lower the power to 210 kW (282 hp)`."""
        verb = "raise" if value > given else "lower"
        kind, _, rest = name.partition("/")
        if kind == "clearances":
            spot, _, measure = rest.partition("/")
            return f"{verb} the room {_WAYS[measure]} at the {spot} spot to {units.length(value)}"
        if kind == "max_price":
            return f"{verb} the price limit to {priced(int(value), self._revision.currency)}"
        if kind in _HOSES:
            return f"{'lengthen' if value > given else 'shorten'} {_HOSES[kind]} to {units.distance(value)}"
        what, worded = _NUMBERS[kind]
        return f"{verb} {what} to {worded(value)}"


_WAYS = {"axial_mm": "along the axis", "across_mm": "across"}
_HOSES = {"feed_hose_m": "the feed hose", "return_hose_m": "the return hose"}
_NUMBERS: dict[str, tuple[str, _Words]] = {
    "power_kw": ("the power", units.power),
    "pump_l_h": ("the pump's flow", units.flow),
    "boost_kpa": ("the boost of your own", units.pressure),
}
_ASKED: dict[str, _Words] = {
    "fuel": lambda fuel: f"fuel {fuel.name}",
    "power_kw": lambda kw: f"a power of {units.power(kw)}",
    "pump_l_h": lambda l_h: f"a pump that moves {units.flow(l_h)}",
    "feed_hose_m": lambda m: f"a feed hose of {units.distance(m)}",
    "return_hose_m": lambda m: f"a return hose of {units.distance(m)}",
    "boost_kpa": lambda kpa: f"{units.pressure(kpa)} of boost of your own",
    "gauge": lambda spot: "a gauge" if spot == "any" else f"a gauge at the {spot} spot",
    "finish": lambda finish: f"finish {finish}",
    "in_stock_only": lambda _: "only parts in stock",
    "allow_unsold": lambda _: "no parts bought elsewhere",
}
_WITHOUT = {
    "pump_l_h": "let the pump move what the demand asks for",
    "feed_hose_m": "leave the feed hose at its usual length",
    "return_hose_m": "leave the return hose at its usual length",
    "boost_kpa": "do without the boost of your own",
    "gauge": "do without the gauge",
    "finish": "accept any finish",
    "in_stock_only": "accept parts that are not in stock",
    "allow_unsold": "accept parts bought elsewhere",
    "max_price": "do without the price limit",
}
