"""What is left of the limits of the slow solver's bills, and their order by it.

Written apart from `service`, on the plain JSON documents, to be read rather than to be fast.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from tests.support.slow_bills import OracleBill
from tests.support.slow_questions import OWN_RAIL, Json, Question


@dataclass(frozen=True)
class OracleMargins:
    """The least that is left of each kind of limit (None: nothing is limited), and of all of them, relatively."""

    clearance_mm: float | None
    pressure_kpa: float | None
    drop_percent: float | None
    relative: float


def margins(question: Question, bill: OracleBill) -> OracleMargins:
    """The margins of a bill of the question."""
    room = list(_room(question, bill))
    pressure = list(_pressure(question, bill))
    drop = [(round(path.limit_kpa - path.drop_kpa, 3), path.limit_kpa) for path in bill.paths]
    top_m_s = question.policies["max_velocity_m_s"]
    velocity = [(round(top_m_s - path.peak_m_s, 6), top_m_s) for path in bill.paths]
    every = [_relative(*one) for one in (*room, *pressure, *drop, *velocity)]
    return OracleMargins(
        clearance_mm=min((left for left, _ in room), default=None),
        pressure_kpa=min((left for left, _ in pressure), default=None),
        drop_percent=min((_relative(*one) * 100 for one in drop), default=None),
        relative=min(every, default=1.0),
    )


def ordered_by_margin(question: Question, bills: Sequence[OracleBill]) -> list[OracleBill]:
    """The bills with the most left of their tightest limit first, then by the tie-breaks."""

    def rank(bill: OracleBill) -> tuple[Any, ...]:
        return (-margins(question, bill).relative, *bill.tie_break)

    return sorted(bills, key=rank)


def _relative(left: float, limit: float) -> float:
    return round(left / limit, 6) if limit else 0.0


def _room(question: Question, bill: OracleBill) -> Iterator[tuple[float, float]]:
    """(left, limit) along and across, at each end of each chain."""
    for spot, skus in bill.chains.items():
        parts = _parts(question, skus, closed=bill.duties[spot] == "closed")
        ends = {spot: _up_to_a_line(parts)}
        if bill.duties[spot] == "link":
            (far,) = (path.spots[1] for path in bill.paths if path.spots[0] == spot)
            ends[far] = _up_to_a_line(parts[::-1])
        for end, near in ends.items():
            standout = round(sum(main.get("standout_mm") or 0 for main, _ in near), 3)
            across = round(
                max((item.get("across_mm") or 0 for main, plugs in near for item in (main, *plugs)), default=0), 3
            )
            for needed, measure in ((standout, "axial_mm"), (across, "across_mm")):
                limit = round(question.limit(end, measure), 3)
                if limit != float("inf"):
                    yield round(limit - needed, 3), limit


def _parts(question: Question, skus: Sequence[str], *, closed: bool) -> list[tuple[Json, list[Json]]]:
    """Each item of a chain with the side plugs behind it: every plug but the one that closes a closed spot."""
    parts: list[tuple[Json, list[Json]]] = []
    for sku in skus:
        item = question.record[sku]
        if item["kind"] == "plug" and (parts or not closed):
            parts[-1][1].append(item)
        else:
            parts.append((item, []))
    return parts


def _up_to_a_line(parts: list[tuple[Json, list[Json]]]) -> list[tuple[Json, list[Json]]]:
    for index, (item, _) in enumerate(parts):
        if item["kind"] == "line":
            return parts[:index]
    return parts


def _pressure(question: Question, bill: OracleBill) -> Iterator[tuple[float, float]]:
    skus = [sku for chain in bill.chains.values() for sku in chain]
    skus += [bill.rail] if bill.rail != OWN_RAIL else []
    for sku in skus:
        most_kpa = question.record[sku].get("max_kpa")
        if most_kpa is not None:
            yield round(most_kpa - question.pressure_kpa, 3), most_kpa
