"""Texts as they are compared: without case, accents, kinds of dashes; words as runs of letters or of digits."""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

ODD = "\ue000"
"""Stands for a number that is no plain digit: a fraction, a ring with a number in it, digits of other scripts."""

_TOKEN = re.compile(r"[^\W\d_\ue000-\uf8ff]+|[0-9]+")
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u00d7\u2715\u2716\u2a2f\u22c5", "x"),
        **dict.fromkeys("_\u2212", "-"),
        **dict.fromkeys("\u2018\u2019\u02bc\u00b4`", "'"),
        **dict.fromkeys("\u201c\u201d\u201e\u2033", '"'),
        **dict.fromkeys("\u2044\u2215", "/"),
        "\u00b0": " deg ",
    }
)
_INCHES = re.compile(r"(?<=/\d)\s*\"|(?<=/\d\d)\s*\"")
"""The sign of inches behind a fraction; elsewhere it may be a quote."""
_ARTICLES = re.compile(r"(?<=\bfor )(?:a|an|the) |(?<=\bto )(?:a|an|the) |(?<=\bwith )(?:a|an|the) ")
_INCH = re.compile(r"(?<=/\d)\s*(?:inch|in)\b|(?<=/\d\d)\s*(?:inch|in)\b")
_LONG = re.compile(r"[roh] (?:a|an|the) |/\d\d?\s*in|\d[.,]0|\d\s*(?:deg|met)")
"""What may be said in short, seen at a glance."""
_POINT_ZERO = re.compile(r"(?<=\d)[.,]0(?=\s*(?:m|mm|l|bar)\b)")
_UNIT_NAMES = ((re.compile(r"(?<=\d)\s*deg(?:rees?)?\b"), " deg"), (re.compile(r"(?<=\d)\s*met(?:er|re)s?\b"), " m"))
_PLURAL_FROM = 4
"""A word of so many letters or more may be a plural."""

_IRREGULAR = {"stucke": "stuck"}
_GERMAN_PLURALS = ("n", "en", "e")
_GERMAN_FROM = 6
"""A German plural is taken for one only where so many letters are left."""
_ENDS_WITH_A_WORD = re.compile(r"(.*[^\s,]),\s*([^\W\d_]{2,}(?:[ -][^\W\d_]+)?)\s*")

_A_MEASURE = r"(M\d+(?:\s?x\s?\d+(?:[.,]\d+)?)*|\d+(?:[.,/]\d+)?\s?(?:mm|cm|in|inch|bar|kPa|psi|deg|ml|micron))"
_MEASURED = re.compile(rf"([^\d,]*[^\W\d]),?\s+{_A_MEASURE}((?:[\s,].*)?)")
_ENDS_WITH_A_MEASURE = re.compile(rf"(.*[^\s,]),\s*{_A_MEASURE}()")
"""A name in which a measure follows its words; that of metres may be a quantity."""


@dataclass(frozen=True, slots=True)
class Token:
    """A run of letters or digits, and where it stands in its text."""

    text: str
    start: int
    end: int

    @property
    def is_number(self) -> bool:
        return self.text[0].isdigit()


def folded(text: str) -> str:
    """A text in small letters without accents, its dashes and quotes of one kind each; private signs are gone."""
    if text.isascii():
        return _INCHES.sub(" in", text.translate(_SIGNS).lower())
    plain = "".join(map(_plain, text)).translate(_SIGNS)
    letters = (sign for sign in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(sign))
    return _INCHES.sub(" in", "".join(letters).casefold().translate(_SIGNS))


def _plain(sign: str) -> str:
    if sign.isascii():
        return sign
    kind = unicodedata.category(sign)
    if kind in ("No", "Nl", "Nd"):
        return ODD
    if kind == "Pd":
        return "-"
    if kind == "Cf":
        return ""
    return " " if kind in ("Zs", "Zl", "Zp", "Co", "Cn", "Cs") else sign


def tokens_of(text: str) -> list[Token]:
    """The words and numbers of a folded text."""
    return [Token(found[0], *found.span()) for found in _TOKEN.finditer(text)]


def shortened(plain: str) -> str:
    """A folded text as it is said in short: without the articles that stand behind small words, without the inches of
    fractions and the zero of whole measures, units by their signs."""
    if not _LONG.search(plain):
        return plain
    for unit, sign in _UNIT_NAMES:
        plain = unit.sub(sign, plain)
    return _ARTICLES.sub("", _INCH.sub("", _POINT_ZERO.sub("", plain)))


@lru_cache(maxsize=8_192)
def singular(word: str) -> str:
    """A word without the ending of a plural. Words that only look like plurals lose it too, on both sides alike."""
    if len(word) < _PLURAL_FROM or not word.endswith("s") or word.endswith("ss"):
        return word
    if word.endswith("ies") and len(word) > _PLURAL_FROM:
        return f"{word[:-3]}y"
    return word[:-2] if word.endswith(("sses", "xes", "ches", "shes")) else word[:-1]


def singulars(word: str) -> tuple[str, ...]:
    """What a word may be the plural of: the first by the English ending, the others by German ones."""
    first = _IRREGULAR.get(word) or singular(word)
    more = [first.removesuffix(ending) for ending in _GERMAN_PLURALS if first.endswith(ending)]
    return (first, *(one for one in more if len(one) >= _GERMAN_FROM))


def joined(words: Sequence[str]) -> str:
    """Words as one key; a dash stays between two numbers, which would be another number without it."""
    key = ""
    for word in words:
        key = with_word(key, word)
    return key


def with_word(key: str, word: str) -> str:
    """A key with one word more."""
    return f"{key}-{word}" if key and key[-1].isdigit() and word[0].isdigit() else key + word


def key_of(text: str) -> str:
    """The key of a text, in which dashes, spaces and other signs do not count."""
    return joined([token.text for token in tokens_of(folded(text))])


def singular_key_of(text: str) -> str:
    """The key of a text, in which the plural does not count either."""
    return joined([singular(token.text) for token in tokens_of(folded(text))])


def turned(name: str) -> tuple[str, ...]:
    """How a name is said as well: "plug, red" as "red plug" and "plug in red", "tube nut 8 mm" as "8 mm tube nut"."""
    ended = _ENDS_WITH_A_WORD.fullmatch(name)
    measured = [found for form in (_MEASURED, _ENDS_WITH_A_MEASURE) if (found := form.fullmatch(name))]
    said = (f"{ended[2]} {ended[1]}", f"{ended[1]} in {ended[2]}") if ended else ()
    return (*said, *(f"{one[2]} {one[1]}{one[3]}" for one in measured))
