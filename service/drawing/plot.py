"""The field of a plot: two scales with ticks at round numbers, and places in it by value."""

from dataclasses import dataclass
from itertools import count, takewhile
from math import floor, log10

from service.drawing.svg import Node, Point, line, wide

WIDTH = 360.0
"""As wide as a phone, so that words can be read there as they are."""
WORDS = 11.0
LETTER = 6.0
"""How wide a letter of that size is at most, near enough."""
_MOST_TICKS = 6
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """From values to units: `start` and `end` are where `low` and `high` are."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


@dataclass(frozen=True, slots=True)
class Field:
    """A plot's field."""

    across: Scale
    down: Scale

    def at(self, x: float, y: float) -> Point:
        """Where a pair of values is."""
        return self.across.at(x), self.down.at(y)


def ticks(high: float) -> list[float]:
    """Round numbers from 0 up to a value above 0, six steps at most."""
    rough = high / _MOST_TICKS
    tens = 10.0 ** floor(log10(rough))
    step = next(step * tens for step in _STEPS if step * tens >= rough * (1 - 1e-9))
    return [round(one, 9) for one in takewhile(lambda one: one <= high * (1 + 1e-9), (n * step for n in count()))]


def draw_frame(parent: Node, field: Field) -> None:
    """The left and the lower edge."""
    across, down = field.across, field.down
    low, high = max(down.start, down.end), min(down.start, down.end)
    line(parent, (across.start, high), (across.start, low), (across.end, low), width=1)


def cut(words: str, room: float) -> str:
    """As much of the words as there is room for."""
    if wide(words, WORDS) <= room:
        return words
    most = next((most for most in range(len(words), 1, -1) if wide(words[:most], WORDS) + LETTER <= room), 1)
    return words[:most].rstrip() + "…"
