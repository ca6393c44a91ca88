"""The common words of English: what any letter may have, and hardly a finish, a code or a part is called by."""

import gzip
import re
from functools import cache
from importlib.resources import files
from typing import Final

_COUNTED: Final = re.compile(r'"([a-z]{2,})": (\d{3,})\b')
_COMMON: Final = 3_000
"""A word that stands so often in the texts that were counted is one of the ten thousand commonest."""
_ENGLISH: Final = 300
"""A word that stands so often is hardly a misspelt one."""
_HIGH: Final = slice(-5, -2)
"""Where a line has three figures, if its number has."""


def is_common(word: str) -> bool:
    """Whether a folded word, or what it is the genitive of, is a common one."""
    return _are_common().get(word.removesuffix("'s"), False)


def is_english(word: str) -> bool:
    """Whether a folded word is one of English, and hardly a misspelt one."""
    return word in _are_common()


@cache
def _are_common() -> dict[str, bool]:
    """The words of English and whether each is common, read when first asked for, line by line: the library's own list
    takes far more memory."""
    path = str(files("spellchecker") / "resources" / "en.json.gz")
    with gzip.open(path, "rt", encoding="ascii", errors="replace") as lines:
        counted = (found for line in lines if line[_HIGH].isdigit() and (found := _COUNTED.match(line)))
        return {one[1]: int(one[2]) >= _COMMON for one in counted if int(one[2]) >= _ENGLISH}
