"""Figures as they are written: a float carries six significant digits, more than any measurement has."""

from collections.abc import Mapping
from typing import Any, TypeVar

from service.domain.units import FIGURE_DIGITS

T = TypeVar("T")


def figure(value: float) -> float:
    """The value to six significant digits."""
    return float(f"{value:.{FIGURE_DIGITS}g}")


def figure_of(value: float | None) -> float | None:
    """The same of a value that may be missing."""
    return None if value is None else figure(value)


def figures(facts: Mapping[str, Any]) -> dict[str, Any]:
    """The facts with each float among them, at any depth, as a figure."""
    return {name: written(value) for name, value in facts.items()}


def written(document: T) -> T:
    """A document with each float in it, at any depth, as a figure."""
    told: Any = document
    if type(told) is float:
        told = figure(told)
    elif isinstance(told, (list, tuple)):
        told = [written(one) for one in told]
    elif isinstance(told, Mapping):
        told = figures(told)
    whole: T = told
    return whole
