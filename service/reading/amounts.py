"""What stands on a row beside its parts: quantities, prices, sizes, dates, words. One pass by one expression."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from service.reading import words
from service.reading.folding import ODD

Kind = Literal["part", "mark", "plain", "odd", "money", "decimal", "position", "day", "size", "word", "sign", "nothing"]

ADDRESS = "\ue001"
"""Stands for an address on the net, whose words name no part."""
NAME = "\ue002"
"""Stands for the name of a car or an engine."""
FIRST_PART = 0xE100
"""The sign of the first part of a row; the next ones follow."""

_PART = "[\ue100-\uf8ff]"
_ALONE = r"(?<![\w/\-])(?<!\d[.,])(?<!\s[.,])(?<!^[.,])"
_ENDS = r"(?![.,'/]?\d)(?!\w)"
_PIECES = rf"(?:{words.PIECES})"
_X = r"[x*]"
_DECIMAL = r"\d+[.,]\d+"
_WHOLE = r"(?:[.,]00?)?"
"""The decimals of a whole number; three zeros may be thousands."""
_SUM = r"\d+[.,]\d\d(?!\d)"
"""An amount of money, by its two decimals."""
_CURRENCY = rf"(?:[\u20ac$\u00a3\u00a5\u20b9]|(?:{words.CURRENCIES})\b)"
_MONTH = rf"(?:{words.MONTHS})\b\.?"
_NUMBER_WORD = "|".join(words.NUMBERS)

_OF_MONTH = r"(?:0?[1-9]|[12]\d|3[01])"
"""A day of a month, or a month."""
_DAY = r"\d\d?(?:st|nd|rd|th)?"
_NUMBER = r"\d+(?:[.,]\d+)?"
_UNIT = rf"(?:(?:{words.UNITS})(?![a-z0-9/])|\")"
_LABELS = (
    r"p\.?o\.?|invoice|customer|cust|account|acct|vin|job|project|offer|car|van|truck|desk|bay|order|quote|ref|"
    r"reference|kunde|auftrag"
)

_NUMBERED = r"(?:kunden|kd|auftrags|rechnungs|vorgangs|projekt)[\s.\-]*(?:nummer|nr)\.?"
_OFFICIAL = r"(?:(?:reg|id|no|nr|number)\b[\s.:#\-]*)"
_OF_OFFICES = r"(?:[a-z]{2}\s?)?\d[\d ]{4,}\d"
"""A number that an office gives, as for taxes."""
_CODE = r"[a-z]{0,4}[\-/]?\d[\w/\-]*"
_A_PIECE = r"(?:(?:each|ea|apiece|per\s+[a-z]+|/\s*[a-z]+)\b)"
_POSITION = r"(?:(?:pos(?:ition)?|item|line|lfd|row|nr)\.?\s*(?:nr|no)?[.:#]?\s*#?|no\s*[.:#]+|#)"
_WORDS_THAT_COUNT = rf"(?:(?:a|one|1)\s+)?(?:dozen|doz\.?|dz\.?)|(?:(?:a|one|1)\s+)?pair|{_NUMBER_WORD}"

_FORMS: dict[str, tuple[str, ...]] = {
    "part": (_PART,),
    "nothing_address": (ADDRESS,),
    "nothing_name": (NAME,),
    "position": (rf"^\s*{_POSITION}\s*\d{{1,4}}(?!\d|[.,]\d)\s*[.:)\]]?(?!\s*(?:{_PIECES}|x)\b)",),
    "nothing_letter": (r"^\s*(?:pos(?:ition)?|item|line|row)\.?\s+[a-z]\s*[.:)]",),
    "counter": (
        r"^\s*0\d{2,4}(?=\s)",
        r"^\s*\d{1,4}\s*[.)\]:]{1,2}(?!\d)(?=\s|[\ue100-\uf8ff])",
    ),
    "nothing_date": (
        rf"(?:\b(?:requested|required|wanted|needed|date|datum)\s*:?\s*)?{_ALONE}(?:\d{{4}}-\d\d?-\d\d?|{_OF_MONTH}[./]{_OF_MONTH}[./](?:\d{{4}}|\d\d))(?![\d./])",
        rf"{_ALONE}{_DAY}\.?\s+(?:of\s+)?{_MONTH},?\s+\d{{4}}\b",
        rf"\b{_MONTH}\s+{_DAY},?\s+\d{{4}}\b",
        r"\b(?:week|wk|cw|kw)\s*\d{1,2}\b(?!\s*x)",
        r"\b(?:by|before|due|needed|required|dated|until|delivery|lieferung)\s+(?:the\s+)?\d\d?(?:st|nd|rd|th|[./]\d\d?(?:[./](?:\d{4}|\d\d))?\.?)(?!\d)",
    ),
    "day": (
        rf"{_ALONE}{_DAY}\.?\s+(?:of\s+)?{_MONTH}(?![a-z])",
        rf"\b{_MONTH}\s+{_DAY}\b(?!\s*(?:x|{_PIECES})\b)",
    ),
    "nothing_time": (
        rf"{_ALONE}\d\d?:\d\d(?!\d)(?:\s*(?:am|pm|h|uhr)\b)?",
        rf"{_ALONE}\d\d?\s*(?:am|pm|uhr)\b",
        rf"\b(?:at|before|until|till|after)\s+(?:{_NUMBER_WORD})\b(?=\W*$|\s+o'clock)",
    ),
    "nothing_phone": (
        r"\b(?:tel|telephone|phone|mobile|mob|fax|call)\b[.:]?\s*[+(]?[\d(][\d ()/\-]{4,}",
        r"(?<!\w)\+\d[\d ()/\-]{7,}\d",
    ),
    "nothing_label": (
        rf"\b(?:{_LABELS})[\s\-(]*(?:no|nr|number|num|ref|#)+[.:#]*\s*{_CODE}(?!\s*(?:x|{_PIECES})\b)",
        r"\b(?:customer|work|workshop|job|purchase|repair)\s+order\s*[:#]?\s*[a-z]{0,3}-?\d{3,}\w*",
        r"\b(?:po|vin)\s*[:#]?\s*[a-z]{0,3}-?(?:\d{3}|\d+[\-/]\d)[\w/\-]*",
        rf"\b(?:job|project|auftrag)\s*[:#]?\s*\d{{3,}}(?!\w|\s*(?:{_X}|{_PIECES})\b|\s+(?:of\s+)?{_PART})",
        rf"\b(?:to|for|on|with|against|see|my|our|your|existing)\s+order\s+\d{{4,}}(?!\w|\s*(?:{_X}|{_PIECES})\b|\s+(?:of\s+)?{_PART})",
        rf"\b(?:chassis|ticket|booking|{_NUMBERED})\s*[:#]?\s*{_CODE}(?!\s*(?:x|{_PIECES})\b)",
        r"\b(?:reg|registration|kennzeichen)\b(?:\s+(?:no|number))?\W{0,3}(?:[a-z]{1,3}-)?[a-z]{1,3}[\s\-]?\d{1,4}(?:\s?[a-z]{1,3})?(?!\w)",
        r"\b(?:cost\s+cent(?:re|er)|kostenstelle)\b[\s:#.]*(?:\d\w*)?",
        rf"\bpos(?:ition)?\.?\s*\d{{1,3}}(?!\d|\s*(?:{_X}|{_PIECES})\b)",
        r"\b(?:bin|shelf|rack|drawer|location)\s+[a-z]{1,2}-?\d+(?!\w)",
        r"\b(?:postcode|post\s+code|zip|plz)\W{0,3}\w{2,5}(?:\s\w{3})?(?!\w)",
        r"\b(?:our|your|my)\s+(?:ref|reference)\b[\s.:#]*[a-z]{1,4}/[a-z\d]{1,6}(?!\w)",
        rf"\b(?:ref|reference)\b\s*[.:#]*\s*[a-z]*[\-/]?\d[\w/\-]*(?!\s*(?:x|{_PIECES})\b)",
        r"(?:^|(?<=,)|(?<=,\s))(?:p\.?\s?o\.?\s*)?(?:box|postfach|postbus)\s+\d{2,5}(?=\s*(?:,|$))",
        rf"\border\s*[:#]?\s*(?:\d+/\d{{3,}}|\d{{3,}}/\d+)(?!\w|\s*(?:{_X}|{_PIECES})\b)",
        rf"\b(?:(?:vat|eori|ust|iban)\b[\s.\-]*{_OFFICIAL}*|(?:tax|company)\b[\s.\-]*{_OFFICIAL}+){_OF_OFFICES}",
    ),
    "odd_amount": (
        rf"(?<={_PART}\s)(?:item|article|artikel|part|art)\s+\d{{1,4}}(?!\d)",
        rf"{_ALONE}{_NUMBER}\s*-?(?:{words.OF_NO_SIZE})(?=\s+(?:of\s+)?(?:the\s+|our\s+|your\s+)?{_PART})",
        rf"{_ALONE}{_NUMBER}\s*kg(?![a-z0-9/])",
    ),
    "nothing_percent": (rf"{_NUMBER}\s*(?:%|percent\b)", rf"{_ALONE}{_NUMBER}\s*-?(?:{words.OF_NO_SIZE})(?![a-z0-9/])"),
    "money": (
        rf"\b(?:unit\s+|list\s+|einzel|stuck|listen)?(?:price|cost|preis)\s*[:=]?\s*(?:{_CURRENCY}\s*)?\d+[.,]\d\d(?!\d)(?:\s*{_CURRENCY})?(?:\s*{_A_PIECE})?",
        rf"(?:\beach\s+(?:at\s+)?)?(?:{_CURRENCY}|@|\bat\s+(?={_DECIMAL})|\bzu(?:\s+je)?\s+(?=\d+[.,]\d\d(?!\d)))\s*-?\d[\d.,']*-?(?:\s*{_CURRENCY}(?!\s*\d))?(?:\s*{_A_PIECE})?",
        rf"{_ALONE}\d+[.,]\d\d\s*{_A_PIECE}",
        r"\bat\s+\d+\s+(?:each|apiece)\b",
        rf"{_ALONE}\d[\d.,']*\s*{_CURRENCY}(?!\s*\d)(?:\s*{_A_PIECE})?",
        rf"{_ALONE}\d+[.,]-+",
    ),
    "odd_sign": (
        r"\b\d*(?:1st|2nd|3rd|[04-9]th|1\dth)\b",
        rf"(?!\d+[.,]00?\s*(?:{_PIECES}|{_X}\s*{_PART})){_DECIMAL}\s*(?:{_X}|{_PIECES})(?![a-z0-9])(?!\s*{_DECIMAL})",
        rf"(?<![a-z0-9]){_X}\s*{_DECIMAL}",
        r"(?<!\w)-\d[\d.,]*",
        r"(?<![\ue100-\uf8ff\-=])[~<>\u2264\u2265\u00b1]=?\s*\d[\d.,]*",
        rf"(?<![a-z] )(?<!\d)\d+\s+-\s+\d+(?=\s*{_PIECES}\b)",
        rf"(?!\d+\s+-\s+\d+\s*{_PIECES}\b)\d+\s*(?:-|\.\.+|to|bis)\s*\d+(?!\d|[.,]\d\d(?!\d))(?!\s*(?:k?pa|bar|mm|in)\b)",
        r"\d+(?:\s*\?|\+|\s+\+(?=\s*$))(?!\w)",
        r"#\s*\d+",
        rf"(?<=[:|;\t])\s*-+\s*$|(?<={_PART})[\s.]*(?:[:=\-]+|[:=\-]*\s*{_X}[\s\-_.]*|\.{{4,}}|[\s:=\-]+[|/]+)\s*$",
        r"\bn/a\b|\bby\s+the\s+(?:met(?:re|er)|foot|yard|roll|box|pack|hundred|dozen|kilo)\b",
        rf"\b(?:{words.QUANTITY_NAMES})\s*[:=]\s*(?=[;|,\t]|$)|^\s*[\-.]{{2,}}\s*(?:{_X}|{_PIECES})(?=\s*{_PART})",
        ODD,
        r"\d{1,3}(?:[.,'\u2019 ]\d{3})+(?!\d)",
        r"\b0\d+\b(?<!\b0[1-9])",
    ),
    "size": (
        rf"\bm\d{{1,2}}(?:\s*x\s*{_NUMBER})*(?!\w)",
        r"\bsize\s*-?\s*\d+(?:[./]\d+)?(?!\w)",
        rf"{_ALONE}\d+(?:\s+\d+)?/\d+(?:\s*(?:in|inch|inches)\b|\s*\")?(?!\d)",
        rf"{_ALONE}{_NUMBER}\s*(?:-|to|bis)\s*{_NUMBER}\s*{_UNIT}",
        rf"{_ALONE}{_NUMBER}(?:\s*x\s*{_NUMBER})*\s*-?{_UNIT}(?:\s*each\b)?",
        rf"{_DECIMAL}(?:\s*x\s*{_DECIMAL})+",
    ),
    "bracketed": (r"\(\s*(?P<n1>\d{1,7})\s*\)", r"\[\s*(?P<n2>\d{1,7})\s*\]"),
    "mark_after": (
        rf"{_ALONE}(?P<n3>\d{{1,7}})(?:{_WHOLE}\s*|-)(?:{_X}(?=\s+{_SUM}(?![\s\d]*[a-z]))|{_X}(?![a-z0-9]|[.,]\d|\s*\d)|{_PIECES}\b\.?|er\b)",
        r"(?<![\w/\-.,])(?P<n7>\d{1,4})(?:no\b\.?|\s?no\.(?=\s*[^\W\d]|\s*[\ue100-\uf8ff)\],;:]|\s*$))",
    ),
    "mark_x": (rf"(?<![a-z0-9]){_X}\s*(?P<n4>\d{{1,7}}){_ENDS}(?!\s*(?:dozen|pair)\b)",),
    "mark_named": (
        rf"\b(?:{words.QUANTITY_NAMES})\s*[:=]?\s*(?P<n8>\d{{1,7}})[.,]00?(?![.,]?\d)(?!\w)",
        rf"\b(?:{words.QUANTITY_NAMES}|(?!(?:off|each|ea|unit(?=\s+\d))\b){_PIECES})(?![a-z])\s*\.?\s*[:=]?\s*(?P<n5>\d{{1,7}}){_ENDS}",
    ),
    "mark_word": (
        rf"\b(?P<w>{_WORDS_THAT_COUNT})\b(?!-(?!{_PIECES}\b)[a-z])(?:\s*(?:{_X}|{_PIECES})(?![a-z0-9]))?(?:\s+of\b)?",
    ),
    "decimal": (_DECIMAL,),
    "plain": (rf"{_ALONE}(?P<n6>\d{{1,9}})(?!\w|[\-/][a-z])",),
    "odd": (r"\d+(?:st|nd|rd|th)\b|\d+",),
    "word": (r"[^\W\d_]+(?:'[^\W\d_]+)?",),
    "sign": (r"\S|[ \t]+",),
}
"""What each piece may look like. Of several that begin at a place, the first counts."""
_LABELLED = re.compile(
    "|".join(
        form
        for name in (*("nothing_date", "nothing_time", "nothing_phone", "nothing_label", "nothing_percent", "money"),)
        for form in _FORMS[name]
    )
)
_SCANNED = re.compile("|".join(f"(?P<{name}>{'|'.join(forms)})" for name, forms in _FORMS.items()))
_KINDS: dict[str, Kind] = {
    "odd_amount": "odd",
    "odd_sign": "odd",
    "bracketed": "mark",
    "mark_after": "mark",
    "mark_x": "mark",
    "mark_named": "mark",
    "mark_word": "mark",
    "counter": "position",
    "day": "day",
    "part": "part",
    "position": "position",
    "money": "money",
    "size": "size",
    "decimal": "decimal",
    "plain": "plain",
    "odd": "odd",
    "word": "word",
    "sign": "sign",
}
_NUMBERS = ("n1", "n2", "n3", "n4", "n5", "n6", "n7", "n8")
_FIGURE = re.compile(r"\d+")
_WORD = re.compile(r"[a-z]+")
_UNIT_WORDS = {
    "inch": "in",
    "inches": "in",
    "microns": "micron",
    "degree": "deg",
    "degrees": "deg",
    "metre": "m",
    "metres": "m",
    "meter": "m",
}
_NO_UNITS = frozenset({"x", "size", "to", "bis", "each"})
_MEASURE = re.compile(r"(?<![a-z])m\d+(?!\d)|\d+(?:[.,/]\d+)?")
_IN_METRES = re.compile(r"\d\s*(?:m|met(?:re|er)s?)(?![a-z0-9])")
_SUM_OF_ROW = re.compile(
    r"(?<!\d)(?<!\d[.,])(?<![\d.,] )(\d{1,4}(?:[.,]\d\d)?)(?:[ \t]+|,)(\d{1,4}(?:[.,]\d\d)?)"
    r"(?:[ \t]+|,)(\d+[.,]\d\d)(?!\d)"
)
"""A quantity, a price and a sum, or a price, a quantity and a sum, apart by spaces or commas."""
_COUNTED_CELLS = re.compile(rf"(?<={_PART}),(\d{{1,4}}),(?=\d+\.\d\d(?:,|$))")
"""A quantity between its part and a price, apart by commas."""
_BEGINS_COUNTED = re.compile(rf"^\s*\d{{1,4}}[.)\s]+(?={_PART})")
_METRES = "metres"
_THOUSANDS = re.compile(r"\d{1,3}(?:[.,'\u2019 ]\d{3})+")
_BROKEN = re.compile(r"(\d+)[.,](\d+)")
_DOZEN, _PAIR = 12, 2
MOST_OFFERED = 10_000
"""Quantities above are not offered as a choice."""


def measures_of(text: str) -> frozenset[str]:
    """The numbers of a folded text as measures have them: fractions and threads whole, decimals by either habit.

    With them is what tells that something is so many metres long, which the letter of a thread does not.
    """
    metres = {_METRES} if _IN_METRES.search(text) else set()
    return frozenset(_measure(found) for found in _MEASURE.findall(text)) | metres


def _measure(text: str) -> str:
    whole, point, broken = text.replace(",", ".").partition(".")
    return f"{whole}.{broken}".rstrip("0").rstrip(".") if point else text


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a row. `value`: the quantity that it tells; `part`: which of the row's parts it stands for;
    `offers`: the quantities that a doubtful number may be."""

    kind: Kind
    text: str
    form: str
    value: int = 0
    part: int = -1
    offers: tuple[int, ...] = ()

    @property
    def is_quantity(self) -> bool:
        return self.kind in ("mark", "plain")

    def is_size_of(self, own_words: frozenset[str], own_measures: frozenset[str]) -> bool:
        """Whether a size is one of a part's own: its numbers and its units."""
        units = {_UNIT_WORDS.get(word, word) for word in _WORD.findall(self.text)}
        unknown = units - _NO_UNITS - own_words
        is_unit = not unknown or unknown <= {_UNIT_WORDS.get(word, "") for word in own_words}
        return is_unit and measures_of(self.text) <= own_measures


@lru_cache(maxsize=4_096)
def pieces_of(text: str) -> tuple[Piece, ...]:
    """The pieces of a folded row, in which each part is one sign from FIRST_PART on. Kept: many rows are alike."""
    return tuple(map(_piece, _SCANNED.finditer(text)))


def told_sums(text: str) -> str:
    """A row whose quantity, price and sum stand apart by spaces or commas alone, each said to be what it is."""
    text = _COUNTED_CELLS.sub(r";\1;", text)
    found = _SUM_OF_ROW.search(text)
    told = _told_sum(found) if found else ""
    if not found or told == found[0]:
        return text
    return _BEGINS_COUNTED.sub("", text[: found.start()]) + told + text[found.end() :]


def _told_sum(found: "re.Match[str]") -> str:
    first, second, total = found.groups()
    price, qty = (first, second) if second.isdigit() else (second, first)
    cents, sum_cents = (int(re.sub(r"\D", "", money)) for money in (price, total))
    is_told = qty.isdigit() and not price.isdigit() and int(qty) * cents == sum_cents
    return f"{qty} pcs @ {price} @ {total}" if is_told else found[0]


def labelled_spans(text: str) -> list[tuple[int, int]]:
    """Where a folded text tells a price, a date, a telephone number, the number of an invoice: no part is called so."""
    return [found.span() for found in _LABELLED.finditer(text)]


def _piece(found: "re.Match[str]") -> Piece:
    form = found.lastgroup or "sign"
    text = found[0]
    if form == "part":
        return Piece("part", text, form, part=ord(text) - FIRST_PART)
    kind = _KINDS.get(form, "nothing")
    value = _value(found) if kind in ("mark", "plain") else 0
    if kind == "odd" or (kind in ("mark", "plain") and not 1 <= value <= words.MOST_QTY):
        return Piece("odd", text, form, offers=_offers(text))
    if form == "counter":
        value = int(_FIGURE.findall(text)[0])
    return Piece(kind, text, form, value)


def _value(found: "re.Match[str]") -> int:
    word = found["w"]
    if word is not None:
        last = word.split()[-1].rstrip(".")
        return {"dozen": _DOZEN, "doz": _DOZEN, "dz": _DOZEN, "pair": _PAIR}.get(last) or words.NUMBERS[last]
    return next(int(found[name]) for name in _NUMBERS if found[name] is not None)


def _offers(text: str) -> tuple[int, ...]:
    """The quantities that a number may be that is broken, a range, too large or written in two habits."""
    figures = [int(one) for one in _FIGURE.findall(text)]
    if _THOUSANDS.search(text):
        figures = [figures[0], int("".join(_FIGURE.findall(text)))]
    elif broken := _BROKEN.search(text):
        figures = [int(broken[1]), int(broken[1]) + (int(broken[2]) > 0)]
    return tuple(dict.fromkeys(one for one in figures if 1 <= one <= MOST_OFFERED))
