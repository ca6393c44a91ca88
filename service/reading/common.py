"""The common words of English: what any letter may have, and hardly a finish, a code or a part is called by."""

import gzip
import re
from functools import cache
from importlib.resources import files
from typing import Final

_COUNTED: Final = r'"([a-z]{2,})": '
_COMMON: Final = rf"{_COUNTED}(?:[3-9]\d{{3}}|\d{{5,}})\b"
"""A word that stands three thousand times or more in the texts that were counted: the ten thousand commonest."""
_ENGLISH: Final = rf"{_COUNTED}(?:[3-9]\d{{2}}|\d{{4,}})\b"
"""A word that stands three hundred times or more: hardly a misspelt one."""
_HIGH: Final = slice(-5, -2)
"""Where a line has three figures, if its number has."""


def is_common(word: str) -> bool:
    """Whether a folded word, or what it is the genitive of, is a common one."""
    return word.removesuffix("'s") in _counted(_COMMON)


def is_english(word: str) -> bool:
    """Whether a folded word is one of English, and hardly a misspelt one."""
    return word in _counted(_ENGLISH)


@cache
def _counted(pattern: str) -> frozenset[str]:
    """The words, read when first asked for, line by line: the library's own list takes twenty times the memory."""
    path = str(files("spellchecker") / "resources" / "en.json.gz")
    known = re.compile(pattern)
    with gzip.open(path, "rt", encoding="ascii", errors="replace") as lines:
        return frozenset(x[1] for line in lines if line[_HIGH].isdigit() and (x := known.match(line)))
