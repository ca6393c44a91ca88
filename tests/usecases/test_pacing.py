"""Work that gives way: how long it pauses, for whom, and that the opening of an edition does so."""

from pathlib import Path

import pytest

from service.documents.folder import load_catalog
from service.domain.request import Request
from service.domain.work import give_turn, giving_way
from service.solver.search.bill_orders import KEPT_ORDERS
from service.usecases.edition import Edition, Preparation
from service.usecases.pacing import Pace, PacedMeter

SEED_CATALOG = Path(__file__).parents[2] / "seed_data"
WORK_S = 0.003


@pytest.fixture
def slept_s(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The pauses, while a clock of the test's own goes on by WORK_S at each look."""
    pauses: list[float] = []
    now_s = [0.0]

    def look() -> float:
        now_s[0] += WORK_S
        return now_s[0]

    monkeypatch.setattr("service.usecases.pacing.monotonic", look)
    monkeypatch.setattr("service.usecases.pacing.sleep", pauses.append)
    return pauses


@pytest.mark.parametrize(("is_asked", "steps", "pauses"), [(True, 1_000, 10), (True, 99, 0), (False, 1_000, 0)])
def test_work_pauses_so_many_times_as_long_as_it_took_while_somebody_asks(
    slept_s: list[float], is_asked: bool, steps: int, pauses: int
) -> None:
    pace = Pace(lambda: is_asked, 7)
    for _ in range(steps):
        pace.step()
    assert slept_s == pytest.approx([7 * WORK_S] * pauses)


def test_no_pause_is_long(slept_s: list[float]) -> None:
    PacedMeter(None, lambda: True, 1_000).spend(100, "bills")
    assert slept_s == [0.05]


def test_turns_are_given_within_the_block_alone() -> None:
    turns: list[None] = []
    with giving_way(lambda: turns.append(None)):
        give_turn()
    give_turn()
    assert len(turns) == 1


def test_an_opening_gives_a_turn_for_each_item_at_least() -> None:
    catalog = load_catalog(SEED_CATALOG)
    turns: list[None] = []
    with giving_way(lambda: turns.append(None)):
        edition = Edition(1, catalog)
        assert edition.engine.revision.number == 1
    assert len(turns) >= len(catalog.items)


def test_a_preparation_begins_with_the_usual_order_and_asks_everything_once(monkeypatch: pytest.MonkeyPatch) -> None:
    edition = Edition(1, load_catalog(SEED_CATALOG))
    asked: list[Request] = []
    monkeypatch.setattr(edition.engine, "answer", asked.append)
    pairs = len(edition.document.chassis) * len(edition.document.layouts)
    preparation = Preparation(edition, lambda: False)
    preparation.begin()
    assert [one.order_by for one in asked] == ["price"] * pairs
    preparation.finish()
    preparation.finish()
    assert len(asked) == len(set(asked)) == pairs * len(KEPT_ORDERS)
