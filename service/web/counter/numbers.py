"""Numbers as people write them, with a comma or a point before the decimals; what could be two is asked back."""

import re

_MOST = 1e12
_LONGEST = 40
_SPACES = re.compile(r"(?<=\d)[\s\u00a0\u202f'\u2019](?=\d{3})")
_PLAIN = re.compile(r"[+-]?\d{1,15}(\.\d{1,15})?")
_DOUBTFUL = re.compile(r"[+-]?[1-9]\d{0,2}[.,]\d{3}")
_GROUPS = re.compile(r"[+-]?[1-9]\d{0,2}([.,]\d{3})+")


def number_in(text: str, *, has_thousandths: bool = True) -> float | None:
    """The number that is meant; None for no number, and for one that could be two. `has_thousandths` false: of money,
    three digits behind a sign are thousands."""
    written = _SPACES.sub("", text.strip()[:_LONGEST])
    if has_thousandths and _DOUBTFUL.fullmatch(written):
        return None
    plain = _plain(written, has_thousandths=has_thousandths)
    if _PLAIN.fullmatch(plain) is None:
        return None
    value = float(plain)
    return value if abs(value) < _MOST else None


def both_in(text: str) -> tuple[str, str] | None:
    """The two numbers that a text could be, the larger one first; None where it is not in doubt."""
    written = _SPACES.sub("", text.strip()[:_LONGEST])
    if _DOUBTFUL.fullmatch(written) is None:
        return None
    return re.sub("[.,]", "", written), written.replace(",", ".").rstrip("0").rstrip(".")


def _plain(written: str, *, has_thousandths: bool) -> str:
    """The same with a point before its decimals and nothing between its thousands."""
    signs = [sign for sign in written if sign in ".,"]
    if len(set(signs)) == 2 and signs.count(signs[-1]) == 1:
        whole, _, rest = written.rpartition(signs[-1])
        return f"{re.sub('[.,]', '', whole)}.{rest}" if _GROUPS.fullmatch(whole) else written
    if _GROUPS.fullmatch(written) and len(set(signs)) == 1 and (len(signs) > 1 or not has_thousandths):
        return re.sub("[.,]", "", written)
    return written.replace(",", ".") if len(signs) == 1 else written
