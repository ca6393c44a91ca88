"""Small words that all texts share: lists, quotes, capitals."""

from collections.abc import Sequence


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Words in a row, as in `one, two and three`; at least one."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def quoted(name: str) -> str:
    """A name as it stands in a sentence: it may have commas of its own."""
    return f"“{name}”"


def capital(text: str) -> str:
    """A text that begins with a capital."""
    return text[:1].upper() + text[1:]
