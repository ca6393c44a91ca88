"""Text of others in messages."""

_LIMIT = 60


def printable(text: str, limit: int = _LIMIT) -> str:
    """Cut `text` to `limit` characters and escape what does not print (controls, lone surrogates)."""
    cut = text if len(text) <= limit else text[: limit - 1] + "…"
    if cut.isprintable():
        return cut
    return "".join(letter if letter.isprintable() else f"\\u{ord(letter):04x}" for letter in cut)
