"""Order checks are kept once and come back word for word; of one idempotency key there is one check."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from threading import Barrier

import pytest

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import RowsRefusedError
from service.storage.order_checks import OrderCheckStore, StoredOrderCheck
from service.storage.revisions import RevisionStore

WORKERS = 4


@pytest.fixture
def checks(database: Database, store: RevisionStore, small: Catalog, noon: datetime) -> OrderCheckStore:
    """A store of checks in a database with one revision."""
    store.add(small, created_at=noon)
    return OrderCheckStore(database)


@pytest.fixture(name="check")
def _check(noon: datetime) -> StoredOrderCheck:
    return StoredOrderCheck(
        id="Xq3vYb0TzLr8mWk2hNc5Ug",
        revision=1,
        request='{"finish":"bleu \\u00e9t\\u00e9"}',
        result='{"text":"\u2265 9 \U0001f600 \\u0000 \'%s\' \\\\", "n": 1.10}\r\n ',
        created_at=noon,
        idempotency_key=None,
        body_digest="0" * 64,
    )


def test_a_check_comes_back_word_for_word(checks: OrderCheckStore, check: StoredOrderCheck, empty_url: str) -> None:
    """Every byte of it, from this store and from one that is opened later."""
    assert checks.save(check) is check
    assert checks.get(check.id) == check
    with closing(open_database(empty_url)) as later:
        assert OrderCheckStore(later).get(check.id) == check


def test_a_moment_comes_back_in_utc(checks: OrderCheckStore, check: StoredOrderCheck, noon: datetime) -> None:
    """Whatever zone it was told in."""
    checks.save(replace(check, created_at=noon.astimezone(timezone(timedelta(hours=9)))))
    kept = checks.get(check.id)
    assert kept is not None
    assert (kept.created_at, kept.created_at.tzinfo) == (noon, UTC)


@pytest.mark.parametrize(
    "id_", ["", "other", "Xq3vYb0TzLr8mWk2hNc5U", "xq3vyb0tzlr8mwk2hnc5ug", "\0", "\ud800", "%", "A" * 9_999, "' OR 1"]
)
def test_what_is_no_id_finds_nothing(checks: OrderCheckStore, check: StoredOrderCheck, id_: str) -> None:
    """Neither a part of an id nor what a database could choke on."""
    checks.save(check)
    assert checks.get(id_) is None


def test_a_key_finds_its_check(checks: OrderCheckStore, check: StoredOrderCheck) -> None:
    """And no other; keys are told apart by every letter."""
    keyed = replace(check, idempotency_key="order-7")
    checks.save(keyed)
    assert checks.of_key("order-7") == keyed
    assert checks.of_key("Order-7") is None


def test_a_key_that_is_taken_gives_what_has_it(checks: OrderCheckStore, check: StoredOrderCheck) -> None:
    """The first stays as it is, and nothing of the second is kept."""
    first = replace(check, idempotency_key="order-7")
    second = replace(first, id="other", result="{}", body_digest="1" * 64)
    assert checks.save(first) is first
    assert checks.save(second) == first
    assert checks.get("other") is None


def test_checks_without_a_key_do_not_meet(checks: OrderCheckStore, check: StoredOrderCheck) -> None:
    """The same check may be kept any number of times."""
    for number in range(3):
        one = replace(check, id=f"check-{number}")
        assert checks.save(one) is one


def test_of_several_with_one_key_one_is_kept(
    checks: OrderCheckStore, check: StoredOrderCheck, empty_url: str, database: Database
) -> None:
    """Workers that keep at the same moment, each with its own connections, all get the same check."""
    together = Barrier(WORKERS)

    def keep(number: int) -> StoredOrderCheck:
        with closing(open_database(empty_url)) as own:
            together.wait()
            return OrderCheckStore(own).save(replace(check, id=f"check-{number}", idempotency_key="order-7"))

    with ThreadPoolExecutor(WORKERS) as workers:
        [kept] = set(workers.map(keep, range(WORKERS)))
    assert checks.of_key("order-7") == kept
    with database.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM order_check").scalar_one() == 1


@pytest.mark.parametrize("wrong", [{"revision": 2}, {"id": "Xq3vYb0TzLr8mWk2hNc5Ug"}], ids=["no revision", "id taken"])
@pytest.mark.parametrize("key", [None, "another"])
def test_what_the_table_does_not_take_is_refused(
    checks: OrderCheckStore, check: StoredOrderCheck, wrong: dict[str, object], key: str | None
) -> None:
    """An unknown revision or an id that is taken is no matter of idempotency keys."""
    checks.save(check)
    with pytest.raises(RowsRefusedError):
        checks.save(replace(check, **({"id": "new", "idempotency_key": key} | wrong)))
