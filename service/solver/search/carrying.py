"""The setups of a request by the power that their bills carry.

What a bill carries is the least of what each of its paths allows by itself, and of what pump and injectors supply
through its feeds and links. So a setup is split by the runs of its feeds and links, and by what the regulator of its
first return follows: in a part all bills share the latter, and the former are worst figures like any other.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from math import inf
from typing import NamedTuple

from service.domain.chains import Runs
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.work import spend
from service.engineering import power_kw
from service.solver.flow_capacity import capacity_l_h, demand_limit_l_h
from service.solver.flows import bsfc_g_kwh, crosses, parts_of_demand
from service.solver.judge.components import Component
from service.solver.judge.options import Choice, Choices, Paired
from service.solver.search.setups import Setup
from service.solver.supply_limits import Regulation, Supplied, regulation, regulator_of, supply_limits
from service.solver.system import System, ways

_STEPS = 100
"""Of working out what pump and injectors supply through some lines."""

_NO_LINES = System((), (), crosses=False)
Level = Callable[[float], float]


class PowerBand(NamedTuple):
    """Some bills of a setup, as a setup: `level` is what feeds, links, pump and injectors of each let it carry."""

    level: float
    setup: Setup


class Carrier:
    """Splits the setups of one request by what their bills carry, in kW; infinite: nothing of it is told."""

    def __init__(self, request: Request, policies: Policies) -> None:
        self._request = request
        self._policies = policies
        self._supplied = Supplied.of(request)

    def kw(self, setup: Setup, component: Component, runs: Runs) -> float:
        """The power at which the paths of a component are at a limit."""
        return self._kw(demand_limit_l_h(capacity_l_h(component.states, runs), self._share(component, setup)))

    def parts(self, setup: Setup, level: Level) -> list[PowerBand]:
        """The parts of a setup, what carries most first; bills of one level are together where they can be."""
        found = [part for held, narrowed in self._regulations(setup) for part in self._cores(narrowed, held, level)]
        return sorted(found, key=lambda part: -part.level)

    @property
    def most_supplied_kw(self) -> float:
        """The power that pump and injectors supply at most: against the set pressure alone, with all of it over the
        injectors. Boost that is followed takes of the pump's flow, boost that is not of the injectors'."""
        unboosted = self._supplied._replace(boost_kpa=0.0)
        return self._kw(supply_limits(_NO_LINES, Regulation("tank", None), unboosted).least_l_h)

    def _kw(self, l_h: float) -> float:
        if l_h == inf:
            return inf
        return power_kw(l_h, bsfc_g_kwh(self._request), self._request.fuel.fluid.density_kg_m3)

    def _share(self, component: Component, setup: Setup) -> float:
        """What the paths of a component carry for each L/h that is burnt."""
        placement = self._request.layout.placements[setup.placement]
        return parts_of_demand(self._request, placement, self._policies)[component.states[0].duty]

    def _regulations(self, setup: Setup) -> Iterator[tuple[Regulation, Setup]]:
        """Each way in which bills of a setup regulate, with the part of the setup that does."""
        returns = _places(setup, "return")
        if not returns:
            yield regulation(self._request, None, returns=False), setup
            return
        first = min(returns, key=lambda place: setup.spots[place])
        choices = setup.components[first].choices
        spend(choices.size, "bills")
        by: dict[Regulation, list[Choice]] = {}
        for choice in choices.all:
            regulator = regulator_of(choice.options[0].chain)
            by.setdefault(regulation(self._request, regulator, returns=True), []).append(choice)
        for held, several in by.items():
            yield held, setup if len(by) == 1 else _narrowed(setup, {first: Choices(several)})

    def _cores(self, setup: Setup, held: Regulation, level: Level) -> Iterator[PowerBand]:
        """The parts of a setup by the runs of its feeds and links; along the axis with the most of them, those of one
        level are together."""
        axes = [
            _Axis(place, choices)
            for duty in ("feed", "link")
            for place in _places(setup, duty)
            for choices in setup.components[place].choices.columns
        ]
        main = max(range(len(axes)), key=lambda index: len(axes[index].choices.by_runs), default=0)
        along = axes[main].choices.by_runs if axes else {(): ()}
        for fixed in product(*(axis.choices.by_runs for index, axis in enumerate(axes) if index != main)):
            before, after = fixed[:main], fixed[main:]
            levels: dict[float, list[Runs]] = {}
            for runs in along:
                spend(_STEPS, "bills")
                reached = level(self._reached(setup, axes, (*before, runs, *after), held))
                levels.setdefault(reached, []).append(runs)
            for reached, several in levels.items():
                taken = (*([one] for one in before), several, *([one] for one in after))
                yield PowerBand(reached, _narrowed(setup, _taken(axes, taken)))

    def _reached(self, setup: Setup, axes: Sequence["_Axis"], taken: Sequence[Runs], held: Regulation) -> float:
        """The power that feeds, links, pump and injectors let a bill with these runs carry."""
        runs: dict[int, Runs] = {}
        for axis, own in zip(axes, taken, strict=False):
            runs[axis.place] = (*runs.get(axis.place, ()), *own)
        lines = {
            duty: tuple([ways(setup.components[place].states, runs[place]) for place in _places(setup, duty)])
            for duty in ("feed", "link")
        }
        placement = self._request.layout.placements[setup.placement]
        system = System(lines["feed"], lines["link"], crosses(placement))
        supply = self._kw(supply_limits(system, held, self._supplied).least_l_h)
        return min([supply, *(self.kw(setup, setup.components[place], own) for place, own in runs.items())])


class _Axis(NamedTuple):
    """Choices of which one run each is taken, and the place of the component that they are of."""

    place: int
    choices: Choices


def _places(setup: Setup, duty: str) -> list[int]:
    """Where among the components of a setup those are whose paths have a duty."""
    return [place for place, x in enumerate(setup.components) if x.flowing and x.states[0].duty == duty]


def _taken(axes: Sequence[_Axis], taken: Sequence[Sequence[Runs]]) -> dict[int, Choices]:
    """By component the choices that have some of these runs along each axis."""
    columns: dict[int, list[Choices]] = {}
    for axis, several in zip(axes, taken, strict=False):
        by_runs = axis.choices.by_runs
        whole = len(several) == len(by_runs)
        kept = axis.choices if whole else Choices(choice for runs in several for choice in by_runs[runs])
        columns.setdefault(axis.place, []).append(kept)
    return {place: own[0] if len(own) == 1 else Paired(tuple(own)) for place, own in columns.items()}


def _narrowed(setup: Setup, choices: Mapping[int, Choices]) -> Setup:
    """The bills of a setup that take only these choices where some are named."""
    components = [
        replace(component, choices=choices.get(place, component.choices))
        for place, component in enumerate(setup.components)
    ]
    return replace(setup, components=tuple(components))


def by_rating(
    setup: Setup, places: Sequence[int], rated: Callable[[Component, Runs], bool]
) -> Iterator[tuple[Setup, bool]]:
    """The bills of a setup in which something at these places is rated, in parts, and then those in which nothing is;
    each with whether it is."""
    if not places:
        yield setup, False
        return
    place, *others = places
    component = setup.components[place]
    known: dict[bool, list[Choice]] = {True: [], False: []}
    for runs, alike in component.choices.by_runs.items():
        known[rated(component, runs)] += alike
    if known[True]:
        yield _narrowed(setup, {place: Choices(known[True])}), True
    if known[False]:
        yield from by_rating(_narrowed(setup, {place: Choices(known[False])}), others, rated)
