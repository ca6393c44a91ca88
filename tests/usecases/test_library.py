"""The revisions at hand: the newest answers, old ones on request, each read and compiled once."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest

from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.usecases.errors import NoCatalogError, NotFoundError
from service.usecases.find_bills import find_bills
from service.usecases.library import KEPT_EDITIONS, Edition, Library
from tests.support.catalogs import changed, small_catalog
from tests.usecases.counting_store import CountingStore

ASKED = {"chassis": "brook", "layout": "factory"}
THREADS = 16


def priced(price: int) -> Catalog:
    """The small catalog with that price on the rail; the rest of a factory-line bill costs 3900."""
    return Catalog.model_validate(changed(small_catalog(), {"/items/0/price": price}))


def price(library: Library, revision: int | None = None) -> tuple[int, int]:
    """Revision and price of the best bill."""
    found = find_bills(library, BillRequest.model_validate(ASKED | {"revision": revision}))
    return found["revision"], found["bills"][0]["price"]


def test_newest_answers(empty_library: Library) -> None:
    """Each published catalog answers from then on, in the same library."""
    for number in (1, 2, 3):
        assert empty_library.publish(priced(number * 1000)) == (number, True)
        assert empty_library.edition().number == number
        assert price(empty_library) == (number, number * 1000 + 3900)


def test_old_revision_on_request(empty_library: Library) -> None:
    """An old revision answers with its own prices when it is asked for."""
    empty_library.publish(priced(1000))
    empty_library.publish(priced(2000))
    assert price(empty_library, 1) == (1, 4900)
    assert price(empty_library, 2) == (2, 5900)
    assert price(empty_library) == (2, 5900)


def test_equal_catalog_makes_no_new_revision(empty_library: Library) -> None:
    """The newest catalog again, read afresh, changes nothing."""
    assert empty_library.publish(priced(1000)) == (1, True)
    assert empty_library.publish(priced(1000)) == (1, False)
    assert empty_library.edition().number == 1


def test_going_back_is_a_new_revision(empty_library: Library) -> None:
    """A catalog equal to an older revision, but not to the newest, is published again."""
    for number, cents in enumerate((1000, 2000, 1000), start=1):
        assert empty_library.publish(priced(cents)) == (number, True)


def test_order_of_items_makes_a_new_revision(empty_library: Library) -> None:
    """A catalog is a document: the same items in another order are another one."""
    catalog = small_catalog()
    empty_library.publish(Catalog.model_validate(catalog))
    catalog["items"].reverse()
    assert empty_library.publish(Catalog.model_validate(catalog)) == (2, True)


def test_progress_is_told(empty_library: Library) -> None:
    """Publishing tells rows written and rows in all, up to the last."""
    told: list[tuple[int, int]] = []
    empty_library.publish(priced(1000), progress=lambda done, total: told.append((done, total)))
    assert told == sorted(told)
    assert told[-1][0] == told[-1][1] > 0


@pytest.mark.parametrize("number", [2, 2**31 - 1, 2**63, 0, -1])
def test_unknown_revision(library: Library, number: int) -> None:
    """A number that no revision has is an error that says it."""
    with pytest.raises(NotFoundError) as refused:
        library.edition(number)
    assert (refused.value.kind, refused.value.value) == ("revision", str(number))


def test_unknown_revision_may_come(library: Library) -> None:
    """A number asked for too early works once it is published."""
    with pytest.raises(NotFoundError):
        library.edition(2)
    library.publish(priced(1000))
    assert library.edition(2).number == 2


def test_no_catalog(empty_library: Library) -> None:
    """Before the first import there is nothing to answer from."""
    with pytest.raises(NoCatalogError):
        empty_library.edition()
    with pytest.raises(NoCatalogError):
        find_bills(empty_library, BillRequest.model_validate(ASKED))


def test_another_library_on_the_store(library: Library, store: CountingStore) -> None:
    """What one library publishes, another one on the same database answers from."""
    other = Library(store)
    assert price(other) == (1, 22800)
    library.publish(priced(1000))
    assert price(other) == (2, 4900)


def test_an_edition_is_kept(library: Library, store: CountingStore) -> None:
    """Asked for again, by number or as the newest, a revision is not read again."""
    first = library.edition()
    assert library.edition(1) is first
    assert library.edition().engine is first.engine
    assert store.loads[1] == 1


def test_few_editions_are_kept(empty_library: Library, store: CountingStore) -> None:
    """The one that was not asked for longest makes room; it is read again when asked for again."""
    numbers = range(1, KEPT_EDITIONS + 2)
    for number in numbers:
        empty_library.publish(priced(number * 1000))
    store.loads.clear()
    for number in (*numbers, KEPT_EDITIONS + 1, 1):
        assert price(empty_library, number) == (number, number * 1000 + 3900)
    assert dict(store.loads) == {1: 2} | dict.fromkeys(numbers[1:], 1)


def test_many_threads_open_one_edition(library: Library, store: CountingStore) -> None:
    """Threads that ask at the same moment get one edition, read and compiled once, and the same answer."""
    together = Barrier(THREADS)

    def ask(index: int) -> tuple[Edition, int, int, tuple[int, int]]:
        together.wait(timeout=10)
        edition = library.edition(1 if index % 2 else None)
        return edition, id(edition.revision), id(edition.engine), price(library)

    with ThreadPoolExecutor(THREADS) as threads:
        found = list(threads.map(ask, range(THREADS)))
    assert found == [found[0]] * THREADS
    assert found[0][3] == (1, 22800)
    assert store.loads[1] == 1


def test_threads_ask_while_another_publishes(library: Library) -> None:
    """Every answer is whole: the price belongs to the revision that it names."""

    def publish(number: int) -> None:
        library.publish(priced(number * 1000))

    with ThreadPoolExecutor(4) as threads:
        publishing = threads.submit(lambda: [publish(number) for number in (2, 3, 4)])
        answers = [threads.submit(price, library) for _ in range(40)]
        seen = {answer.result(timeout=30) for answer in answers}
        publishing.result(timeout=30)
    assert seen <= {(1, 22800), (2, 5900), (3, 6900), (4, 7900)}
    assert price(library) == (4, 7900)
