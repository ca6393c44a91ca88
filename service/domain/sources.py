"""Where figures come from, as a catalog writes it: whether that can be looked up."""

_RECALLED = ("memory", "low confidence")


def can_be_looked_up(source: str | None) -> bool:
    """Whether a source names something to look at; what is recalled alone does not."""
    told = (source or "").casefold()
    return bool(told.strip()) and not any(words in told for words in _RECALLED)
