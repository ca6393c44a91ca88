"""What is answered on the event loop: light questions, from what is at hand, while few ask; all else goes to a lane."""

import asyncio
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from service.documents.catalog import Catalog
from service.domain.work import spend
from service.usecases.library import Edition, Library
from service.web.conduct import Crowd
from service.web.lanes import LIGHT_STEPS, LONGER_STEPS, Lanes
from service.web.resources import FEW, Resources
from service.web.visitors import _VISITOR, Visitor
from tests.support.catalogs import small_catalog
from tests.usecases.counting_store import CountingStore, sqlite_store

LOOP = "MainThread"
LONG_S = 600.0
FAR = 10**9


class Silent(CountingStore):
    """A store that is not to be asked any more."""

    def latest(self) -> int | None:
        raise AssertionError("the store was asked")


def thread(_edition: Edition | None = None, steps: int = 0) -> str:
    """Where a call of so many steps is worked out."""
    spend(steps, "bills")
    return threading.current_thread().name.split("_")[0]


def opened(folder: Path, fresh_s: float = LONG_S) -> Library:
    """A library whose newest edition was just asked for, over a store that has fallen silent."""
    with sqlite_store(folder) as store:
        library = Library(store, fresh_s=fresh_s)
        library.publish(Catalog.model_validate(small_catalog()))
        library.edition()
        store.__class__ = Silent
        return library


def given(_revision: int | None) -> Edition:
    raise AssertionError("the edition is at hand")


@pytest.mark.parametrize(
    ("steps", "place"),
    [(0, LOOP), (LIGHT_STEPS, LOOP), (LIGHT_STEPS + 1, "lane-longer"), (LONGER_STEPS + 1, "lane-heavy")],
)
def test_what_takes_longer_goes_to_a_lane(steps: int, place: str) -> None:
    """Not to that of light questions, whose bound it is past already."""

    def call() -> str:
        return thread(steps=steps)

    assert asyncio.run(Lanes(FAR).ask(call, at_once=call)) == place


def test_who_waits_for_a_lane_goes_first() -> None:
    """A question comes after those of the lane, also where it could be answered at once."""

    async def ask() -> list[str]:
        lanes, let = Lanes(FAR), threading.Event()
        before = [asyncio.create_task(lanes.ask(let.wait)) for _ in range(10)]
        while not lanes.questions.people_waiting:
            await asyncio.sleep(0)
        after = asyncio.create_task(lanes.ask(thread, at_once=thread))
        await asyncio.sleep(0)
        let.set()
        return [await after, *map(str, await asyncio.gather(*before))]

    assert asyncio.run(ask()) == ["lane-questions", *["True"] * 10]


def test_what_is_known_to_take_long_is_not_tried() -> None:
    tried: list[str] = []

    def call() -> None:
        tried.append(thread())
        spend(LONGER_STEPS + 1, "bills")

    async def ask() -> None:
        lanes, client = Lanes(FAR), Visitor()
        client.question = b"one"
        _VISITOR.set(client)
        for _ in range(2):
            await lanes.ask(call, at_once=call)

    asyncio.run(ask())
    assert tried == [LOOP, "lane-longer", "lane-heavy", "lane-heavy"]


def _nobody() -> Visitor:
    return Visitor()


def _greedy() -> Visitor:
    """A client whose connection asked much of late."""
    client = Visitor()
    client.account.put_down(1.0)
    return client


@pytest.mark.parametrize(
    ("others", "client", "place"),
    [(0, _nobody, LOOP), (FEW, _nobody, LOOP), (FEW + 1, _nobody, "lane-questions"), (0, _greedy, "lane-questions")],
)
def test_few_are_answered_at_once(tmp_path: Path, others: int, client: Callable[[], Visitor], place: str) -> None:
    """And nobody is asked which revision is the newest, on the event loop least of all."""
    library = opened(tmp_path)
    resources = Resources(library, Lanes(FAR), Crowd())
    resources.crowd.count = others

    async def ask() -> str:
        _VISITOR.set(client())
        edition_of = given if place == LOOP else library.edition
        return await resources.answer(None, edition_of, thread)

    assert asyncio.run(ask()) == place


def test_what_has_to_be_looked_up_is_not_looked_up_on_the_event_loop(tmp_path: Path) -> None:
    """The newest revision once the word of it is old, and a revision that nobody asked for yet."""
    library = opened(tmp_path, fresh_s=0.0)
    resources = Resources(library, Lanes(FAR))
    asked: list[str] = []

    def edition_of(revision: int | None) -> Edition:
        asked.append(f"{revision} {thread()}")
        return library.edition(1)

    async def ask() -> list[str]:
        return [await resources.answer(revision, edition_of, thread) for revision in (None, 7, 1)]

    assert asyncio.run(ask()) == ["lane-questions", "lane-questions", LOOP]
    assert asked == ["None lane-questions", "7 lane-questions"]
