"""Partners' cases and asked questions: kept on both databases, found again, bounded."""

from datetime import datetime, timedelta

import pytest

from service.storage.asked_questions import AskedQuestion, AskedQuestionStore
from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.impact_sweeps import ImpactSweepStore, StoredSweep
from service.storage.partner_cases import PartnerCaseStore, StoredCase


def test_questions_are_counted_and_the_last_are_kept(database: Database, noon: datetime) -> None:
    """Times add up; past the bound those go that were not asked for longest."""
    store = AskedQuestionStore(database)
    moments = [noon + timedelta(minutes=number) for number in range(4)]
    store.add({"a": 1, "b": 2}, moments[0], most=3)
    store.add({"\u00e9": 5}, moments[1], most=3)
    store.add({"\u00e9": 2, "new": 2**31 - 2}, moments[2], most=2)
    assert {(one.request, one.times, one.asked_at) for one in store.last(9)} == {
        ("new", 2**31 - 2, moments[2]),
        ("\u00e9", 7, moments[2]),
    }
    store.add({"new": 5, "\u00e9": 1}, moments[3], most=2)
    assert store.last(1) == [AskedQuestion("\u00e9", 8, moments[3])]
    assert store.last(9)[1].times == 2**31 - 2


def test_cases_are_kept_by_account_and_id(database: Database, noon: datetime) -> None:
    store = PartnerCaseStore(database)
    cases = [
        StoredCase(account, id_, "{}", body, noon) for account, id_, body in (("b", "1", None), ("a", "x/y", "[]"))
    ]
    for case in cases:
        store.add(case)
    with pytest.raises(RowsRefusedError):
        store.add(cases[0])
    assert store.all() == cases[::-1]
    assert (store.get("a", "x/y"), store.get("a", "1")) == (cases[1], None)
    assert (store.count(), store.count("a"), store.count("c")) == (2, 1, 0)
    assert [store.delete("a", "x/y"), store.delete("a", "x/y")] == [True, False]


def test_a_sweep_is_one_worker_s_until_its_lease_ends(database: Database, noon: datetime) -> None:
    """What it found is kept, once; what is told takes its place; at its end nobody works at it any more."""
    store = ImpactSweepStore(database)
    later = noon + timedelta(minutes=1)
    store.begin(StoredSweep("a", "x", "y", "1", "2", noon, "running", None, "first", noon))
    assert store.claim("a", "first", noon, later)
    assert not store.claim("a", "second", noon, later)
    assert store.record("a", "first", later, 3, {"k": "1", "l": "2"})
    assert store.record("a", "first", later, 3, {"k": "other"})
    assert not store.record("a", "second", later, 3, {"m": "3"})
    assert (store.parts("a"), store.count_parts("a")) == ({"k": "1", "l": "2"}, 2)
    assert store.claim("a", "second", later + timedelta(seconds=1), later)
    assert not store.record("a", "first", later, 3, {"m": "3"})
    assert store.running("x", "y") == store.get("a")
    assert (store.running("y", "x"), store.get("\0"), store.count("running")) == (None, None, 1)
    assert not store.finish("a", "first", {})
    assert store.finish("a", "second", {"told": "4"})
    assert store.some("a", ("told", "k")) == {"told": "4"}
    assert not store.end("a", "cancelled")
    assert (store.running("x", "y"), store.claim("a", "second", noon, later)) == (None, False)
    assert [store.delete("a"), store.delete("a"), store.delete("\0")] == [True, False, False]
    assert store.parts("a") == {}
