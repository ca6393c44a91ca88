"""Short links: the code of a key comes from the key alone, and is read as people write it."""

import re
from itertools import pairwise

import pytest

from service.documents.request import BillRequest
from service.storage.short_links import ShortLinkStore
from service.usecases.errors import NotFoundError
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.usecases.short_link import ALPHABET, LONGEST, SHORTEST, ShortLinks, codes_of
from tests.usecases.counting_store import CountingStore


@pytest.fixture(name="store_of_links")
def _store_of_links(store: CountingStore) -> ShortLinkStore:
    return ShortLinkStore(store._database)


@pytest.fixture(name="links")
def _links(library: Library, store_of_links: ShortLinkStore) -> ShortLinks:
    return ShortLinks(library, store_of_links)


@pytest.fixture(name="keys")
def _keys(library: Library) -> list[str]:
    bills = find_bills(library, BillRequest.model_validate({"chassis": "brook", "layout": "hose-centre"}))["bills"]
    return [bill["key"] for bill in bills]


def test_codes_come_of_the_key_alone() -> None:
    """Each is the beginning of the next, of signs that are told apart; this one stays for ever."""
    codes = list(codes_of("1abc"))
    assert codes[0] == "az5sg3j1"
    assert [len(code) for code in codes] == list(range(SHORTEST, LONGEST + 1))
    assert all(longer.startswith(code) for code, longer in pairwise(codes))
    assert set("".join(codes)) <= set(ALPHABET)
    assert not set("ilou") & set(ALPHABET)


def test_codes_of_many_keys_differ() -> None:
    """As far as chance goes: of ten thousand no two are alike."""
    assert len({next(codes_of(f"1{number}")) for number in range(10_000)}) == 10_000


def test_a_bill_is_linked_once(links: ShortLinks, keys: list[str]) -> None:
    """The same code again, and the key by it."""
    code, is_new = links.link(keys[0])
    assert is_new
    assert re.fullmatch(r"[0-9a-z]{8}", code)
    assert links.link(keys[0]) == (code, False)
    assert links.key_of(code) == keys[0]


def test_a_code_is_read_as_it_is_written(links: ShortLinks, store_of_links: ShortLinkStore) -> None:
    """In capitals, and with the letters that are taken for figures."""
    store_of_links.save("1a", ["01abcdef"])
    for written in ("01abcdef", "01ABCDEF", "oIabcdef", "OLabcdef"):
        assert links.key_of(written) == "1a"


def test_a_code_that_another_key_has_is_lengthened(
    links: ShortLinks, store_of_links: ShortLinkStore, keys: list[str]
) -> None:
    """By one sign."""
    first, second, *_ = codes_of(keys[0])
    store_of_links.save("another", [first])
    assert links.link(keys[0]) == (second, True)
    assert links.key_of(second) == keys[0]
    assert links.key_of(first) == "another"


@pytest.mark.parametrize("key", ["", "none", "1", "\ud800"])
def test_what_is_no_bill_gets_no_link(links: ShortLinks, key: str) -> None:
    """So nothing is kept but bills."""
    with pytest.raises(NotFoundError, match="bill"):
        links.link(key)


@pytest.mark.parametrize("code", ["", "abc", "g4tnvax0", "u" * 8, "a" * 25, "\0" * 8, "\ud800" * 8, "\u0130" * 8])
def test_unknown_codes(links: ShortLinks, code: str) -> None:
    """Are told as they were given."""
    with pytest.raises(NotFoundError) as refused:
        links.key_of(code)
    assert (refused.value.kind, refused.value.value) == ("short link", code)
