"""The situation of each spot in a request: the room there, what its chain starts and ends on."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.domain.lazy import lazy
from service.domain.parts import Opening, RailShape
from service.domain.request import Ground, Request, Room, SpotSituation
from service.domain.vehicles import Duty, DutyEntry, Hookup


@dataclass(frozen=True, eq=False)
class PlacedLayout:
    """A placement on a shape of rail: the openings of all spots, by bank, and the hookup of each flowing spot."""

    shape: RailShape
    placement: Mapping[str, DutyEntry]
    openings: Mapping[str, Opening]
    hookups: Mapping[str, Hookup]

    def on(self, shape: RailShape) -> "PlacedLayout":
        """The same on another shape of rail with the same openings."""
        return self if shape is self.shape else PlacedLayout(shape, self.placement, self.openings, self.hookups)


class Situations:
    """The situations of the spots in one request."""

    def __init__(self, request: Request | Ground) -> None:
        self._request = request

    def at_rest(self, site: PlacedLayout, spot: str, duty: Duty) -> SpotSituation:
        """A spot that is closed or carries the gauge."""
        return SpotSituation(spot, site.openings[spot], duty, self._room(spot))

    def hooked(self, site: PlacedLayout, spot: str) -> SpotSituation:
        """A spot whose chain ends on a hookup."""
        entry, hookup = site.placement[spot], site.hookups[spot]
        reaches = hookup.reaches
        return SpotSituation(
            spot,
            site.openings[spot],
            entry.duty,
            self._room(spot),
            target=hookup.opening,
            hookup_kind=hookup.kind,
            via=entry.via,
            reach=None if reaches is None else reaches.get(spot),
            reached=reaches is None or spot in reaches,
        )

    def linking(self, site: PlacedLayout, spot: str, far: str) -> SpotSituation:
        """A spot that is linked to another one, seen from the first."""
        via = (*site.placement[spot].via, *site.placement[far].via)
        return SpotSituation(
            spot,
            site.openings[spot],
            "link",
            self._room(spot),
            target=site.openings[far],
            via=tuple(dict.fromkeys(via)),
            far_spot=far,
            far_room=self._room(far),
        )

    def in_its_room(self, situation: SpotSituation) -> SpotSituation:
        """A situation with the room that this request leaves."""
        far = situation.far_spot
        far_room = situation.far_room if far is None else self._room(far)
        return situation._replace(room=self._room(situation.spot), far_room=far_room)

    def _room(self, spot: str) -> Room:
        return self._rooms.get(spot, Room(None, None))

    @lazy
    def _rooms(self) -> dict[str, Room]:
        """The smallest room at each spot among chassis, add-ons and request."""
        request = self._request
        given = [*request.chassis.clearances, *request.clearances]
        given += [clearance for addon in request.addons for clearance in addon.clearances]
        rooms: dict[str, Room] = {}
        for clearance in given:
            room = rooms.get(clearance.spot, Room(None, None))
            rooms[clearance.spot] = Room(
                _smaller(room.axial_mm, clearance.axial_mm), _smaller(room.across_mm, clearance.across_mm)
            )
        return rooms


def _smaller(one: float | None, other: float | None) -> float | None:
    if one is None or other is None:
        return other if one is None else one
    return min(one, other)
