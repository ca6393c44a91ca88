"""Which of many chains that rules stop could miss the least, told by columns of figures."""

from collections.abc import Iterator

import numpy as np

from service.rules import pressure, reach
from service.solver.chain_rows import Bools, Ints
from service.solver.columns import Columns, unique_ints, unique_rows
from service.solver.spots import ServedSpot
from service.solver.tables import Mask, mask_bools, places_in

_PARTS = 1000
"""What is missing is told to so many parts of a unit."""


def lacking_least(served: ServedSpot, chains: Mask, over: Mask) -> Ints:
    """The places of those of some chains that could miss the least of room, reach and pressure; of those that miss the
    same the one that comes first. `over`: the chains that lose too much, which miss some flow besides."""
    places = places_in(chains)
    if served.plugs or len(places) == 1:
        return places
    columns = served.table.chains.columns
    weak = _weak_parts(served, columns, places)
    lacks = [*_of_room(served, columns, places), _of_pressure(served, columns, weak)]
    missing: Ints = np.sum(lacks, axis=0)
    is_over: Bools = mask_bools(over, len(columns.rows))[places]
    runs = np.where(is_over, columns.passages[places] + 1, 0)
    known = missing[~is_over]
    near = missing <= known.min() if len(known) else np.ones(len(places), np.bool_)
    links = np.count_nonzero(columns.rows[places], axis=1)
    order = np.lexsort((columns.text_order[places], links))
    order = order[near[order]]
    _, alike = unique_rows(np.column_stack((*lacks, weak, runs))[order])
    found: Ints = places[order[unique_ints(alike)[2]]]
    return found


def _of_room(served: ServedSpot, columns: Columns, places: Ints) -> Iterator[Ints]:
    """What is missing of each length, each in the order of the chains."""
    situation = served.situation
    ends = [(columns.axial_mm, columns.across_mm, situation.room)]
    if situation.far_spot is not None:
        ends.append((columns.far_axial_mm, columns.far_across_mm, situation.far_room))
    window = reach.reads(situation)
    limits = [
        (sign, length_mm, limit_mm)
        for axial_mm, across_mm, room in ends
        for sign, length_mm, limit_mm in ((1, axial_mm, room.axial_mm), (1, across_mm, room.across_mm))
        if limit_mm is not None
    ]
    if window is not None and window != "nowhere":
        limits += [(1, columns.reach_mm, window.max_mm), (-1, columns.reach_mm, window.min_mm)]
    for sign, length_mm, limit_mm in limits:
        missing: Ints = np.rint(sign * (length_mm[places] - round(limit_mm, 3)) * _PARTS).astype(np.int64)
        yield np.maximum(0, missing)


def _weak_parts(served: ServedSpot, columns: Columns, places: Ints) -> Ints:
    """By chain the numbers of its parts that do not stand the pressure, each part once; 0 for the others."""
    read = pressure.reads(served.parts)
    holds = [pressure.holds(item, read, served.judge.parts(served.parts).revision, "bought") for item in columns.items]
    parts = np.where(np.array([True, *holds]), 0, np.arange(len(holds) + 1))[columns.parts[places]]
    for place in range(1, parts.shape[1]):
        parts[(parts[:, :place] == parts[:, [place]]).any(axis=1), place] = 0
    return parts


def _of_pressure(served: ServedSpot, columns: Columns, weak: Ints) -> Ints:
    margins = [pressure.margin(item, served.parts.pressure_kpa) for item in columns.items]
    lacking = [0, *(0 if margin is None else round(-margin.left * _PARTS) for margin in margins)]
    found: Ints = np.array(lacking, np.int64)[weak].sum(axis=1)
    return found
