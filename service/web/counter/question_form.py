"""The fields of the page's form as the question of the API, and a question as a link to the page."""

import re
from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import urlencode

from service.documents.request import BillRequest
from service.domain.money import decimals_of
from service.domain.units import KW_PER_HP, MM_PER_IN
from service.web.counter.numbers import both_in, number_in
from service.web.errors import ParameterFault
from service.web.pages.ask import INCH, KEPT, TYPED, UNITS_OF, shown_in
from service.web.question_query import query_text

_LISTED = ("addons", "exclude", "have", "clearances")
_OF_REGULATOR = ("set_kpa", "follows")
NUMBERS = ("power_kw", "boost_kpa", "pump_l_h", "feed_hose_m", "return_hose_m")
"""The fields that are one number."""
_FIELD_OF = {"power_hp": "power_kw", "set_kpa": "regulator"}
_THOUSANDTHS = 3
_ROOM = re.compile(r"room\.(?P<spot>[a-z0-9.]{1,10})\.(?P<way>axial|across)_(?P<unit>mm|in)")
_FACTORS = {"mm": 1.0, "in": MM_PER_IN}
_DIGITS = 4
_SEPARATORS = re.compile(r"[,;\s]+")


def query_fields(given: Iterable[tuple[str, str]], currency: str) -> dict[str, str]:
    """The fields of a query for GET /v1/bills; what the form left empty is left out.

    Besides that query's own names the form has `kept.NAME` (a field that shows just that, rounded, keeps it),
    `power_hp`, `price_cap` in the currency's own units, `set_kpa` and
    `follows` of the regulator, `room.SPOT.axial_mm` or `_in`, and `typed.NAME` or `inch.NAME` for numbers that
    somebody wrote. What is no number is passed on as it is, for its fault to be told.
    """
    fields: dict[str, str] = {}
    listed: dict[str, list[str]] = {}
    told_again = list(given)
    kept = {name.removeprefix(KEPT): text.strip() for name, text in told_again if name.startswith(KEPT)}
    for name, text in told_again:
        value = text.strip()
        if not value or name.startswith(KEPT):
            continue
        was = kept.get(name, "")
        name, factor = _written(name)
        room = _ROOM.fullmatch(name)
        scale = _FACTORS[room["unit"]] if room is not None else KW_PER_HP if name == "power_hp" else factor or 1.0
        if was and value == shown_in(was, scale):
            value, scale = was, 1.0
        if room is not None:
            told = _scaled(value, scale)
            listed.setdefault("clearances", []).append(f"{room['spot']}:{room['way']}_mm:{told}")
        elif name == "power_hp":
            fields["power_kw"] = _scaled(value, scale)
        elif name == "set_kpa":
            listed.setdefault("regulator", []).append(f"{name}:{_scaled(value, scale)}")
        elif name in _OF_REGULATOR:
            listed.setdefault("regulator", []).append(f"{name}:{value}")
        elif name in NUMBERS:
            fields[name] = value if factor is None and "," not in value else _scaled(value, scale)
        elif name == "price_cap":
            fields["max_price"] = _minor(value, currency)
        elif name in _LISTED:
            listed.setdefault(name, []).append(_SEPARATORS.sub(",", value).strip(","))
        else:
            fields[name] = value
    return fields | {name: ",".join(values) for name, values in listed.items()}


def _written(name: str) -> tuple[str, float | None]:
    """The field of a number that somebody wrote, with the factor to its own unit; None: nobody need have written it."""
    if name.startswith(INCH) and name.removeprefix(INCH) in UNITS_OF:
        field = name.removeprefix(INCH)
        return field, UNITS_OF[field][2]
    return name.removeprefix(TYPED), 1.0 if name.startswith(TYPED) else None


def doubts(given: Iterable[tuple[str, str]]) -> list[ParameterFault]:
    """The numbers of the form that could be two, to be asked back."""
    found = []
    for name, text in given:
        field, factor = _written(name)
        room = _ROOM.fullmatch(field)
        is_number = factor is not None or room is not None or field in ("power_hp", "set_kpa")
        both = both_in(text) if is_number or (field in NUMBERS and "," in text) else None
        if both is not None:
            named = "clearances" if room is not None else _FIELD_OF.get(field, field)
            found.append(
                ParameterFault(named, repr(text.strip()), f"{both[0]}, or {both[1]}: write the one that is meant")
            )
    return found


def _scaled(text: str, factor: float) -> str:
    value = number_in(text)
    return text if value is None else f"{round(value * factor, _DIGITS):.{_DIGITS}f}".rstrip("0").rstrip(".")


def _minor(text: str, currency: str) -> str:
    decimals = decimals_of(currency)
    value = number_in(text, has_thousandths=decimals >= _THOUSANDTHS)
    return text if value is None else str(round(value * 10**decimals))


def link_of(request: BillRequest, path: str = "/ask") -> str:
    """The address of the page that asks this question."""
    return f"{path}?{urlencode(query_text(request), safe=',:')}"


def changed(request: BillRequest, change: Mapping[str, Any]) -> BillRequest:
    """The question with some of its wishes changed as a repair tells: None drops a wish, `NAME/PART` is of a list."""
    fields = request.model_dump(exclude_unset=True)
    for name, value in change.items():
        kind, _, part = name.partition("/")
        if kind == "clearances":
            spot, _, measure = part.rpartition("/")
            fields[kind] = [_without(room, spot, measure) for room in fields[kind]]
            fields[kind] = [room for room in fields[kind] if len(room) > 1]
            fields[kind] += [] if value is None else [{"spot": spot, measure: value}]
        elif part:
            fields[kind] = [one for one in fields[kind] if one != part]
        elif value is None:
            fields.pop(name, None)
        else:
            fields[name] = value
    return BillRequest.model_validate(fields)


def _without(room: Mapping[str, Any], spot: str, measure: str) -> dict[str, Any]:
    return {name: value for name, value in room.items() if room["spot"] != spot or name != measure}
