"""What a catalog says in a second language, gathered from all its objects when somebody first asks for it."""

from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet
from itertools import repeat
from typing import NamedTuple

from pydantic_core import from_json

from service.documents.packed import PackedCatalog
from service.domain.revision import ItemIndex, SecondLanguage


class _Said(NamedTuple):
    """A text of the catalog, and the same in the second language; None: it is not told."""

    text: str
    second: str | None


def second_language(catalog: PackedCatalog, index: ItemIndex) -> SecondLanguage | None:
    """The second language of a catalog; None: it has none. The names of items are in the index."""
    tag = catalog.maker.second_language

    def tell() -> tuple[Mapping[str, str], AbstractSet[str]]:
        said = list(_said(catalog))
        texts = {one.text: one.second for one in (*said, *_of_cars(catalog)) if one.second is not None}
        known = {**texts, **index.second_names}
        unnamed = _unnamed(catalog) if index.unnamed else iter(())
        return known, {text for text in (*(one.text for one in said), *unnamed) if text not in known}

    return None if tag is None else SecondLanguage(tag, tell)


def _unnamed(catalog: PackedCatalog) -> Iterator[str]:
    """The names of the items that have no other."""
    for text in catalog.texts["items"].values():
        if '"second_name":' not in text:
            yield from_json(text)["name"]


def _said(catalog: PackedCatalog) -> Iterator[_Said]:
    for section in (catalog.port_standards, catalog.fuels, catalog.materials, catalog.addons, catalog.layouts):
        for named in section:
            yield _Said(named.name, named.second_name)
    for layout in catalog.layouts:
        if layout.summary:
            yield _Said(layout.summary, layout.second_summary)
    for cautioned in (*catalog.fuels, *catalog.joints):
        yield from map(_Said, cautioned.cautions or (), cautioned.second_cautions or repeat(None))


def _of_cars(catalog: PackedCatalog) -> Iterator[_Said]:
    for car in catalog.chassis:
        yield _Said(car.name, car.second_name)
