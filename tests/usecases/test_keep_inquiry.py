"""Inquiries: judged by the service itself, kept once, read again without what is personal."""

import json
import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.inquiry import SentInquiry
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.usecases.errors import (
    IdempotencyKeyReusedError,
    NoCatalogError,
    NotFoundError,
    RequestFault,
    RequestFaultsError,
)
from service.usecases.find_bills import find_bills
from service.usecases.keep_inquiry import Inquiries
from service.usecases.library import Library
from tests.support.catalogs import changed, small_catalog
from tests.support.keeping import kept_inquiry
from tests.usecases.counting_store import CountingStore

QUESTION: dict[str, Any] = {"chassis": "brook", "layout": "hose-centre"}
TOO_CHEAP = QUESTION | {"max_price": 1}


def asked(request: dict[str, Any] = TOO_CHEAP, **more: Any) -> SentInquiry:
    return SentInquiry.model_validate({"request": request, "contact": "Ottilie, +00 555 0119"} | more)


@pytest.fixture(name="kept")
def _kept(store: CountingStore) -> InquiryStore:
    return InquiryStore(store._database)


@pytest.fixture(name="inquiries")
def _inquiries(library: Library, kept: InquiryStore) -> Inquiries:
    return Inquiries(library, kept)


def test_the_question_is_judged_here(inquiries: Inquiries, library: Library, kept: InquiryStore) -> None:
    """Conflicts, stories and repairs are those of the answer; contact and note are beside, not in what is given."""
    made = kept_inquiry(inquiries, asked(note="red, please"))
    document = json.loads(made.document)
    answer = find_bills(library, asked().request)
    assert {name: document[name] for name in ("total_valid", "conflicts", "stories", "repairs")} == {
        "total_valid": 0,
        "conflicts": [["max_price"]],
        "stories": answer["stories"],
        "repairs": answer["repairs"],
    }
    assert document["request"] == TOO_CHEAP
    assert document["missing"]["rule"] == "wish"
    assert re.fullmatch(r"[0-9a-f]{32}", document["id"])
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", document["received"])
    stored = kept.get(made.id)
    assert stored is not None
    assert (stored.contact, stored.note, stored.missing) == (
        "Ottilie, +00 555 0119",
        "red, please",
        document["missing"]["text"],
    )
    assert "Ottilie" not in stored.document
    assert "red, please" not in stored.document


def test_a_question_with_bills_may_be_sent(inquiries: Inquiries) -> None:
    """How many there are is kept, however few were to be shown."""
    document = json.loads(kept_inquiry(inquiries, asked(QUESTION | {"limit": 7}, note="not what I need")).document)
    assert document["total_valid"] >= 1
    assert (document["conflicts"], document["stories"], document["repairs"]) == ([], [], [])
    assert document["request"]["limit"] == 7


def test_it_is_recalled_as_it_was_kept(inquiries: Inquiries, library: Library) -> None:
    """To the byte, also after a newer catalog."""
    made = kept_inquiry(inquiries, asked())
    library.publish(Catalog.model_validate(changed(small_catalog(), {"/items/1/price": 7})))
    assert inquiries.recall(made.id) == replace(made, again=True)
    assert kept_inquiry(inquiries, asked()).revision == 2


@pytest.mark.parametrize("id_", ["", "nobody", "\0", "\ud800"])
def test_what_was_not_kept_is_not_found(inquiries: Inquiries, id_: str) -> None:
    """And no other id is offered."""
    kept_inquiry(inquiries, asked())
    with pytest.raises(NotFoundError) as refused:
        inquiries.recall(id_)
    assert (refused.value.kind, refused.value.value, refused.value.nearest) == ("inquiry", id_, ())


@pytest.mark.parametrize(
    ("request_", "pointer"),
    [
        (QUESTION | {"chassis": "brok"}, "/request/chassis"),
        (QUESTION | {"exclude": ["RAIL-S", "nothing"]}, "/request/exclude/1"),
        (QUESTION | {"revision": 9}, "/request/revision"),
    ],
)
def test_faults_are_told_at_their_place(
    inquiries: Inquiries, kept: InquiryStore, request_: dict[str, Any], pointer: str
) -> None:
    """Within the inquiry; nothing is kept, and the key is free still."""
    with pytest.raises(RequestFaultsError) as refused:
        kept_inquiry(inquiries, asked(request_), "ask-7")
    assert [fault.pointer for fault in refused.value.faults] == [pointer]
    assert all(isinstance(fault, RequestFault) for fault in refused.value.faults)
    assert kept.page(1) == []
    assert not kept_inquiry(inquiries, asked(), "ask-7").again


def test_without_a_catalog_nothing_is_judged(empty_library: Library, kept: InquiryStore) -> None:
    """Import one first."""
    with pytest.raises(NoCatalogError):
        kept_inquiry(Inquiries(empty_library, kept), asked())


def test_the_same_again_with_its_key(inquiries: Inquiries, library: Library, kept: InquiryStore) -> None:
    """It is kept once, and said otherwise it is the same inquiry still."""
    first = kept_inquiry(inquiries, asked(), "ask-7")
    library.publish(Catalog.model_validate(changed(small_catalog(), {"/items/1/price": 7})))
    for again in (asked(), asked(TOO_CHEAP | {"limit": 10, "fuel": None}, note="")):
        assert kept_inquiry(inquiries, again, "ask-7") == replace(first, again=True)
    assert len(kept.page(10)) == 1
    assert not kept_inquiry(inquiries, asked()).again


@pytest.mark.parametrize("other", [asked(QUESTION), asked(note="more"), asked(contact="Somebody else")])
def test_another_inquiry_with_a_key_is_refused(inquiries: Inquiries, other: SentInquiry) -> None:
    """The question, the note and the contact line all count."""
    kept_inquiry(inquiries, asked(), "ask-7")
    with pytest.raises(IdempotencyKeyReusedError, match="'ask-7'"):
        kept_inquiry(inquiries, other, "ask-7")


class _Met(InquiryStore):
    """A store in which two meet before either is kept."""

    def __init__(self, store: InquiryStore) -> None:
        super().__init__(store._database)
        self._together = Barrier(2)

    def save(self, inquiry: StoredInquiry) -> StoredInquiry:
        self._together.wait(10)
        return super().save(inquiry)


def test_two_workers_with_one_key_answer_alike(library: Library, kept: InquiryStore) -> None:
    """Both judge, one is kept, both give that one."""
    inquiries = Inquiries(library, _Met(kept))
    with ThreadPoolExecutor(2) as workers:
        first, second = workers.map(lambda _: kept_inquiry(inquiries, asked(), "ask-7"), range(2))
    assert first.document == second.document
    assert {first.again, second.again} == {True, False}
    assert len(kept.page(10)) == 1
