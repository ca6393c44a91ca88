"""What the page of a question shows: the form as it was filled in, the layouts as cards, what else could be asked."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from service.documents.answer import Answer
from service.domain import units
from service.domain.money import decimals_of
from service.domain.revision import Revision
from service.domain.units import KPA_PER_PSI, KW_PER_HP, L_PER_US_GAL, M_PER_FT, MM_PER_IN
from service.domain.vehicles import Chassis

TYPED, INCH, KEPT = "typed.", "inch.", "kept."
"""Before the name of a field: its number was written by somebody, in its own unit or in the customary one; or it is
the number, in its own unit, of which the field shows a rounded one, so that what nobody changes stays as it was."""
UNITS_OF = {
    "set_kpa": ("kPa", "psi", KPA_PER_PSI),
    "boost_kpa": ("kPa", "psi", KPA_PER_PSI),
    "pump_l_h": ("L/h", "US gal/h", L_PER_US_GAL),
    "feed_hose_m": ("m", "ft", M_PER_FT),
    "return_hose_m": ("m", "ft", M_PER_FT),
}
"""The fields of one number: their units, and how much of the first the second is."""
_PLACES = ("left", "centre", "right", "top")
_WAYS = {"axial_mm": "along the axis", "across_mm": "across"}
_ROOM_DIGITS = 3
_DIGITS_OF = {KW_PER_HP: 0, KPA_PER_PSI: 1, L_PER_US_GAL: 1, M_PER_FT: 2}
"""How many decimals people say of a number in a customary unit."""
_THREE_DECIMALS = re.compile(r"\d{1,3}\.\d{3}")


def form_of(fields: Mapping[str, str], chassis: Chassis, revision: Revision, reader_units: str) -> dict[str, Any]:
    """What the form offers for a car, filled in with the fields of a query."""
    inch = reader_units == "inch"
    return {
        "fields": fields,
        "fuels": [(fuel.id, fuel.name) for fuel in revision.fuels.values()],
        "addons": [
            (addon.id, addon.name, addon.id in _listed(fields, "addons"))
            for addon in revision.addons.values()
            if chassis.id in addon.chassis
        ],
        "gauges": ["none", "any", *_spots(chassis)],
        "finishes": sorted(revision.index.finishes),
        "rooms": _rooms(fields, chassis, inch),
        "power_name": "power_hp" if inch else "typed.power_kw",
        "power_unit": "hp" if inch else "kW",
        "power": shown_in(fields.get("power_kw", ""), KW_PER_HP if inch else 1.0),
        "kept_power": fields.get("power_kw", "") if inch else "",
        "stock": chassis.stock_kw,
        "regulator": _regulator(fields.get("regulator", "")),
        "numbers": _numbers(fields, inch),
        "price_cap": _major(fields.get("max_price", ""), revision.currency),
    }


def _numbers(fields: Mapping[str, str], inch: bool) -> dict[str, dict[str, str]]:
    """By their names the fields that are one number, each in the reader's own unit."""
    told = {**fields, "set_kpa": _regulator(fields.get("regulator", ""))["set_kpa"]}
    return {
        name: {
            "name": f"{INCH if inch else TYPED}{name}",
            "unit": customary if inch else metric,
            "value": shown_in(told.get(name, ""), factor if inch else 1.0),
            "kept": told.get(name, "") if inch else "",
        }
        for name, (metric, customary, factor) in UNITS_OF.items()
    }


def asked_told(fields: Mapping[str, str], chassis: Chassis, revision: Revision) -> str:
    """Fuel, power and gauge of a question in one line; of what cannot be read, the words as they stand."""
    fuels = revision.fuels
    fuel = fuels.get(fields.get("fuel", ""), next(iter(fuels.values()))).name
    try:
        power = units.power(float(fields["power_kw"]))
    except KeyError:
        power = f"{units.power(chassis.stock_kw)}, the engine\u2019s own"
    except ValueError:
        power = fields["power_kw"]
    gauge = {"none": "", "any": "with a gauge"}.get(fields.get("gauge", "none"), f"gauge {fields.get('gauge')}")
    return ", ".join(filter(None, (fuel, power, gauge)))


def _regulator(text: str) -> dict[str, str]:
    """What a query tells of the regulator, field by field."""
    told = dict(part.partition(":")[::2] for part in text.split(","))
    return {name: told.get(name, "") for name in ("set_kpa", "follows")}


def _major(text: str, currency: str) -> str:
    """An amount in minor units as a number of the currency's own."""
    if not text.isdecimal():
        return text
    return unmistakable(str(Decimal(text).scaleb(-decimals_of(currency))))


def _listed(fields: Mapping[str, str], name: str) -> list[str]:
    return fields.get(name, "").split(",")


def _spots(chassis: Chassis) -> list[str]:
    return [spot for place in _PLACES for spot in chassis.on_banks(place)]


def _rooms(fields: Mapping[str, str], chassis: Chassis, inch: bool) -> list[dict[str, str]]:
    """A field for the room at each spot, each way; of a spot told twice the last counts."""
    told = {tuple(one.split(":")[:2]): one.rpartition(":")[2] for one in _listed(fields, "clearances")}
    unit, factor = ("in", MM_PER_IN) if inch else ("mm", 1.0)
    return [
        {
            "name": f"room.{spot}.{way.removesuffix('_mm')}_{unit}",
            "label": f"{spot}, {words}",
            "value": shown_in(told.get((spot, way), ""), factor),
            "kept": told.get((spot, way), "") if inch else "",
            "unit": unit,
        }
        for spot in _spots(chassis)
        for way, words in _WAYS.items()
    ]


def shown_in(text: str, factor: float) -> str:
    """A number of a query as a field shows it in a unit that is `factor` of its own: rounded as people say it."""
    try:
        shown = text if factor == 1.0 else _rounded(float(text) / factor, _DIGITS_OF.get(factor, _ROOM_DIGITS))
    except ValueError:
        return text
    return unmistakable(shown)


def _rounded(value: float, digits: int) -> str:
    return f"{value:.{digits}f}".rstrip("0").rstrip(".") if digits else f"{value:.0f}"


def unmistakable(text: str) -> str:
    """A number that stands in a field, so that nobody, and no reading of it, takes its decimals for thousands."""
    return f"{text}0" if _THREE_DECIMALS.fullmatch(text) else text


@dataclass(frozen=True)
class Stopped:
    """What stops a question in one sentence; `sku`: the part that it is about, None where it is about none."""

    sku: str | None
    text: str


_NOTHING_WISHED = "Nothing that was wished stands in the way: with this layout the catalog has no bill for this car."


def stopped(answer: Answer) -> Stopped:
    """What stops the part that comes nearest, of the first conflict."""
    story = next(iter(answer["stories"]), None)
    if story is None:
        return Stopped(None, _NOTHING_WISHED)
    nearest = next((part for cause in story["causes"] for part in cause["causes"]), None)
    return Stopped(None, story["text"]) if nearest is None else Stopped(nearest["sku"], nearest["text"])


def cautions_of(answer: Answer) -> list[str]:
    """The cautions of all bills that are shown, each once."""
    return list(dict.fromkeys(caution["text"] for bill in answer["bills"] for caution in bill["cautions"]))
