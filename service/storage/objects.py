"""The objects of revisions. One row serves all revisions in which its object is the same and in its place.

So a revision with one changed object writes one row and ends another, and what changed between two revisions is what
began or ended between them.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice, pairwise
from math import inf

from sqlalchemy import Connection, bindparam, insert, or_, select, update

from service.documents.fuel_order import FUEL_ORDER, order_in
from service.domain.work import give_turn
from service.storage.tables import METADATA

Progress = Callable[[int, int], None]
"""Told (objects written, objects to write in all)."""
Sections = Mapping[str, Mapping[str, str]]
"""The documents of each section by their keys, in order."""

_OBJECT = METADATA.tables["catalog_object"]
_ROWS_AT_ONCE = 1_000


def read_objects(connection: Connection, revision: int) -> Sections:
    """The objects of a revision."""
    columns = _OBJECT.c
    lasts = or_(columns.until.is_(None), columns.until > revision)
    found: dict[str, list[tuple[float, str, str]]] = defaultdict(list)
    for section, position, key, document in connection.execute(
        select(columns.section, columns.position, columns.key, columns.document).where(columns.since <= revision, lasts)
    ):
        found[section].append((position, key, document))
        give_turn()
    return {section: {key: document for _, key, document in sorted(rows)} for section, rows in found.items()}


def object_in(connection: Connection, revision: int, section: str, key: str) -> str | None:
    """The document of one object of a revision, or of the order of its fuels; None where it has none."""
    columns = _OBJECT.c
    lasts = or_(columns.until.is_(None), columns.until > revision)
    named = columns.section == section, columns.key == key, columns.since <= revision
    if section == FUEL_ORDER:
        keys = select(columns.key).where(columns.section == "fuels", columns.since <= revision, lasts)
        fuels = dict.fromkeys(connection.execute(keys.order_by(columns.position)).scalars(), "")
        return order_in({"fuels": fuels})
    found: str | None = connection.execute(select(columns.document).where(*named, lasts)).scalar_one_or_none()
    return found


def write_objects(connection: Connection, revision: int, sections: Sections, progress: Progress) -> None:
    """Make these the objects of a revision, which is the newest: what is new begins, what is gone ends."""
    kept, ended = _compared(connection, sections)
    begun = {section: _positions(tuple(texts), kept.get(section, {})) for section, texts in sections.items()}
    for section, positions in begun.items():
        ended += [(section, key) for key in positions.keys() & kept.get(section, {}).keys()]
    _end(connection, revision, ended)
    total = sum(map(len, begun.values()))
    rows = (
        {"section": section, "key": key, "since": revision, "position": position, "document": sections[section][key]}
        for section, positions in begun.items()
        for key, position in positions.items()
    )
    done = 0
    while batch := list(islice(rows, _ROWS_AT_ONCE)):
        connection.execute(insert(_OBJECT), batch)
        done += len(batch)
        progress(done, total)


def _compared(connection: Connection, sections: Sections) -> tuple[dict[str, dict[str, float]], list[tuple[str, str]]]:
    """What stands and is the same: by section the position of each key; and the others, which end."""
    columns = _OBJECT.c
    standing = select(columns.section, columns.key, columns.position, columns.document).where(columns.until.is_(None))
    kept: dict[str, dict[str, float]] = defaultdict(dict)
    ended: list[tuple[str, str]] = []
    for section, key, position, document in connection.execute(standing.execution_options(yield_per=_ROWS_AT_ONCE)):
        if sections.get(section, {}).get(key) == document:
            kept[section][key] = position
        else:
            ended.append((section, key))
    return kept, ended


def _end(connection: Connection, revision: int, ended: Sequence[tuple[str, str]]) -> None:
    if ended:
        columns = _OBJECT.c
        where = columns.section == bindparam("of"), columns.key == bindparam("named"), columns.until.is_(None)
        named = [{"of": section, "named": key} for section, key in ended]
        connection.execute(update(_OBJECT).where(*where).values(until=revision), named)


def _positions(keys: Sequence[str], kept: Mapping[str, float]) -> dict[str, float]:
    """The positions of the keys that need a new one, between those that keep theirs."""
    staying = set(_longest_rising([kept[key] for key in keys if key in kept]))
    found: dict[str, float] = {}
    low, waiting = 0.0, list[str]()
    for key in (*keys, None):
        high = inf if key is None else kept.get(key, -inf)
        if key is not None and high not in staying:
            waiting.append(key)
            continue
        step = 1.0 if high == inf else (high - low) / (len(waiting) + 1)
        found.update((one, low + step * nth) for nth, one in enumerate(waiting, 1))
        low, waiting = high, []
    places = [found.get(key, kept.get(key, 0.0)) for key in keys]
    if all(one < other for one, other in pairwise(places)):
        return found
    return {key: float(place) for place, key in enumerate(keys, 1)}  # no room was left between two of them


def _longest_rising(values: Sequence[float]) -> Iterator[float]:
    """The longest rising run that can be picked from different values, backwards. Source: patience sorting."""
    ends: list[float] = []
    before: dict[float, float | None] = {}
    for value in values:
        place = bisect_left(ends, value)
        before[value] = ends[place - 1] if place else None
        ends[place : place + 1] = [value]
    last = ends[-1] if ends else None
    while last is not None:
        yield last
        last = before[last]
