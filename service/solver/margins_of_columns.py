"""What is relatively left of limits, for many chains at once; as `Margin.relative` is of one."""

import numpy as np

from service.domain.request import SpotSituation
from service.solver.chain_rows import Floats, Ints
from service.solver.columns import Columns, rounded


def relative(left: Floats, limit: float) -> Floats:
    """What is left as part of the limit, to 0.000001; of a limit of nothing nothing is left."""
    return rounded(left / limit, 6) if limit else np.minimum(0.0, left)


def room_left(columns: Columns, places: Ints, situation: SpotSituation, nothing_used: float) -> Floats:
    """How much is relatively left of the tightest room of these chains at their spots, as of `clearance.margins`."""
    found = np.full(len(places), nothing_used)
    ends = [(columns.axial_mm, columns.across_mm, situation.room)]
    if situation.far_spot is not None:
        ends.append((columns.far_axial_mm, columns.far_across_mm, situation.far_room))
    for axial_mm, across_mm, room in ends:
        for length_mm, given in zip((axial_mm, across_mm), (room.axial_mm, room.across_mm), strict=True):
            if given is not None:
                limit = round(given, 3)
                found = np.minimum(found, relative(rounded(limit - length_mm[places], 3), limit))
    return found
