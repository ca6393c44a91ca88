"""An object of an arriving document, read without trust: what has not the right type reads as missing."""

from collections.abc import Iterator
from typing import Any

from service.documents.faults import NOTHING, Fault
from service.documents.pointers import pointer_to
from service.documents.rendering import rendered

Path = tuple[str | int, ...]


class Part:
    """One JSON object with its place in the document."""

    __slots__ = ("fields", "path")

    def __init__(self, path: Path, fields: dict[str, Any]) -> None:
        self.path = path
        self.fields = fields

    def has(self, name: str) -> bool:
        """Tell whether the field is given; null counts as not given."""
        return self.fields.get(name) is not None

    def text(self, name: str) -> str | None:
        value = self.fields.get(name)
        return value if isinstance(value, str) else None

    def number(self, name: str) -> float | None:
        value = self.fields.get(name)
        return value if isinstance(value, (int, float)) and not isinstance(value, bool) else None

    def part(self, name: str) -> "Part | None":
        value = self.fields.get(name)
        return Part((*self.path, name), value) if isinstance(value, dict) else None

    def parts(self, name: str) -> "list[Part]":
        """Return the objects in a list."""
        values = self.fields.get(name)
        if not isinstance(values, list):
            return []
        return [Part((*self.path, name, index), x) for index, x in enumerate(values) if isinstance(x, dict)]

    def members(self, name: str) -> "dict[str, Part]":
        """Return the objects in an object, by key."""
        inner = self.part(name)
        return inner.inner_parts() if inner else {}

    def inner_parts(self) -> "dict[str, Part]":
        """Return the objects in this object, by key."""
        return {key: Part((*self.path, key), value) for key, value in self.fields.items() if isinstance(value, dict)}

    def elements(self, name: str) -> Iterator[tuple[Path, object]]:
        value = self.fields.get(name)
        return (((*self.path, name, index), x) for index, x in enumerate(value if isinstance(value, list) else ()))

    def fault(self, expected: str, *names: str | int, found: str | None = None) -> Fault:
        """Make a fault of the field that `names` lead to, or of the part itself."""
        value: Any = self.fields
        for name in names:
            value = value.get(name) if isinstance(value, dict) else None
        shown = found or (NOTHING if value is None else rendered(value))
        return Fault(pointer_to((*self.path, *names)), shown, expected)
