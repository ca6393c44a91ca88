"""Which known names are nearest to one that is not known."""

from collections.abc import Iterable

from rapidfuzz import fuzz, process

_ALIKE = 55.0
_LONGEST = 120


def nearest(name: str, known: Iterable[str], count: int = 3) -> list[str]:
    """Return at most `count` of the known names that are alike (0 to 100: at least 55), the nearest first."""
    found = process.extract(
        name[:_LONGEST], list(known), scorer=fuzz.ratio, processor=str.lower, score_cutoff=_ALIKE, limit=count
    )
    return [match for match, _, _ in found]


def nearest_words(name: str, known: Iterable[str]) -> str:
    """Return "; nearest: a, b" to end a sentence with, or nothing where no known name is alike."""
    names = nearest(name, known)
    return f"; nearest: {', '.join(names)}" if names else ""
