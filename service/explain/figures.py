"""Figures as they are written: a float carries six significant digits, which is more than any measurement has."""

from collections.abc import Mapping
from typing import Any

_DIGITS = 6


def figure(value: float) -> float:
    """The value to six significant digits."""
    return float(f"{value:.{_DIGITS}g}")


def figure_of(value: float | None) -> float | None:
    """The same of a value that may be missing."""
    return None if value is None else figure(value)


def figures(facts: Mapping[str, Any]) -> dict[str, Any]:
    """The facts with each float among them, at any depth, as a figure."""
    return {name: _written(value) for name, value in facts.items()}


def _written(value: Any) -> Any:
    if type(value) is float:
        return figure(value)
    if isinstance(value, (list, tuple)):
        return [_written(one) for one in value]
    if isinstance(value, Mapping):
        return figures(value)
    return value
