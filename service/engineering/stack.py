"""The stack between manifold and rail: what room an injector has in it, and how deep its rings sit."""

from dataclasses import dataclass

from service.engineering.spread import Size, Spread, spread

REFERENCE_C = 20.0
"""Temperature at which lengths are told [degC]. Source: ISO 1."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length of some material at 20 degC.

    mm: nominal [mm]
    tol_mm: plus or minus [mm], 0 or more
    expansion_1_k: coefficient of linear expansion [1/K], 0 or more
    """

    mm: float
    tol_mm: float = 0.0
    expansion_1_k: float = 0.0

    def at(self, celsius: float) -> Size:
        """Give the length at another temperature [mm].

        celsius: temperature [degC]
        """
        return Size(self.mm * (1 + self.expansion_1_k * (celsius - REFERENCE_C)), self.tol_mm)


@dataclass(frozen=True, slots=True)
class Stack:
    """Heights over the face of the manifold that carries the spacer, or the rail's foot where there is none.

    spacer: between face and foot [mm]
    roof: of the rail's cup over the underside of its foot [mm]
    seat: of the injector's shoulder over the face, below 0: under it [mm]
    injector: from its shoulder to its top [mm]
    cup_depth_mm: from the roof of the cup to its mouth [mm], above 0
    upper_ring_mm: from the injector's top to the middle of its upper ring [mm], above 0
    lower_ring_mm: how deep the lower ring sits with the injector down [mm], above 0
    """

    spacer: Length
    roof: Length
    seat: Length
    injector: Length
    cup_depth_mm: float
    upper_ring_mm: float
    lower_ring_mm: float


@dataclass(frozen=True, slots=True)
class Room:
    """What an injector has between manifold and rail.

    play: along its axis; below 0 the rail presses it down [mm]
    upper: how deep the upper ring sits with the injector down [mm]
    lower: how deep the lower ring sits with the injector up [mm]
    """

    play: Spread
    upper: Spread
    lower: Spread


def room(stack: Stack, celsius: float) -> Room:
    """Give the room of an injector at a temperature [mm], all parts being equally warm.

    stack: heights and their materials [mm, 1/K]
    celsius: temperature [degC]

    Source: chain of lengths; linear thermal expansion.
    """
    play = spread(
        lambda spacer, roof, seat, injector: spacer + roof - seat - injector,
        [length.at(celsius) for length in (stack.spacer, stack.roof, stack.seat, stack.injector)],
    )
    return Room(
        play=play, upper=_under(stack.cup_depth_mm - stack.upper_ring_mm, play), lower=_under(stack.lower_ring_mm, play)
    )


def _under(depth_mm: float, play: Spread) -> Spread:
    """What play leaves of a depth; an injector that is pressed down has none to lose."""
    left = [depth_mm - max(0.0, mm) for mm in (play.nominal, play.most, play.least, play.most_rss, play.least_rss)]
    return Spread(*left)
