"""What is wrong with an arriving document, told so that it can be put right.

The first reading of a document is pydantic's; its errors are told here in our own words.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from service.documents.fields import COUNTRY_PATTERN, GTIN_PATTERN, ID_PATTERN, SPOT_PATTERN, TEXT_PATTERN, URL_PATTERN
from service.documents.nearest import nearest_words
from service.documents.pointers import pointer_to, segments_of
from service.documents.rendering import printable, rendered

NOTHING = "nothing"
MOST_TOLD = 20
"""The most faults that one answer lists; the others are counted."""
_PLACE_OF_KIND = 2  # pydantic tells /joints/3/min_nm as joints, 3, torque, min_nm
_OF_KINDS = ("joints", "contract_cases")
"""Sections whose objects are of several kinds, each with fields of its own."""


@dataclass(frozen=True)
class Fault:
    """One fault: its JSON Pointer, what stands there (`nothing` if missing), and what would be right."""

    pointer: str
    found: str
    expected: str


def faults_of(
    error: ValidationError, prefix: str = "", model: type[BaseModel] | None = None, most: int | None = None
) -> list[Fault]:
    """Tell the faults of a failed validation; `prefix` is the pointer of the validated value.

    `model` is what the whole document should be: with it, an unknown field is told the nearest known ones. `most`: so
    many of the faults, the first; None is all.
    """
    return faults_of_details(islice(error.errors(include_url=False), most), prefix, model)


def faults_of_details(
    details: Iterable[Mapping[str, Any]], prefix: str = "", model: type[BaseModel] | None = None
) -> list[Fault]:
    """Tell every fault of pydantic's error details (dicts of type, loc, msg, input and ctx)."""
    return [_fault(detail, segments_of(prefix), model) for detail in details]


_EXPECTED = {
    "missing": "a value{in_unit}: the field is required",
    "int_type": "a whole number{in_unit}",
    "int_parsing": "a whole number{in_unit}",
    "int_parsing_size": "a whole number{in_unit}",
    "int_from_float": "a whole number{in_unit}",
    "float_type": "a number{in_unit}",
    "float_parsing": "a number{in_unit}",
    "finite_number": "a finite number{in_unit}",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "string_type": "a text",
    "string_unicode": "text of whole Unicode characters",
    "greater_than": "a number above {gt}{unit}",
    "greater_than_equal": "a number of at least {ge}{unit}",
    "less_than": "a number below {lt}{unit}",
    "less_than_equal": "a number of at most {le}{unit}",
    "string_too_short": "a text of at least {min_length} character(s)",
    "string_too_long": "a text of at most {max_length} characters",
    "literal_error": "one of: {expected}",
    "union_tag_invalid": "one of: {expected_tags}",
    "union_tag_not_found": "a value: the field is required",
    "list_type": "a list",
    "too_short": "at least {min_length} element(s)",
    "too_long": "at most {max_length} element(s)",
    "dict_type": "an object",
    "model_type": "an object",
    "model_attributes_type": "an object",
}
_PATTERNS = {
    ID_PATTERN: "an id: letters, digits and . _ / - with a letter or digit first",
    TEXT_PATTERN: "a text without control characters",
    GTIN_PATTERN: "a GTIN: 8, 12, 13 or 14 digits",
    URL_PATTERN: "an address that begins with https:// or http://, without spaces",
    COUNTRY_PATTERN: "a country by ISO 3166-1 alpha-2: two capital letters",
    SPOT_PATTERN: "a spot: left, centre, right or top, with 1. or 2. before it on two banks",
}
_UNITS = {
    "_kg_m3": "kg/m³",
    "_mpa_s": "mPa·s",
    "_g_kwh": "g/kWh",
    "_l_h": "l/h",
    "_m_s": "m/s",
    "_kpa": "kPa",
    "_kpa_abs": "kPa absolute",
    "_j_kg_k": "J/(kg·K)",
    "_w_m_k": "W/(m·K)",
    "_1_k": "1/K",
    "_mpa": "MPa",
    "_mm": "mm",
    "_nm": "N·m",
    "_deg": "degrees",
    "_kw": "kW",
    "_days": "days",
    "_c": "°C",
    "_g": "g",
    "_m": "m",
    "_v": "V",
    "_mj_kg": "MJ/kg",
    "_percent": "%",
    "price": "minor units of the currency",
}


def unit_of(field: str) -> str:
    """Return the unit that a field's name tells, or an empty text."""
    return next((unit for ending, unit in _UNITS.items() if field.endswith(ending)), "")


def name_and_unit(field: str) -> tuple[str, str]:
    """Return the words of a field's name, without the unit that they end with, and the unit or an empty text."""
    ending = next((ending for ending in _UNITS if f"_{field}".endswith(ending)), None)
    if ending is None:
        return field.replace("_", " "), ""
    bare = field[: -len(ending)] if ending.startswith("_") else field
    return (bare or field).replace("_", " "), _UNITS[ending]


def _fault(detail: Mapping[str, Any], prefix: list[str], model: type[BaseModel] | None) -> Fault:
    kind, context = detail["type"], detail.get("ctx", {})
    path = [*prefix, *_location(detail, prefix)]
    value = detail.get("input")
    if kind.startswith("union_tag_"):
        tag_name = context.get("discriminator", "").strip("'")
        path.append(tag_name)
        value = value.get(tag_name) if isinstance(value, dict) else value
    found = NOTHING if kind in ("missing", "union_tag_not_found") else rendered(value)
    if kind == "extra_forbidden":
        return Fault(pointer_to(path), found, f"no such field{_known_fields(path, model)}")
    return Fault(pointer_to(path), found, _expected(detail, context, path))


def _location(detail: Mapping[str, Any], prefix: list[str]) -> Iterator[str]:
    """Leave out what pydantic adds to a location: the kind of an object, and that a key is meant."""
    loc: tuple[str | int, ...] = detail["loc"]
    if loc and loc[-1] == "[key]" and detail["type"] != "extra_forbidden":
        loc = loc[:-1]
    is_of_kind = next(iter((*prefix, *loc)), None) in _OF_KINDS
    for place, segment in enumerate(loc, start=len(prefix)):
        if not (is_of_kind and place == _PLACE_OF_KIND):
            yield str(segment)


def _expected(detail: Mapping[str, Any], context: Mapping[str, Any], path: list[str]) -> str:
    if detail["type"] == "string_pattern_mismatch" and context.get("pattern") in _PATTERNS:
        return _PATTERNS[context["pattern"]]
    template = _EXPECTED.get(detail["type"])
    unit = _unit_along(path)
    units = {"unit": f" {unit}", "in_unit": f" in {unit}"} if unit else {"unit": "", "in_unit": ""}
    facts = {name: _fact(value) for name, value in context.items()} | units
    try:
        return template.format_map(facts) if template else printable(detail["msg"], 200)
    except KeyError:
        return printable(detail["msg"], 200)


def _fact(value: object) -> str:
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return printable(str(value).replace("'", ""), 200)


def _unit_along(path: list[str]) -> str:
    # The two figures of bsfc_g_kwh have their unit in the name above them.
    return next(filter(None, (unit_of(name) for name in reversed(path[-2:]))), "")


def _known_fields(path: list[str], model: type[BaseModel] | None) -> str:
    models = {model} if model else set()
    for segment in path[:-1]:
        fields = [one.model_fields[segment] for one in models if segment in one.model_fields]
        if fields:
            models = {inner for field in fields for inner in _models_within(field.annotation)}
    return nearest_words(path[-1], {name for one in models for name in one.model_fields}) if path else ""


def _models_within(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for argument in get_args(annotation):
        yield from _models_within(argument)
