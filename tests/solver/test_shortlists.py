"""Bills that may be the cheapest, kept from one power to the next: ranked as they are without that."""

from typing import Any

import pytest

from service.solver.search.shortlists import shortlist
from service.usecases.library import Edition
from tests.solver.medium import medium_catalog, medium_request
from tests.support.engine import answer_from, edition

POWERS_KW = (60.0, 151.0, 300.0)


@pytest.fixture(scope="module")
def medium() -> Edition:
    return edition(medium_catalog())


def without_shortlists() -> Edition:
    """An edition that ranks each question by itself."""
    ready = edition(medium_catalog())
    ready.engine._finder._ranker._shortlists = lambda *_: None
    return ready


@pytest.mark.parametrize("order_by", ["price", "pieces", "lead"])
@pytest.mark.parametrize("name", ["plain", "excluded"])
def test_the_same_bills_in_the_same_order(medium: Edition, name: str, order_by: str) -> None:
    """At any power, however many bills are wanted, variants grouped or not."""
    plainly = without_shortlists()
    for power_kw in POWERS_KW:
        for grouped in (False, True):
            for limit in (1, 5):
                more: dict[str, Any] = {"power_kw": power_kw, "group_variants": grouped, "limit": limit}
                request = medium_request(name, order_by=order_by, **more)
                assert answer_from(medium, request) == answer_from(plainly, request)


def test_a_shortlist_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A power at which as many parts are within policy has the bills that were found before."""
    made: list[object] = []

    def counted(*args: Any) -> object:
        made.append(args)
        return shortlist(*args)

    monkeypatch.setattr("service.solver.search.ranking.shortlist", counted)
    ready = edition(medium_catalog())
    after = []
    for power_kw in (60.0, 61.0, 62.0):
        answer_from(ready, medium_request("plain", power_kw=power_kw))
        after.append(len(made))
    assert after[0] > 0
    assert after == [after[0]] * 3
