"""What must hold of aliases: none stands twice in one list. Two things may share one: whoever writes it is asked."""

from collections.abc import Iterator

from service.documents.arriving import Part
from service.documents.faults import Fault
from service.documents.rendering import rendered

_SECTIONS = ("items", "chassis", "addons", "layouts", "fuels", "materials")


def alias_faults(catalog: Part) -> Iterator[Fault]:
    """Yield a fault for each alias that stands in its list already."""
    for section in _SECTIONS:
        for thing in catalog.parts(section):
            yield from _doubled(thing)


def _doubled(thing: Part) -> Iterator[Fault]:
    seen: set[object] = set()
    for path, alias in thing.elements("aliases"):
        if isinstance(alias, str) and alias in seen:
            yield thing.fault("an alias that this list does not have yet", *path[-2:], found=rendered(alias))
        seen |= {alias} if isinstance(alias, str) else set()
