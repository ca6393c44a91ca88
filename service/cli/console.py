"""Where words go: answers to standard output, all else to standard error. Nothing is read as markup."""

from rich.console import Console


def output() -> Console:
    """Return the console of answers; without a terminal it is 80 columns wide and has no colours."""
    return Console(markup=False, highlight=False, emoji=False)


def errors() -> Console:
    """Return the console of messages, which break only where a terminal breaks them."""
    return Console(stderr=True, markup=False, highlight=False, emoji=False, soft_wrap=True)
