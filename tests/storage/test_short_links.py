"""Short links: one code a key, whatever comes in between."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from threading import Barrier

import pytest

from service.storage.engine import Database, open_database
from service.storage.errors import RowsRefusedError
from service.storage.short_links import ShortLinkStore

LONG = "1" + "k" * 39_999


@pytest.fixture(name="links")
def _links(database: Database) -> ShortLinkStore:
    return ShortLinkStore(database)


@pytest.mark.parametrize("key", ["1a", LONG])
def test_a_key_is_kept_once(links: ShortLinkStore, key: str, empty_url: str) -> None:
    """Under its first code for good, however long the key is; also seen by a store that is opened later."""
    assert links.save(key, ["abc", "abcd"]) == ("abc", True)
    assert links.save(key, ["abc", "abcd"]) == ("abc", False)
    assert links.save(key, ["other"]) == ("abc", False)
    with closing(open_database(empty_url)) as later:
        assert ShortLinkStore(later).key("abc") == key


def test_a_code_that_is_taken_is_passed_over(links: ShortLinkStore) -> None:
    """The next one is given; where none is left nothing is kept."""
    links.save("1a", ["abc"])
    assert links.save("1b", ["abc", "abcd"]) == ("abcd", True)
    assert links.save("1b", ["abc", "abcd"]) == ("abcd", False)
    assert (links.key("abc"), links.key("abcd")) == ("1a", "1b")
    with pytest.raises(RowsRefusedError):
        links.save("1c", ["abc", "abcd"])


@pytest.mark.parametrize("code", ["", "nothing", "%", "ABC", "' OR 1"])
def test_other_codes_stand_for_nothing(links: ShortLinkStore, code: str) -> None:
    """By every sign."""
    links.save("1a", ["abc"])
    assert links.key(code) is None


def test_of_several_at_once_each_key_has_one_code(links: ShortLinkStore, empty_url: str) -> None:
    """Workers with two keys and the same codes: each key has one, and no two the same."""
    together = Barrier(4)

    def save(number: int) -> tuple[str, str]:
        with closing(open_database(empty_url)) as own:
            together.wait()
            return f"1{number % 2}", ShortLinkStore(own).save(f"1{number % 2}", ["abc", "abcd", "abcde"])[0]

    with ThreadPoolExecutor(4) as workers:
        given = set(workers.map(save, range(4)))
    assert len(given) == len({code for _, code in given}) == 2
    assert all(links.key(code) == key for key, code in given)
