"""Ids of a catalog: none stands for two things, and each one that is named is there."""

from collections.abc import Iterator

from service.documents.arriving import Part, Path
from service.documents.faults import Fault
from service.documents.nearest import nearest_words
from service.documents.pointers import pointer_to
from service.documents.rendering import printable, rendered
from service.domain.parts import OWN_RAIL

_SECTIONS = {
    "port_standards": "id",
    "joints": "id",
    "fuels": "id",
    "materials": "id",
    "items": "sku",
    "chassis": "id",
    "addons": "id",
    "layouts": "id",
    "contract_cases": "id",
}
_SUGGESTIONS = 100
_PROMISED = {
    "contains": "items",
    "never_contains": "items",
    "bridged_by": "items",
    "with_bills": "layouts",
    "without_bills": "layouts",
}
"""What the promises of a case name, by their fields."""


def reference_faults(catalog: Part) -> Iterator[Fault]:
    """Yield doubled ids, dangling ids, and fuels that a material is not rated for."""
    for section, name in _SECTIONS.items():
        yield from _doubled(catalog, section, name)
    yield from doubled_ports(catalog)
    for part in catalog.parts("chassis"):
        yield from _doubled(part, "hookups", "id")
    ids = _KnownIds(catalog)
    for path, named, section in named_in(catalog):
        yield from ids.dangling(path, named, section)
    for material in catalog.parts("materials"):
        yield from _ratings(material, ids)


def doubled_ports(catalog: Part) -> Iterator[Fault]:
    """Yield the ids that stand twice among the ports of an item."""
    for part in catalog.parts("items"):
        yield from _doubled(part, "ports", "id")


class _KnownIds:
    """The ids of each section; where a section as a whole is missing, no id of it is called dangling."""

    def __init__(self, catalog: Part) -> None:
        self.by_section = {
            section: {value: None for part in catalog.parts(section) if (value := part.text(name)) is not None}
            for section, name in _SECTIONS.items()
            if isinstance(catalog.fields.get(section), list)
        }
        self._suggested: dict[tuple[str, str], str] = {}

    def dangling(self, path: Path, name: object, section: str) -> Iterator[Fault]:
        known = self.by_section.get(section)
        if known is not None and isinstance(name, str) and name not in known:
            expected = f"{_SECTIONS[section]} of an element of {section}{self._nearest(name, section)}"
            yield Fault(pointer_to(path), rendered(name), f"the {expected}")

    def _nearest(self, name: str, section: str) -> str:
        # Looking through all ids takes time, and past a hundred wrong ones nobody corrects them by hand.
        if (name, section) not in self._suggested:
            if len(self._suggested) >= _SUGGESTIONS:
                return ""
            self._suggested[name, section] = printable(nearest_words(name, self.by_section[section]), 400)
        return self._suggested[name, section]


def _doubled(holder: Part, section: str, name: str) -> Iterator[Fault]:
    first: dict[str, Path] = {}
    for part in holder.parts(section):
        value = part.text(name)
        if value in first:
            yield part.fault(f"an {name} of its own: {pointer_to(first[value])} has this one", name)
        elif value is not None:
            first[value] = part.path


def named_in(catalog: Part) -> Iterator[tuple[Path, object, str]]:
    """Yield every place that names an id: its path, the id, and the section that should have it."""
    for standard in catalog.parts("port_standards"):
        yield _field(standard, "joint", "joints")
    for joint in catalog.parts("joints"):
        yield from _list(joint, "consumables", "items")
        yield _field(joint, "spare_seal", "items")
        yield from _list(joint, "spare_seal", "items")
    for item in catalog.parts("items"):
        yield from (_field(port, "standard", "port_standards") for port in item.parts("ports"))
        yield from _list(item, "wetted", "materials")
        yield from (_field(supplied, "sku", "items") for supplied in item.parts("supplied"))
        yield _field(item, "superseded_by", "items")
        yield from _materials(item)
    for chassis in catalog.parts("chassis"):
        yield from (_field(hookup, "standard", "port_standards") for hookup in chassis.parts("hookups"))
        yield from (_field(mounting, "sku", "items") for mounting in chassis.parts("mounting"))
        yield from _materials(chassis)
    for addon in catalog.parts("addons"):
        yield from _list(addon, "chassis", "chassis")
        yield from (_field(mounting, "sku", "items") for mounting in addon.parts("mounting"))
        yield from (_field(fastener, "sku", "items") for fastener in addon.parts("fasteners"))
    for layout in catalog.parts("layouts"):
        for placement in layout.parts("placements"):
            for entry in placement.inner_parts().values():
                if hookup := entry.part("hookup"):
                    yield _field(hookup, "standard", "port_standards")
    for case in catalog.parts("contract_cases"):
        yield from _of_case(case)


def _materials(part: Part) -> Iterator[tuple[Path, object, str]]:
    for name, inner in part.fields.items():
        if isinstance(inner, dict) and "material" in inner:
            yield (*part.path, name, "material"), inner["material"], "materials"


def _of_case(case: Part) -> Iterator[tuple[Path, object, str]]:
    request, promises = case.part("request"), case.part("promises")
    if request:
        for name, section in (("chassis", "chassis"), ("layout", "layouts"), ("fuel", "fuels")):
            yield _field(request, name, section)
        yield from _list(request, "addons", "addons")
        yield from _list(request, "exclude", "items")
        yield from (_field(part, "sku", "items") for part in request.parts("have"))
        yield from (_field(spot, "standard", "port_standards") for spot in request.members("own_rail").values())
        if not (promises and promises.fields.get("exists") is False) and request.fields.get("sku") != OWN_RAIL:
            yield _field(request, "sku", "items")
        yield from (_field(line, "sku", "items") for line in request.parts("lines"))
        for side in filter(None, (request.part("one"), request.part("other"))):
            yield _field(side, "sku", "items")
            yield _field(side, "standard", "port_standards")
    if promises:
        yield _field(promises, "layout", "layouts")
        for name, section in _PROMISED.items():
            yield from _list(promises, name, section)


def _field(part: Part, name: str, section: str) -> tuple[Path, object, str]:
    return (*part.path, name), part.fields.get(name), section


def _list(part: Part, name: str, section: str) -> Iterator[tuple[Path, object, str]]:
    for path, element in part.elements(name):
        yield path, element, section


def _ratings(material: Part, ids: _KnownIds) -> Iterator[Fault]:
    ratings, fuels = material.part("ratings"), ids.by_section.get("fuels")
    if ratings is None or not fuels:  # a catalog without a fuel is one fault elsewhere
        return
    for fuel in ratings.fields:
        yield from ids.dangling((*ratings.path, fuel), fuel, "fuels")
    for fuel in fuels:
        if fuel not in ratings.fields:
            yield ratings.fault("a rating for every fuel: A, B, C or D", fuel)
