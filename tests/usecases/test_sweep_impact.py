"""A sweep finds what asking one after the other finds, to the byte, whoever works at it and however often it stops."""

import json
import pickle
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from service.documents.contract import FilePromises
from service.documents.request import BillRequest
from service.impact.questions import Kept, Standing
from service.storage.impact_sweeps import ImpactSweepStore
from service.usecases import sweep_impact
from service.usecases.impact import impact_of, impact_told
from service.usecases.impact_sweeps import Sides, Sweeper
from service.usecases.library import Edition
from service.usecases.standing import KeptQuestions
from service.usecases.sweep_impact import InMemory, SweepCancelledError, sweep
from service.usecases.sweep_work import Source, SourceFile, run
from service.usecases.sweep_workers import Each, Workers, alone
from tests.support.builders import HOSE, catalog, twin
from tests.support.engine import answer_from, edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited, with_cases
from tests.support.random_requests import random_request
from tests.usecases.counting_store import CountingStore

Editions = tuple[Edition, Edition]


def some_editions(seed: int) -> tuple[Editions, Kept]:
    """Two editions with random edits between them, and questions beside their own."""
    rng = Random(seed)
    before = with_cases(rng, random_catalog(rng), lambda catalog, request: answer_from(edition(catalog), request))
    after = edited(rng, before)
    requests = [BillRequest.model_validate(random_request(rng, before, wish_percent=20)) for _ in range(8)]
    partners = [
        Standing("partner", one, FilePromises(has_bill=True), f"case-{n}", "shop") for n, one in enumerate(requests[:3])
    ]
    asked = {one.text: one for one in (Standing("asked", request, times=2) for request in requests)}
    return (edition(before), Edition(2, edition(after).catalog)), Kept(partners, list(asked.values()))


def lossy() -> tuple[Editions, Kept]:
    """Two editions of which the later one breaks promises and loses bills, by more than one edit."""
    promises = {"has_bill": True, "contains": ["ADAPT-B8-F6"], "keyed": True}
    before = catalog({"contract_cases": [{"id": "hose", "says": "s", "request": HOSE, "promises": promises}]})
    edits = {"items/PLUG-B8/status": "retired", "items/RAIL-S/price": 7, "chassis/brook/base_kpa": 200.0}
    cases = {"contract_cases": before["contract_cases"]}
    after = catalog(cases, edits, {"items/-": twin("ADAPT-B8-F6", "NEW", price=1)})
    partner = Standing("partner", BillRequest.model_validate(HOSE), FilePromises(has_bill=True), "front", "shop")
    return (edition(before), Edition(2, edition(after).catalog)), Kept([partner])


def told(found: Any, editions: Editions) -> str:
    return json.dumps(impact_told(found, *editions))


def one_by_one(editions: Editions, kept: Kept) -> str:
    return told(impact_of(*editions, kept), editions)


@pytest.fixture(autouse=True)
def _few_a_task(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sweep_impact, "QUESTIONS_AT_ONCE", 3)
    monkeypatch.setattr(sweep_impact, "UNDONE_AT_ONCE", 2)
    monkeypatch.setattr(sweep_impact, "_KEEP_EVERY_S", -1.0)


def by_letter() -> Workers:
    """Workers to whom everything goes in writing, as it goes to other processes."""

    @contextmanager
    def working(source: Source) -> Iterator[Each]:
        with TemporaryDirectory() as folder:
            file = SourceFile.of(source, Path(folder) / "catalogs.json")
            yield lambda tasks: (run(file, pickle.loads(pickle.dumps(task))) for task in tasks)

    return working


def test_it_is_what_asking_one_by_one_finds() -> None:
    """Over edits that break and lose, and random ones; in this process, and by letters."""
    assert {"broken", "lost"} <= json.loads(one_by_one(*lossy()))["counts"].keys()
    for editions, kept in (lossy(), *map(some_editions, range(2))):
        for workers in (alone, by_letter()):
            assert told(sweep(*editions, kept, workers), editions) == one_by_one(editions, kept)


class Stopping(InMemory):
    """Keeps what is found, and stops at every second record."""

    def __init__(self) -> None:
        super().__init__()
        self.kept: dict[str, str] = {}
        self.steps: list[tuple[int, int]] = []

    def known(self) -> Mapping[str, str]:
        return self.kept

    def record(self, found: Mapping[str, str], done: int, total: int) -> None:
        assert not found.keys() & self.kept.keys(), "asked twice"
        self.kept.update(found)
        self.steps.append((done, total))
        if found:
            raise KeyboardInterrupt


def test_it_goes_on_where_it_was_stopped() -> None:
    """However often; nothing that was kept is asked again, and progress never goes back."""
    editions, kept = lossy()
    journal, stops = Stopping(), 0
    while True:
        try:
            found = sweep(*editions, kept, alone, journal)
            break
        except KeyboardInterrupt:
            stops += 1
    assert stops > 5
    assert told(found, editions) == one_by_one(editions, kept)
    assert journal.steps[-1][0] == journal.steps[-1][1] == len(journal.kept)
    questions = [done for done, total in journal.steps if total == journal.steps[0][1]]
    assert questions == sorted(questions)


def interrupted(after: int) -> Workers:
    """This process, which is killed after so many tasks."""

    @contextmanager
    def working(source: Source) -> Iterator[Each]:
        def each(tasks: Any) -> Any:
            for number, task in enumerate(tasks):
                if number == after:
                    raise KeyboardInterrupt
                yield run(source, task)

        yield each

    return working


def test_what_is_kept_is_gone_on_with(store: CountingStore) -> None:
    """By another worker once nobody holds it; cancelled, it stops at the next record."""
    editions, _ = lossy()
    sides = Sides(*editions, (1, 2))
    sweeps = ImpactSweepStore(store._database)
    first, second = (Sweeper(sweeps, KeptQuestions(), workers) for workers in (interrupted(2), alone))
    begun = first.begin(sides)
    assert second.begin(sides) == begun
    assert first.claim(begun.id)
    with pytest.raises(KeyboardInterrupt):
        first.work(begun.id, sides)
    left = sweeps.parts(begun.id)
    assert left
    assert not second.claim(begun.id)
    assert first.claim(begun.id)
    steps: list[tuple[int, int]] = []
    third = Sweeper(sweeps, KeptQuestions(), alone)
    third._worker = first._worker
    found = third.work(begun.id, sides, lambda done, total: steps.append((done, total)))
    assert steps[0][0] == steps[0][1] < len(left)
    assert json.dumps(found) == json.dumps(
        dict(impact_told(impact_of(*editions), *editions, (1, 2))) | {"orders": found["orders"]}
    )
    assert sweeps.get(begun.id) is not None
    again = second.begin(sides)
    assert again.id != begun.id
    assert second.claim(again.id)
    assert sweeps.end(again.id, "cancelled")
    with pytest.raises(SweepCancelledError):
        second.work(again.id, sides)
