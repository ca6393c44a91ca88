"""The languages besides English: messages from gettext files, numbers and amounts as Babel has them, names from the
catalog. A language is another `messages/TAG.po` beside this module, and the catalog's word that it is spoken.
"""

from collections.abc import Callable
from decimal import Decimal
from functools import cache
from gettext import GNUTranslations, NullTranslations
from io import BytesIO
from pathlib import Path
from typing import NamedTuple

from service.domain.parts import OWN_RAIL_NAME
from service.domain.revision import Revision, SecondLanguage
from service.domain.tongue import WORD, Left, Tongue

MESSAGES = Path(__file__).parent / "messages"


class _Speech(NamedTuple):
    """What is known of a language, whatever the catalog; `is_whole`: every message is there."""

    messages: NullTranslations
    is_whole: bool
    decimal: str
    priced: Callable[[int, str, int], str]


def tongue_of(revision: Revision) -> Tongue | None:
    """The second language of a catalog, ready to be spoken; None: it has none."""
    return revision.once(_tongue)


def _tongue(revision: Revision) -> Tongue | None:
    return None if revision.second is None else _spoken(revision.second)


def _spoken(second: SecondLanguage) -> Tongue:
    speech = _speech(second.tag)
    names, left = second.told
    own_rail = speech.messages.pgettext(WORD, OWN_RAIL_NAME)
    return Tongue(
        tag=second.tag,
        messages=speech.messages,
        names={OWN_RAIL_NAME: own_rail, **names},
        left=Left(left, has_messages=speech.is_whole),
        decimal=speech.decimal,
        priced=speech.priced,
    )


@cache
def _speech(tag: str) -> _Speech:
    """What is known of a language, or of the one that it is a form of: of de-AT what is known of de."""
    from babel import Locale, UnknownLocaleError, numbers
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    try:
        locale = Locale.parse(tag, sep="-")
    except (UnknownLocaleError, ValueError):
        locale = Locale("en")

    def priced(minor_units: int, currency: str, decimals: int) -> str:
        pattern = "#,##0.00 ¤¤" if decimals else "#,##0 ¤¤"
        amount = Decimal(minor_units).scaleb(-decimals)
        shown = pattern.replace("00", "0" * decimals) if decimals else pattern
        return numbers.format_currency(amount, currency, shown, locale=locale, currency_digits=False)

    messages: NullTranslations = NullTranslations()
    is_whole = False
    file = next((path for one in (tag, tag.partition("-")[0]) if (path := MESSAGES / f"{one}.po").is_file()), None)
    if file is not None:
        with file.open("rb") as text:
            catalog = read_po(text, locale=locale)
        packed = BytesIO()
        write_mo(packed, catalog)
        packed.seek(0)
        messages = GNUTranslations(packed)
        is_whole = all(message.string for message in catalog if message.id)
    return _Speech(messages, is_whole, numbers.get_decimal_symbol(locale), priced)
