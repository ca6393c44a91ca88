"""An order that is held against one very bill: its key as people paste it, and the edition that the bill is of."""

from collections.abc import Mapping
from urllib.parse import unquote, urlsplit

from service.usecases.errors import NotFoundError
from service.usecases.library import Edition, Library
from service.usecases.recall_bill import Recalled, edition_of_key, held_by, recall_in
from service.web.errors import ParameterFault

FIELD = "key"
_BILLS = "/bills/"


def key_in(told: str) -> str:
    """The key in what somebody pasted: as it is, or in the address of a page of its bill."""
    path = urlsplit(told.strip()).path if _BILLS in told else ""
    return unquote(path.partition(_BILLS)[2].partition("/")[0]) or told.strip()


def edition_for(library: Library, fields: Mapping[str, str]) -> Edition:
    """The edition that judges an order: that of the bill which it is held against, else the newest."""
    try:
        return edition_of_key(library, fields[FIELD]) if FIELD in fields else library.edition()
    except NotFoundError:
        return library.edition()


def bill_held(edition: Edition, fields: Mapping[str, str]) -> tuple[Recalled | None, list[ParameterFault]]:
    """The bill that an order is held against; nothing where it is held against none, a fault where there is no such."""
    if FIELD not in fields:
        return None, []
    key = fields[FIELD]
    try:
        held = held_by(key)
        if held.revision == edition.number:
            return recall_in(edition, held, key), []
    except NotFoundError:
        pass
    return None, [ParameterFault(FIELD, key, "the key of a bill, or the address of its page")]
