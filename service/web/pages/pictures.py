"""The small pictures of a page: each part drawn once, however often it stands there; layouts by what their spots do."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from zlib import crc32

from markupsafe import Markup

from service.documents.sheet import SheetRail
from service.domain.parts import OWN_RAIL
from service.domain.vehicles import Duty, DutyEntry, Layout
from service.drawing.layouts import draw_layout
from service.drawing.parts import SIZE, draw_part
from service.drawing.shapes import PartShape, part_shape
from service.drawing.svg import ornament, symbol, written
from service.usecases.library import Edition

_SHADES = (0.08, 0.3, 0.5, 0.18, 0.4)
"""How dark the finishes of a catalog are drawn, in the order of their names; names tell them, shades only help."""
_PLAIN = 0.13
_KEPT = 1_024
"""So many pictures are kept drawn: pages show the same parts over and over."""


class Pictures:
    """The pictures of one page over an edition; all that were asked for stand in `sheet`, once each."""

    def __init__(self, edition: Edition, *, each_whole: bool = False) -> None:
        """`each_whole`: a part is drawn anew wherever it stands, for what cannot refer to another picture."""
        self._edition = edition
        self._each_whole = each_whole
        self._standards = {standard.id: standard for standard in edition.catalog.port_standards}
        self._shades = {finish: _SHADES[place % len(_SHADES)] for place, finish in enumerate(edition.finishes)}
        self._drawn: dict[str, str] = {}

    def shape(self, sku: str) -> PartShape:
        """What is drawn of a part; of an unknown one, or of a rail by somebody else, a plain one."""
        item = self._edition.items.get(sku)
        if item is None:
            return PartShape("rail" if sku == OWN_RAIL else "fitting")
        return part_shape(item, self._standards)

    def of(self, sku: str) -> Markup:
        """A part's picture; its name stands beside it."""
        item = self._edition.items.get(sku)
        shade = _PLAIN if item is None or item.finish is None else self._shades[item.finish]
        if self._each_whole:
            return Markup(_whole(self.shape(sku), shade))  # noqa: S704 its writer has escaped what is in it
        name, drawn = _part(self.shape(sku), shade)
        self._drawn[name] = drawn
        return Markup('<svg class="pic" viewBox="0 0 {0} {0}" aria-hidden="true"><use href="#{1}"/></svg>').format(
            int(SIZE), name
        )

    @property
    def sheet(self) -> Markup:
        """All parts' pictures, to stand on the page once, unseen."""
        drawn = "".join(self._drawn.values())
        return Markup(f'<svg class="symbols" aria-hidden="true">{drawn}</svg>')  # noqa: S704 escaped by its writer

    def of_layout(self, layout: Layout, duties: Mapping[str, Duty] | None = None) -> Markup:
        """How fuel runs: by these duties, else as the layout's first placement has it."""
        placement = _placement(layout, duties or {})
        told = duties or {spot: entry.duty for spot, entry in placement.items()}
        links = tuple((spot, entry.to_spot) for spot, entry in placement.items() if entry.to_spot is not None)
        regulated = tuple(spot for spot, entry in placement.items() if "regulator" in entry.via)
        return _layout(tuple(told.items()), links, regulated)


@lru_cache(_KEPT)
def _part(shape: PartShape, shade: float) -> tuple[str, str]:
    """The name of a picture, which is the same on all pages, and the picture."""
    name = f"part-{crc32(repr((shape, shade)).encode()):08x}"
    return name, symbol(name, SIZE, lambda parent: draw_part(parent, shape, shade))


@lru_cache(_KEPT)
def _whole(shape: PartShape, shade: float) -> str:
    """The picture by itself."""
    root = ornament(SIZE, SIZE, "pic")
    draw_part(root, shape, shade)
    return written(root)


@lru_cache(_KEPT)
def _layout(
    duties: tuple[tuple[str, Duty], ...], links: tuple[tuple[str, str], ...], regulated: tuple[str, ...]
) -> Markup:
    drawn = draw_layout(dict(duties), dict(links), regulated)
    return Markup(drawn)  # noqa: S704 its writer has escaped what is in it


def shapes_in(pictures: Pictures, rails: Sequence[SheetRail]) -> dict[str, PartShape]:
    """By SKU what is drawn of the parts that stand at some rails."""
    skus = {part["sku"] for rail in rails for spot in rail["spots"] for part in spot["standing"]}
    return {sku: pictures.shape(sku) for sku in skus}


def _placement(layout: Layout, duties: Mapping[str, Duty]) -> Mapping[str, DutyEntry]:
    """The placement that gives these duties, else the first."""
    fitting = (
        one
        for one in layout.placements
        if duties and all(duties.get(spot) == entry.duty for spot, entry in one.items())
    )
    return next(fitting, layout.placements[0])
