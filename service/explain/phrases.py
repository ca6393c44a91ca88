"""Small words that all texts share: lists, quotes, capitals."""

from collections.abc import Sequence

from service.domain.tongue import named, said, word


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Words in a row, as in `one, two and three`; at least one."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} {word(last)} {parts[-1]}"


def quoted(name: str) -> str:
    """A name as it stands in a sentence: it may have commas of its own."""
    return said("“{name}”", name=named(name))


def joined(parts: Sequence[str]) -> str:
    """Words in a row with the same word between any two, as in `one and two and three`."""
    return f" {word('and')} ".join(parts)


def capital(text: str) -> str:
    """A text that begins with a capital."""
    return text[:1].upper() + text[1:]
