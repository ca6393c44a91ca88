"""The revisions at hand: the newest answers, old ones on request, each read and compiled once."""

import gc
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier, Event
from time import monotonic, sleep
from weakref import ref

import pytest

from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.domain.work import Meter, metered
from service.storage.engine import Database
from service.storage.errors import DamagedRevisionError
from service.usecases.edition import Edition, Preparation
from service.usecases.errors import NoCatalogError, NotFoundError
from service.usecases.find_bills import find_bills
from service.usecases.library import KEPT_EDITIONS, Library
from service.usecases.long_work import LongWorkError, briefly
from tests.support.catalogs import changed, small_catalog
from tests.usecases.counting_store import CountingStore

ASKED = {"chassis": "brook", "layout": "factory"}
THREADS = 16
PATIENCE_S = 20


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


class HeldStore(CountingStore):
    """A store that reads a revision of these numbers only once it is let."""

    def __init__(self, database: Database, *held: int) -> None:
        super().__init__(database)
        self.held = set(held)
        self.reading = Event()
        self.let = Event()

    def load(self, number: int) -> Catalog:
        if number in self.held:
            self.reading.set()
            assert self.let.wait(PATIENCE_S)
        return super().load(number)


@pytest.fixture(name="held")
def _held(store: CountingStore) -> Iterator[HeldStore]:
    """Revision 2 is read only once it is let."""
    opened = HeldStore(store._database, 2)
    yield opened
    opened.let.set()


def _until(holds: Callable[[], bool]) -> None:
    until = monotonic() + PATIENCE_S
    while not holds():
        assert monotonic() < until
        sleep(0.005)


def test_the_newest_answers_while_an_old_one_is_opened(held: HeldStore) -> None:
    """Nobody who asks the newest waits for the lock of another edition."""
    library = Library(held)
    for number in (1, 2, 3):
        library.publish(priced(number * 1000))
    assert price(library) == (3, 6900)
    with ThreadPoolExecutor(1) as threads:
        old = threads.submit(price, library, 2)
        assert held.reading.wait(PATIENCE_S)
        assert price(library) == (3, 6900)
        assert price(library, 1) == (1, 4900)
        held.let.set()
        assert old.result(PATIENCE_S) == (2, 5900)


def test_a_new_revision_is_opened_beside_the_one_in_use(held: HeldStore) -> None:
    """It answers once it is ready, and the one before it until then; it is read once, whoever asks meanwhile."""
    library = Library(held, opens_beside=True)
    library.publish(priced(1000))
    assert price(library) == (1, 4900)
    library.publish(priced(2000))
    for _ in range(5):
        assert price(library) == (1, 4900)
    assert held.reading.wait(PATIENCE_S)
    assert price(library) == (1, 4900)
    held.let.set()
    _until(lambda: library.edition().number == 2)
    assert price(library) == (2, 5900)
    assert price(library, 1) == (1, 4900)
    assert dict(held.loads) == {1: 1, 2: 1}


def test_the_store_is_left_alone_while_a_new_revision_is_opened(held: HeldStore) -> None:
    """Whoever asks meanwhile is answered from what is at hand, for as long as the store was asked lately."""
    library = Library(held, opens_beside=True, fresh_s=PATIENCE_S)
    library.publish(priced(1000))
    assert price(library) == (1, 4900)
    library.publish(priced(2000))
    assert library.at_hand() is None
    assert price(library) == (1, 4900)
    assert held.reading.wait(PATIENCE_S)
    at_hand = library.at_hand()
    assert at_hand is not None
    assert at_hand.number == library.newest_at_hand() == 1
    held.let.set()
    _until(lambda: library.newest_at_hand() == 2)


def test_a_revision_that_takes_long_to_prepare_is_prepared_once(
    store: CountingStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However often it is asked for meanwhile: a little before it answers, the rest beside its first answers."""
    prepared: list[int] = []
    let = Event()

    class Slow(Preparation):
        def begin(self) -> None:
            prepared.append(self._edition.number)
            let.wait(PATIENCE_S)

        finish = begin

    monkeypatch.setattr("service.usecases.library.Preparation", Slow)
    library = Library(store, opens_beside=True)
    library.publish(priced(1000))
    assert price(library) == (1, 4900)
    library.publish(priced(2000))
    for _ in range(3):
        assert price(library) == (1, 4900)
        _until(lambda: bool(prepared))
        library._not_before = 0.0
    assert prepared == [2]
    let.set()
    _until(lambda: library.edition().number == 2)
    _until(lambda: prepared == [2, 2])


def test_a_new_revision_that_cannot_be_opened_leaves_the_one_in_use(
    store: CountingStore, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The log has why; a while later it is tried again."""
    library = Library(store, opens_beside=True)
    library.publish(priced(1000))
    assert price(library) == (1, 4900)
    library.publish(priced(2000))
    with monkeypatch.context() as broken:

        def damaged(number: int) -> Catalog:
            raise DamagedRevisionError(number, "spoilt")

        broken.setattr(store, "load", damaged)
        assert price(library) == (1, 4900)
        _until(lambda: "damaged-revision" in caplog.text)
    assert price(library) == (1, 4900)
    assert store.loads[2] == 0
    library._not_before = 0.0
    _until(lambda: library.edition().number == 2)


def test_an_old_revision_is_not_opened_among_short_work(library: Library, store: CountingStore) -> None:
    """It is asked for anew where work may take long. The newest, one at hand, and one that is not there need no turn
    there."""
    library.publish(priced(1000))
    with briefly():
        assert library.edition().number == 2
        with pytest.raises(LongWorkError):
            library.edition(1)
        with pytest.raises(NotFoundError):
            library.edition(3)
    assert store.loads[1] == 0
    library.edition(1)
    with briefly():
        assert library.edition(1).number == 1


def test_opening_is_not_on_the_meter_of_who_asks(library: Library) -> None:
    """A question takes the same steps whether or not its edition is there, and may leave in the midst of opening."""
    meter = Meter(0)
    with metered(meter):
        library.edition()
    assert meter.spent == 0
    library.publish(priced(1000))
    meter.abandon()
    with metered(meter):
        assert library.edition().number == 2


def test_old_editions_are_kept_by_their_size(empty_library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """One is kept however large it is."""
    monkeypatch.setattr("service.usecases.library.MOST_OLD_ITEMS", 2 * len(small_catalog()["items"]))
    for number in range(1, 6):
        empty_library.publish(priced(number * 1000))
    empty_library.edition()
    for number in range(1, 5):
        empty_library.edition(number)
    assert list(empty_library._old) == [3, 4]
    monkeypatch.setattr("service.usecases.library.MOST_OLD_ITEMS", 1)
    empty_library.edition(1)
    assert list(empty_library._old) == [1]


def test_an_edition_that_is_let_go_of_is_collected(store: CountingStore) -> None:
    """Though it was hidden from the garbage collector while it was in use."""
    library = Library(store, opens_beside=True)
    engines = []
    for number in range(1, KEPT_EDITIONS + 2):
        library.publish(priced(number * 1000))
        _until(lambda number=number: library.edition().number == number)
        price(library)
        engines.append(ref(library.edition().engine))
    _until(lambda: engines[0]() is None)
    assert None not in [engine() for engine in engines[1:]]
    gc.unfreeze()
