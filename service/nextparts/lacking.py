"""What a spot lacks: whether some chain may serve it, and which single candidates could stand in one that does.

Nothing that could help is left out; what is found is asked anew before it counts. Left aside are flow, price, stock and
what a needless part is.
"""

from collections.abc import Iterator
from typing import NamedTuple

from service.domain.parts import Opening
from service.nextparts.candidates import Candidate, fitting
from service.nextparts.settings import Spot
from service.nextparts.steps import Step, Steps
from service.rules import closed, via

MOST_SUMS = 4_000
"""So many different lengths of chains are told apart at one place of a walk."""


class Lack(NamedTuple):
    """Whether a spot is served already; the candidates that could stand at it; the least standouts [mm] with which one
    reaches its hookup, where there is a window."""

    served: bool
    helpful: frozenset[Candidate]
    standouts_mm: frozenset[float]


class _State(NamedTuple):
    """Where a walk from a spot is: its open port, whether a line is behind it, the kinds of `via` that are, the
    candidate that it uses and how often that adds to the reach."""

    opening: Opening
    has_line: bool
    through: frozenset[str]
    candidate: Candidate | None
    times: int


class _Sums(NamedTuple):
    """Of all walks to a state the least standout in the room of the spot, and the standouts in all, mm."""

    near_mm: float
    reach_mm: frozenset[float]


def lack_of(spot: Spot, steps: Steps, openings: list[Opening], most: int) -> Lack:
    """Return what a spot lacks. `openings`: those that candidates may have; `most`: the parts of the longest chain."""
    if spot.duty == "closed":
        return _of_closed(spot, steps)
    if spot.duty not in closed.CARRIERS:
        return Lack(False, frozenset(), frozenset())
    return _Walks(spot, steps, openings, most).lack()


def _of_closed(spot: Spot, steps: Steps) -> Lack:
    plugs = [
        step for step in steps.plugs(spot.opening, spot.plugs) if _has_room(spot, step.standout_mm, step.across_mm)
    ]
    helpful = {Candidate((spot.opening.mate,))} | {Candidate((x.plugged.mate,)) for x in plugs if x.plugged is not None}
    return Lack(any(step.plugged is None for step in plugs), frozenset(helpful), frozenset())


def _has_room(spot: Spot, axial_mm: float, across_mm: float) -> bool:
    axial_fits = spot.axial_mm is None or round(axial_mm, 3) <= round(spot.axial_mm, 3)
    return axial_fits and (spot.across_mm is None or round(across_mm, 3) <= round(spot.across_mm, 3))


class _Walks:
    """All walks from a spot outwards, part by part; those that are alike from there on go together."""

    def __init__(self, spot: Spot, steps: Steps, openings: list[Opening], most: int) -> None:
        self._spot = spot
        self._steps = steps
        self._openings = openings
        self._most = most
        self._carriers = closed.CARRIERS[spot.duty]
        self._closer = closed.CLOSERS.get(spot.duty)
        self._left = steps.steps_to(self._ends())
        self._detours: dict[Opening, dict[Opening, int]] = {}
        self._served = False
        self._helpful: set[Candidate] = set()
        self._lows_mm: set[float] = set()

    def lack(self) -> Lack:
        """Walk, and return what was found."""
        none: frozenset[str] = frozenset()
        front = {_State(self._spot.opening, False, none, None, 0): _Sums(0.0, frozenset({0.0}))}
        for count in range(self._most + 1):
            onwards: dict[_State, _Sums] = {}
            for state, sums in front.items():
                self._end_on_target(state, sums)
                for after, more in self._onwards(state, sums) if count < self._most else ():
                    if self._may_end(after, self._most - count - 1):
                        known = onwards.get(after)
                        onwards[after] = more if known is None else _joined(known, more)
            front = onwards
        return Lack(self._served, frozenset(self._helpful), frozenset(self._lows_mm))

    def _ends(self) -> list[Opening]:
        """The openings on which a chain is done, or one part short of it where it ends in a part."""
        if self._spot.target is not None:
            return [self._spot.target.mate]
        return [x for x in self._steps.openings if any(step.kind == self._closer for step in self._steps.at(x))]

    def _end_on_target(self, state: _State, sums: _Sums) -> None:
        if self._spot.target is not None and state.opening == self._spot.target.mate:
            self._end(state, sums)

    def _end(self, state: _State, sums: _Sums) -> None:
        """Note a chain that is complete, where it keeps what is asked of the whole of it."""
        spot = self._spot
        if state.through != frozenset(spot.via) or (spot.duty in closed.ONE_LINE_DUTIES and not state.has_line):
            return
        if spot.reach is not None and not self._is_reached(state, sums):
            return
        if state.candidate is None:
            self._served = True
        else:
            self._helpful.add(state.candidate)

    def _is_reached(self, state: _State, sums: _Sums) -> bool:
        """Whether the window is reached, with a standout of the candidate that is free."""
        low, high = (round(edge, 3) for edge in (self._spot.reach or (0.0, 0.0)))
        if not state.times:
            return any(low <= round(sum_, 3) <= high for sum_ in sums.reach_mm)
        if not state.has_line and self._spot.axial_mm is not None:
            high = min(high, round(self._spot.axial_mm, 3))
        reached = [sum_ for sum_ in sums.reach_mm if round(sum_, 3) <= high] if low <= high else []
        self._lows_mm.update(round((low - sum_) / state.times, 6) for sum_ in reached if sum_ < low)
        return bool(reached)

    def _onwards(self, state: _State, sums: _Sums) -> Iterator[tuple[_State, _Sums]]:
        """Yield what a walk comes to by one more part."""
        for step in self._steps.at(state.opening):
            yield from self._by(step, state, sums)
        if "fitting" in self._carriers:
            yield from self._by_candidate(state, sums)

    def _by(self, step: Step, state: _State, sums: _Sums) -> Iterator[tuple[_State, _Sums]]:
        candidate = state.candidate
        if step.plugged is not None:
            closing = Candidate((step.plugged.mate,))
            if candidate not in (None, closing):
                return
            candidate = closing
        near_mm = sums.near_mm
        if step.kind != "line" and not state.has_line:
            near_mm += step.standout_mm
            if not _has_room(self._spot, near_mm, step.across_mm):
                return
        if step.onward is None:
            if step.kind == self._closer:
                self._end(state._replace(candidate=candidate), _Sums(near_mm, sums.reach_mm))
        elif step.kind in self._carriers and (through := self._through(step.kind, state)) is not None:
            is_line = step.kind == "line"
            if is_line and state.has_line and self._spot.duty in closed.ONE_LINE_DUTIES:
                return
            reach_mm = sums.reach_mm if is_line or self._spot.reach is None else _plus(sums.reach_mm, step.standout_mm)
            after = _State(step.onward, state.has_line or is_line, through, candidate, state.times)
            yield after, _Sums(near_mm, reach_mm)

    def _by_candidate(self, state: _State, sums: _Sums) -> Iterator[tuple[_State, _Sums]]:
        """Yield what a candidate fitting leads to: any, or the one that the walk uses already."""
        through = self._through("fitting", state)
        if through is None:
            return
        enters = state.opening.mate
        for onward in self._openings:
            candidate = fitting(enters, onward)
            is_simple = onward != state.opening or "fitting" in self._spot.via
            if is_simple and state.candidate in (None, candidate):
                times = state.times + 1 if self._spot.reach is not None else 1
                yield state._replace(opening=onward, through=through, candidate=candidate, times=times), sums

    def _through(self, kind: str, state: _State) -> frozenset[str] | None:
        """The kinds of `via` behind a walk after one more part; None where the part may not stand there."""
        if kind in self._spot.via:
            return None if kind in state.through else state.through | {kind}
        return state.through if via.may_stand((kind,), self._spot.via) else None

    def _may_end(self, state: _State, left: int) -> bool:
        """Whether so many more parts may lead to an end; without a candidate so far, perhaps by one."""
        short = 1 if self._closer is not None else 0
        if state.candidate is None or self._left.get(state.opening, self._most + 1) + short <= left:
            return True
        return any(self._steps_to(port.mate).get(state.opening, self._most) < left for port in state.candidate.ports)

    def _steps_to(self, opening: Opening) -> dict[Opening, int]:
        if opening not in self._detours:
            self._detours[opening] = self._steps.steps_to([opening])
        return self._detours[opening]


def _joined(one: _Sums, other: _Sums) -> _Sums:
    sums = one.reach_mm | other.reach_mm
    return _Sums(min(one.near_mm, other.near_mm), frozenset(sorted(sums)[:MOST_SUMS]))


def _plus(sums: frozenset[float], standout_mm: float) -> frozenset[float]:
    return frozenset(round(sum_ + standout_mm, 6) for sum_ in sums)
