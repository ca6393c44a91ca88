"""The store of sweeps: what was found of each question, so that a sweep that was killed goes on where it stood."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import delete, insert, or_, select, update
from sqlalchemy.dialects import postgresql, sqlite

from service.storage.keeping import SWEEP_DAYS, since
from service.storage.store import ID, Store
from service.storage.tables import METADATA

_SWEEPS = METADATA.tables["impact_sweep"]
_PARTS = METADATA.tables["impact_part"]
RUNNING, DONE, CANCELLED = "running", "done", "cancelled"


@dataclass(frozen=True)
class StoredSweep:
    """A sweep: the digests and names of its catalogs, and whose work it is until `lease_ends`.

    `total`: how many parts there are, None where that is not known yet.
    """

    id: str
    before: str
    after: str
    before_name: str
    after_name: str
    created_at: datetime
    status: str
    total: int | None
    worker: str
    lease_ends: datetime


class ImpactSweepStore(Store):
    """Keeps sweeps and gives out their work."""

    def begin(self, sweep: StoredSweep) -> None:
        """Keep a new sweep."""
        self._add(_SWEEPS, sweep)

    def get(self, id_: str) -> StoredSweep | None:
        """Return the sweep of an id, None for any other text."""
        return self._one(_SWEEPS.c.id == id_) if ID.fullmatch(id_) else None

    def running(self, before: str, after: str) -> StoredSweep | None:
        """Return the newest sweep between two catalogs that is not at its end."""
        of = (_SWEEPS.c.before == before) & (_SWEEPS.c.after == after)
        return self._one(of & (_SWEEPS.c.status == RUNNING))

    def count(self, status: str) -> int:
        """Return how many sweeps have a status."""
        return self._count(_SWEEPS, _SWEEPS.c.status == status, _SWEEPS.c.created_at >= since(SWEEP_DAYS))

    def claim(self, id_: str, worker: str, now: datetime, until: datetime) -> bool:
        """Have a worker work at a sweep until a moment, if it is that worker's already or nobody's at `now`."""
        free = or_(_SWEEPS.c.worker == worker, _SWEEPS.c.lease_ends < now)
        mine = update(_SWEEPS).where(_SWEEPS.c.id == id_, _SWEEPS.c.status == RUNNING, free)
        return self._changes_one(mine.values(worker=worker, lease_ends=until))

    def parts(self, id_: str) -> dict[str, str]:
        """Return what was found, by key."""
        wanted = select(_PARTS.c.key, _PARTS.c.found).where(_PARTS.c.sweep == id_)
        with self._database.reading() as connection:
            return {row.key: row.found for row in connection.execute(wanted)}

    def count_parts(self, id_: str) -> int:
        """Return how many parts were found."""
        return self._count(_PARTS, _PARTS.c.sweep == id_)

    def record(self, id_: str, worker: str, until: datetime, total: int, found: Mapping[str, str]) -> bool:
        """Keep what a worker found, and hold the sweep for it until a moment; False where it is not its any more: it
        was cancelled, deleted or taken over."""
        of = _SWEEPS.c.id == id_, _SWEEPS.c.worker == worker, _SWEEPS.c.status == RUNNING
        added = (sqlite.insert if self._database.is_sqlite else postgresql.insert)(_PARTS).on_conflict_do_nothing()
        rows = [{"sweep": id_, "key": key, "found": text} for key, text in found.items()]
        with self._database.writing() as connection:
            held = connection.execute(update(_SWEEPS).where(*of).values(lease_ends=until, total=total)).rowcount == 1
            if held and rows:
                connection.execute(added, rows)
        return held

    def finish(self, id_: str, worker: str, told: Mapping[str, str]) -> bool:
        """Keep what is told in the place of all that was found, and have the sweep be done; False where it is not this
        worker's any more."""
        of = _SWEEPS.c.id == id_, _SWEEPS.c.worker == worker, _SWEEPS.c.status == RUNNING
        rows = [{"sweep": id_, "key": key, "found": text} for key, text in told.items()]
        with self._database.writing() as connection:
            held = connection.execute(update(_SWEEPS).where(*of).values(status=DONE)).rowcount == 1
            if held:
                connection.execute(delete(_PARTS).where(_PARTS.c.sweep == id_))
                connection.execute(insert(_PARTS), rows)
        return held

    def some(self, id_: str, keys: Collection[str]) -> dict[str, str]:
        """Return what stands under some keys."""
        wanted = select(_PARTS.c.key, _PARTS.c.found).where(_PARTS.c.sweep == id_, _PARTS.c.key.in_(keys))
        with self._database.reading() as connection:
            return {row.key: row.found for row in connection.execute(wanted)}

    def end(self, id_: str, status: str) -> bool:
        """Give a running sweep its last status; False where it has one, or is not there."""
        running = update(_SWEEPS).where(_SWEEPS.c.id == id_, _SWEEPS.c.status == RUNNING)
        return self._changes_one(running.values(status=status))

    def delete(self, id_: str) -> bool:
        """Delete a sweep with all that was found; False where there is none."""
        if not ID.fullmatch(id_):
            return False
        return self._changes_one(delete(_SWEEPS).where(_SWEEPS.c.id == id_))

    def _one(self, condition: Any) -> StoredSweep | None:
        wanted = select(_SWEEPS).where(condition, _SWEEPS.c.created_at >= since(SWEEP_DAYS))
        return self._read_one(StoredSweep, wanted.order_by(_SWEEPS.c.created_at.desc()).limit(1))
