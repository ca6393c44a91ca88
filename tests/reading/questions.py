"""Questions labelled before they were read, and how a reading of them is judged."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from service.reading.questions.facts import QuestionReading
from tests.reading.question_catalogs import editions

_TABLE = Path(__file__).with_name("questions.txt")
_UNITS = {"bhp": 0.745699872, "hp": 0.745699872, "PS": 0.73549875, "psi": 6.89475729, "in": 25.4, "ft": 0.3048}
Json = dict[str, object]


@dataclass(frozen=True)
class Question:
    """A sentence, the fields that must be understood, and those that must be asked, perhaps with first choices.

    `is_unknown`: its car is one that the catalog does not have, and has to be told as such.
    """

    round: int
    catalog: str
    request: Json
    asks: dict[str, tuple[str, ...]]
    text: str
    is_unknown: bool = False


@dataclass(frozen=True)
class Verdict:
    """What is wrong with a reading: fields asserted against the label, not understood, and not asked."""

    question: Question
    wrong: tuple[str, ...]
    missed: tuple[str, ...]
    unasked: tuple[str, ...]


@cache
def questions() -> tuple[Question, ...]:
    return tuple(_rows())


def _rows() -> Iterator[Question]:
    for line in _TABLE.read_text(encoding="utf-8").splitlines():
        if line.startswith("#") or not line.strip():
            continue
        number, catalog, told, asks, text = (part.strip() for part in line.split("|", 4))
        request = dict(_field(one) for one in told.strip().split("; ") if one)
        asked = {one.partition(":")[0]: tuple(filter(None, one.partition(":")[2].split(","))) for one in asks.split()}
        is_unknown = asked.pop("unknown", None) is not None
        for field in ("chassis", "layout"):
            if field not in request:
                asked.setdefault(field, ())
        yield Question(
            int(number),
            catalog,
            request,
            asked,
            text.encode("ascii", "backslashreplace").decode("unicode_escape"),
            is_unknown,
        )


def _field(told: str) -> tuple[str, object]:
    name, _, value = told.strip().partition("=")
    if name in ("in_stock_only", "allow_unsold"):
        return name, value != "false"
    if name == "exclude":
        return name, sorted(value.split(","))
    if name in ("pump", "injectors"):
        return name, _flow(name, value)
    if name == "set_kpa":
        return "regulator", {name: _number(value)}
    if name == "clear":
        rooms: dict[str, Json] = {}
        for one in value.split(","):
            spot, way, mm = _room(one)
            rooms.setdefault(spot, {"spot": spot})[f"{way}_mm"] = _number(mm)
        return "clearances", sorted(rooms.values(), key=str)
    if name == "have":
        parts = [one.partition("*") for one in value.split(",")]
        return name, sorted(({"sku": sku, "qty": int(qty or 1)} for sku, _, qty in parts), key=str)
    if name == "own_rail":
        spots = [one.split(".") for one in value.split(",")]
        return name, {spot: {"standard": standard, "end": end} for spot, standard, end in spots}
    if name == "addons":
        return name, sorted(value.split(","))
    if name in ("feed", "return"):
        return f"{name}_hose_m", _number(value)
    if name in ("power_kw", "boost_kpa", "max_price"):
        return name, _number(value)
    return name, value


def _flow(name: str, value: str) -> object:
    figures = [float(x) for x in value.split(":")]
    if name == "pump":
        return [dict(zip(("kpa", "l_h"), figures, strict=True))]
    return dict(zip(("static_l_h", "rated_kpa"), figures, strict=True))


def _room(one: str) -> tuple[str, str, str]:
    for way in ("axial", "across"):
        spot, found, mm = one.partition(f".{way}.")
        if found:
            return spot, way, mm
    raise ValueError(one)


def _number(text: str) -> float:
    for unit, factor in _UNITS.items():
        if text.endswith(unit):
            return float(text.removesuffix(unit)) * factor
    return float(text)


def judged(question: Question, reading: QuestionReading) -> Verdict:
    """How a reading compares with the label. What is not labelled must not be asserted."""
    request = {name: _sorted(value) for name, value in reading.request.items()}
    wrong = [name for name, value in request.items() if not _same(value, question.request.get(name))]
    missed = [name for name in question.request if name not in request]
    opened = {one.field: [choice.value for choice in one.choices] for one in reading.open}
    unasked = []
    for field, first in question.asks.items():
        if field not in opened or set(opened[field][: len(first)]) != set(first):
            unasked.append(field)
    if question.is_unknown and reading.unknown is None:
        unasked.append("unknown")
    return Verdict(question, tuple(wrong), tuple(missed), tuple(unasked))


def _sorted(value: object) -> object:
    return sorted(value, key=str) if isinstance(value, list) else value


def _same(one: object, other: object) -> bool:
    if isinstance(one, float | int) and isinstance(other, float | int) and not isinstance(one, bool):
        return abs(one - other) <= 0.002 * max(abs(one), abs(other))
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(_same(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[x], other[x]) for x in one)
    return one == other


@cache
def verdicts() -> tuple[Verdict, ...]:
    return tuple(judged(x, editions()[x.catalog].question_reader.read(x.text)) for x in questions())
