"""The common words of English: what any letter may have, and hardly a finish, a code or a part is called by."""

import gzip
import re
from functools import cache
from importlib.resources import files
from typing import Final

_LEAST: Final = 3_000
"""How often a word stands in the texts that were counted: so the ten thousand commonest are known."""
_COUNTED: Final = re.compile(r'"([a-z]{2,})": (\d+)')


def is_common(word: str) -> bool:
    """Whether a folded word, or what it is the genitive of, is a common one."""
    return word.removesuffix("'s") in _common()


@cache
def _common() -> frozenset[str]:
    """The words, read when the first order is, line by line: the library's own list takes twenty times the memory."""
    with gzip.open(
        str(files("spellchecker") / "resources" / "en.json.gz"), "rt", encoding="ascii", errors="replace"
    ) as lines:
        counted = filter(None, map(_COUNTED.match, lines))
        return frozenset(found[1] for found in counted if int(found[2]) >= _LEAST)
