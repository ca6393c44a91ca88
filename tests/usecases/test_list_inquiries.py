"""The workshop's view: every inquiry with its contact line, newest first or by what was missing."""

from typing import Any

import pytest

from service.documents.inquiry import SentInquiry, WorkshopInquiry
from service.storage.inquiries import InquiryStore
from service.usecases.errors import NotFoundError
from service.usecases.keep_inquiry import Inquiries
from service.usecases.library import Library
from service.usecases.list_inquiries import delete_inquiry, group_inquiries, list_inquiries
from tests.support.keeping import kept_inquiry
from tests.usecases.counting_store import CountingStore

QUESTION: dict[str, Any] = {"chassis": "brook", "layout": "hose-centre"}
WISHES: tuple[dict[str, Any], ...] = ({"max_price": 1}, {}, {"max_price": 2}, {"power_kw": 4000}, {"max_price": 3})


@pytest.fixture(name="kept")
def _kept(store: CountingStore) -> InquiryStore:
    return InquiryStore(store._database)


@pytest.fixture(name="ids")
def _ids(library: Library, kept: InquiryStore) -> list[str]:
    """Five inquiries, three of which lack the same; their ids, newest first."""
    inquiries = Inquiries(library, kept)
    made = [
        kept_inquiry(
            inquiries, SentInquiry.model_validate({"request": QUESTION | wish, "contact": f"caller {n}", "note": "n"})
        ).id
        for n, wish in enumerate(WISHES)
    ]
    return made[::-1]


def _ids_of(inquiries: Any) -> list[str]:
    return [inquiry["id"] for inquiry in inquiries]


@pytest.mark.parametrize("limit", [1, 2, 4, 5, 6])
def test_pages_lead_on_to_the_end(kept: InquiryStore, ids: list[str], limit: int) -> None:
    """Each inquiry once; the last page leads nowhere."""
    found: list[WorkshopInquiry] = []
    after = None
    for _ in range(len(ids)):
        page = list_inquiries(kept, limit, after)
        found += page.inquiries
        after = page.next
        if after is None:
            break
    assert after is None
    assert _ids_of(found) == ids
    assert [inquiry["contact"] for inquiry in found] == [f"caller {n}" for n in (4, 3, 2, 1, 0)]
    assert {inquiry["note"] for inquiry in found} == {"n"}


def test_groups_are_by_what_was_missing(kept: InquiryStore, ids: list[str]) -> None:
    """The most frequent first, with its newest questions; those with bills are a group of their own."""
    first, *others = group_inquiries(kept, 2)
    assert (first["count"], _ids_of(first["inquiries"])) == (3, [ids[0], ids[2]])
    assert first["newest"] == first["inquiries"][0]["received"]
    assert [group["count"] for group in others] == [1, 1]
    assert {inquiry["total_valid"] > 0 for group in others for inquiry in group["inquiries"]} == {True, False}
    for group in (first, *others):
        assert {inquiry["missing"]["text"] for inquiry in group["inquiries"]} == {group["missing"]}
    alone = list_inquiries(kept, 2, missing=first["missing"])
    assert (_ids_of(alone.inquiries), alone.next) == ([ids[0], ids[2]], ids[2])


def test_nothing_was_sent(kept: InquiryStore) -> None:
    """No group, no page."""
    assert group_inquiries(kept, 5) == []
    assert list_inquiries(kept, 5).inquiries == ()


def test_what_is_deleted_is_listed_no_more(kept: InquiryStore, ids: list[str]) -> None:
    """And cannot be deleted twice, nor gone on after."""
    delete_inquiry(kept, ids[0])
    assert _ids_of(list_inquiries(kept, 9).inquiries) == ids[1:]
    for refused in (lambda: delete_inquiry(kept, ids[0]), lambda: list_inquiries(kept, 9, after=ids[0])):
        with pytest.raises(NotFoundError, match="inquiry"):
            refused()
