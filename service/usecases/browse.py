"""Browse the catalog: items by what they are, meet and fit; the layouts of a chassis with what they cost."""

from collections.abc import Sequence
from math import isinf
from typing import Protocol, TypeVar

from service.documents.answer import LayoutChoice, Reason
from service.documents.catalog import Item
from service.documents.nearest import nearest
from service.domain.parts import Opening
from service.domain.request import Request
from service.domain.revision import Fuel
from service.domain.vehicles import Chassis
from service.domain.work import TooCostlyError, part
from service.explain.reasons import broken
from service.explain.too_costly import too_costly_here
from service.usecases.errors import NotFoundError
from service.usecases.library import Edition


class _Named(Protocol):
    @property
    def id(self) -> str: ...


N = TypeVar("N", bound=_Named)


def list_items(
    edition: Edition,
    *,
    kind: str | None = None,
    mates: tuple[str, str] | None = None,
    fits: str | None = None,
) -> list[Item]:
    """The items of a kind, that meet a port (standard, end), that stand in a bill for a chassis; in catalog order.

    Raises NotFoundError for an unknown port standard or chassis.
    """
    standards = edition.revision.standards
    if mates is not None and mates[0] not in standards:
        raise NotFoundError("port standard", mates[0], tuple(nearest(mates[0], standards)))
    wanted = []
    if kind is not None:
        wanted.append(edition.skus_by_kind.get(kind, set()))
    if mates is not None:
        wanted.append(edition.skus_by_opening.get(Opening(*mates), set()))
    if fits is not None:
        wanted.append(edition.skus_fitting(find_chassis(edition, fits)))
    if not wanted:
        return edition.catalog.items
    positions = edition.positions
    return [edition.items[sku] for sku in sorted(set.intersection(*wanted), key=positions.__getitem__)]


def find_item(edition: Edition, sku: str) -> Item:
    """The item of that SKU. Raises NotFoundError."""
    item = edition.items.get(sku)
    if item is None:
        raise NotFoundError("item", sku, tuple(nearest(sku, edition.items)))
    return item


def find(documents: Sequence[N], kind: str, wanted: str) -> N:
    """The document of that id in a section; `kind` names the section's things. Raises NotFoundError."""
    for document in documents:
        if document.id == wanted:
            return document
    raise NotFoundError(kind, wanted, tuple(nearest(wanted, [document.id for document in documents])))


def find_chassis(edition: Edition, wanted: str) -> Chassis:
    """The compiled chassis of that id. Raises NotFoundError."""
    chassis = edition.revision.chassis.get(wanted)
    if chassis is None:
        raise NotFoundError("chassis", wanted, tuple(nearest(wanted, edition.revision.chassis)))
    return chassis


def chassis_layouts(edition: Edition, chassis_id: str, fuel_id: str | None = None) -> list[LayoutChoice]:
    """Each layout with its number of bills (variants grouped), lowest price and largest power, or the rule that rules
    it out; on the catalog's first fuel unless another is named. One that takes too much work says so.

    Raises NotFoundError for an unknown chassis or fuel.
    """
    chassis = find_chassis(edition, chassis_id)
    revision = edition.revision
    fuel = find_fuel(edition, fuel_id)
    found: list[LayoutChoice] = []
    for place, layout in enumerate(revision.layouts.values()):
        request = Request(chassis, layout, fuel, chassis.stock_kw, limit=1)
        try:
            with part(len(revision.layouts) - place):
                found.append(_layout_choice(edition, request))
        except TooCostlyError as error:
            found.append(_choice(request, too_costly=too_costly_here(error)))
    return found


def _layout_choice(edition: Edition, request: Request) -> LayoutChoice:
    answer = edition.engine.answer(request)
    obstacle = None if answer.bills else edition.engine.obstacle(request)
    return _choice(
        request,
        total_valid=answer.total_valid,
        largest_power_kw=_finite(edition.engine.largest_power_kw(request)),
        lowest_price=answer.bills[0].price if answer.bills else None,
        ruled_out_by=broken(obstacle) if obstacle else None,
    )


def _choice(
    request: Request,
    *,
    total_valid: int | None = None,
    largest_power_kw: float | None = None,
    lowest_price: int | None = None,
    ruled_out_by: Reason | None = None,
    too_costly: str | None = None,
) -> LayoutChoice:
    layout = request.layout
    return {
        "layout": layout.id,
        "name": layout.name,
        "summary": layout.summary,
        "total_valid": total_valid,
        "largest_power_kw": largest_power_kw,
        "lowest_price": lowest_price,
        "ruled_out_by": ruled_out_by,
        "too_costly": too_costly,
    }


def find_fuel(edition: Edition, wanted: str | None) -> Fuel:
    """The compiled fuel of that id, the catalog's first where None. Raises NotFoundError."""
    fuels = edition.revision.fuels
    fuel = next(iter(fuels.values())) if wanted is None else fuels.get(wanted)
    if fuel is None:
        raise NotFoundError("fuel", str(wanted), tuple(nearest(str(wanted), fuels)))
    return fuel


def _finite(power_kw: float | None) -> float | None:
    return None if power_kw is None or isinf(power_kw) else power_kw
