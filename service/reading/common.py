"""The common words of English: what any letter may have, and hardly a finish, a code or a part is called by."""

import gzip
import re
from functools import cache
from importlib.resources import files
from typing import Final

_COUNTED: Final = re.compile(r'"([a-z]{2,})": (?:[3-9]\d{3}|\d{5,})\b')
"""A word that stands three thousand times or more in the texts that were counted: the ten thousand commonest."""
_HIGH: Final = slice(-6, -2)
"""Where a line has four figures, if its number has."""


def is_common(word: str) -> bool:
    """Whether a folded word, or what it is the genitive of, is a common one."""
    return word.removesuffix("'s") in _common()


@cache
def _common() -> frozenset[str]:
    """The words, read when first asked for, line by line: the library's own list takes twenty times the memory."""
    path = str(files("spellchecker") / "resources" / "en.json.gz")
    with gzip.open(path, "rt", encoding="ascii", errors="replace") as lines:
        return frozenset(x[1] for line in lines if line[_HIGH].isdigit() and (x := _COUNTED.match(line)))
