"""An object of the catalog as it is typed: texts in the fields of a form, and back to a document with its faults.

What is typed is a tree as the document is: a group by its fields, rows in a list, keyed ones as rows of key and value;
its leaves are texts. The name of a field is where it stands in that tree, as a pointer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from service.documents.pointers import pointer_to
from service.documents.rendering import rendered
from service.domain.money import decimals_of
from service.web.counter.numbers import both_in, number_in
from service.web.pages.workshop_shapes import Shape

_MOST_ROWS = 200
_YES: dict[object, str] = {True: "yes", False: "no"}
_THOUSANDTHS = 3

Typed = Any
"""A text, a list of rows, a group by field, or None for a group that is not there."""


def typed_of(shape: Shape, value: Any, currency: str) -> Typed:
    """What a form shows of a value of a document; None is one that is not there."""
    if shape.is_leaf:
        return _text(shape, value, currency)
    if shape.kind == "group":
        if value is None:
            return None
        told = shape.of_variant(str(value.get(shape.tag, "")))
        return {part.name: typed_of(part, value.get(part.name), currency) for part in told.parts}
    inner = _inner(shape)
    if shape.kind == "rows":
        values = [value] if isinstance(value, str) else value or []
        return [typed_of(inner, one, currency) for one in values]
    return [{"key": key, "value": typed_of(inner, one, currency)} for key, one in (value or {}).items()]


def empty(shape: Shape) -> Typed:
    """What a form shows of a new object: its groups are there where they must be."""
    if shape.is_leaf:
        return ""
    if shape.kind == "group":
        told = shape.of_variant("")
        return {part.name: empty(part) if part.is_required or part.kind != "group" else None for part in told.parts}
    return []


def typed_in(shape: Shape, form: Mapping[str, str], pointer: str = "") -> Typed:
    """What was typed at a place of a form."""
    if shape.is_leaf:
        return form.get(pointer, "").replace("\r\n", "\n").strip()
    if shape.kind == "group":
        if pointer and pointer not in form:
            return None
        told = shape.of_variant(form.get(f"{pointer}/{shape.tag}", "") if shape.tag else "")
        return {part.name: typed_in(part, form, f"{pointer}/{part.name}") for part in told.parts}
    inner, rows = _inner(shape), _rows_in(form, pointer)
    if shape.kind == "rows":
        return [typed_in(inner, form, f"{pointer}/{row}") for row in rows]
    key = shape.key or shape
    found = []
    for row in rows:
        at = f"{pointer}/{row}"
        found.append({"key": typed_in(key, form, f"{at}/key"), "value": typed_in(inner, form, f"{at}/value")})
    return found


def _rows_in(form: Mapping[str, str], pointer: str) -> list[int]:
    """The places of the rows that a form has under a pointer."""
    return [row for row in range(_MOST_ROWS) if f"{pointer}/{row}" in form]


@dataclass
class Read:
    """What was read of a form: by the pointer of each place of the document its field, and what is no number."""

    places: dict[str, str] = field(default_factory=dict)
    faults: list[tuple[str, str]] = field(default_factory=list)


def document_of(shape: Shape, typed: Typed, currency: str) -> tuple[Any, Read]:
    """The document that is meant by what was typed. What cannot be read stands in it as the text that it is."""
    read = Read()
    return _Document(read, currency).of(shape, typed, (), ""), read


class _Document:
    def __init__(self, read: Read, currency: str) -> None:
        self._read = read
        self._currency = currency

    def of(self, shape: Shape, typed: Typed, path: tuple[str | int, ...], name: str) -> Any:
        """The value at a place; None where nothing is told."""
        self._read.places[pointer_to(path)] = name
        if shape.is_leaf:
            return self._leaf(shape, typed, name)
        if typed is None:
            return None
        if shape.kind == "group":
            return self._group(shape, typed, path, name)
        inner = _inner(shape)
        if shape.kind == "rows":
            kept = [(row, one) for row, one in enumerate(typed) if not _is_blank(one)]
            values = [self.of(inner, one, (*path, place), f"{name}/{row}") for place, (row, one) in enumerate(kept)]
            return values if values or shape.is_required else None
        told = {}
        for row, one in enumerate(typed):
            if one["key"] or not _is_blank(one["value"]):
                told[one["key"]] = self.of(inner, one["value"], (*path, one["key"]), f"{name}/{row}/value")
        return told if told or shape.is_required else None

    def _group(self, shape: Shape, typed: Typed, path: tuple[str | int, ...], name: str) -> dict[str, Any]:
        told = shape.of_variant(str(typed.get(shape.tag, "")))
        values = {
            part.name: self.of(part, typed.get(part.name), (*path, part.name), f"{name}/{part.name}")
            for part in told.parts
        }
        return {key: value for key, value in values.items() if value is not None}

    def _leaf(self, shape: Shape, text: str | None, name: str) -> Any:
        if not text:
            return "" if shape.kind == "long" and shape.is_required else None
        if shape.kind == "yes":
            return {"yes": True, "no": False}.get(text, text)
        if shape.kind == "choice":
            return int(text) if text.isdecimal() and text in shape.options else text
        if shape.kind in ("number", "whole", "money"):
            return self._number(shape, text, name)
        return text

    def _number(self, shape: Shape, text: str, name: str) -> Any:
        decimals = decimals_of(self._currency) if shape.kind == "money" else 0
        value = number_in(text, has_thousandths=shape.kind != "money" or decimals >= _THOUSANDTHS)
        if value is None:
            both = both_in(text)
            meant = "a number" if both is None else f"{both[0]}, or {_plain(both[1])}: write the one that is meant"
            self._read.faults.append((name, f"Expected {meant}; found {rendered(text)}."))
            return None
        if shape.kind == "money":
            value = round(value * 10**decimals, 6)
        return int(value) if value.is_integer() else value


def with_row(shape: Shape, typed: Typed, pointer: str) -> Typed:
    """What is typed with one more row, or with the group that was not there, at a place; the same for no such place."""
    return _changed(shape, typed, pointer.split("/")[1:], is_more=True)


def without(shape: Shape, typed: Typed, pointer: str) -> Typed:
    """What is typed without the row or the group at a place; the same for no such place."""
    return _changed(shape, typed, pointer.split("/")[1:], is_more=False)


def _changed(shape: Shape, typed: Typed, path: list[str], *, is_more: bool) -> Typed:
    if not path:
        if shape.kind == "group":
            return (typed or empty(shape)) if is_more else None
        if is_more and shape.kind == "rows":
            return [*typed, empty(_inner(shape))]
        return [*typed, {"key": "", "value": empty(_inner(shape))}] if is_more and shape.kind == "keyed" else typed
    step, rest = path[0], path[1:]
    if shape.kind == "group" and typed is not None:
        part = shape.of_variant(str(typed.get(shape.tag, ""))).part(step)
        if part is None:
            return typed
        return {**typed, step: _changed(part, typed.get(step), rest, is_more=is_more)}
    if shape.kind not in ("rows", "keyed") or not step.isdecimal() or int(step) >= len(typed):
        return typed
    row = int(step)
    if not rest and not is_more:
        return [*typed[:row], *typed[row + 1 :]]
    if shape.kind == "keyed":
        inner = {**typed[row], "value": _changed(_inner(shape), typed[row]["value"], rest[1:], is_more=is_more)}
    else:
        inner = _changed(_inner(shape), typed[row], rest, is_more=is_more)
    return [*typed[:row], inner, *typed[row + 1 :]]


def number_text(value: float) -> str:
    """A number as it is typed, so that it cannot be taken for another."""
    text = str(int(value)) if float(value).is_integer() else f"{value:.15g}"
    return _plain(text) if "e" not in text else f"{value:.12f}".rstrip("0")


def _plain(text: str) -> str:
    """A number with a nought more where three decimals could be thousands."""
    return f"{text}0" if "." in text and both_in(text) is not None else text


def _text(shape: Shape, value: Any, currency: str) -> str:
    if value is None:
        return ""
    if shape.kind == "yes":
        return _YES[value]
    if shape.kind == "money":
        decimals = decimals_of(currency)
        text = f"{value / 10**decimals:.{decimals}f}"
        return _plain(text) if decimals >= _THOUSANDTHS else text
    return number_text(value) if shape.kind in ("number", "whole") else str(value)


def _is_blank(typed: Typed) -> bool:
    if isinstance(typed, str):
        return not typed
    if isinstance(typed, Mapping):
        return all(map(_is_blank, typed.values()))
    return typed is None or all(map(_is_blank, typed))


def _inner(shape: Shape) -> Shape:
    if shape.item is None:
        raise ValueError(f"{shape.name} has no rows")
    return shape.item
