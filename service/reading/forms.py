"""Lines of an order that tell nothing of its parts: fields of forms, titles of carts, sums, disclaimers."""

import re

from service.reading import words
from service.reading.row import Row

_CART = re.compile(
    r"\W*(?:(?:your|my|our|the)\s+)?(?:(?:shopping|web)\s*-?\s*)?(?:cart|basket|bag|warenkorb|panier|winkelwagen)\b"
    r"(?:\W+(?:contents?|items?|summary|\d+\s+(?:items?|articles?|products?|artikel|positionen)|"
    r"\(?\d+\)?))?\W*"
)
"""What heads a cart that was pasted."""
_FORM = re.compile(
    r"\W*(?:order\s+)?(?:date|datum)\b\s*:?\s*\d[\d./\-]*\W*$|"
    r"\W*(?:(?:ship|deliver|send|bill|invoice|sold|liefern|lieferung|rechnung)\s*-?\s*(?:to|an)|lieferadresse|rechnungsadresse)\s*:"
    r"(?!.*\b(?:if|unless|when|once|until|only|not|hold|wait|cancel\w*|don't)\b)\s*\S|"
    r"\W*(?:(?:delivery|shipping|liefer)[\s\-]*(?:wish|window|date|day|address|instructions?)?|name|company|firm|firma|contact|"
    r"customer|account|phone|telephone|tel|mobile|e-?mail|address|city|town|country|payment|vat(?:\s+(?:id|no))?|"
    r"how\s+did\s+you\s+(?:hear|find)[^:]*)\s*:(?!.*\b(?:if|unless|when|once|until|only|not|hold|wait|cancel\w*|don't)\b)\s*\S"
)
"""A line of a form that tells who orders, and how the order is to come."""
_REFERENCE = re.compile(
    r"\W*(?:(?:our|your|my)\s+)?(?:supplier|vendor|creditor|customer|client|cust|dealer|partner|member(?:ship)?|account|"
    r"order|po|vat|tax|job|project|contract|cost\s+cent(?:re|er)|department)\s*-?\s*(?:no|nr|num|number|id|code)\b[\s.:#]*"
    r"[a-z]{0,3}[\s\-]?\d[\d\s\-/.]*"
)
"""A number by which somebody or a paper is known."""
_DISCLAIMS = re.compile(
    r"\W*(?:this\s+(?:e-?mail|message|mail|communication|transmission)\b.*\b(?:confidential|intended|addressee|privileged)\b|"
    r"if\s+you\s+(?:have\s+)?(?:received|are\s+not\s+the\s+(?:intended|addressee))\b|(?:please\s+)?(?:think|consider)\b.*\bprint|"
    r"see\s+you\b|our\s+(?:bank|address|phone|number|account)\b.*\b(?:has|have|is)\s+(?:changed|new)\b|"
    r"liefer(?:termin|schein|datum)\b(?!.*\b(?:wenn|falls|erst|nicht|nur)\b))"
)
"""What stands below many mails."""


def heads_a_cart(row: Row) -> bool:
    """Whether a row is the title of a cart that was pasted: no part, whatever it comes near to."""
    return bool(_CART.fullmatch(row.folded))


def tells_nothing(row: Row) -> bool:
    """Whether a row is a line of a form, sums up, or disclaims: it tells nothing of those beside it."""
    is_sum = row.words[:1] != [] and row.words[0] in words.SUMS and not row.folded.endswith(":")
    return is_sum or bool(
        _FORM.match(row.folded)
        or heads_a_cart(row)
        or _REFERENCE.fullmatch(row.folded)
        or _DISCLAIMS.match(row.text.lower())
    )
