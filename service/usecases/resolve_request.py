"""A request's names looked up in its revision; every name that is not known, or does not fit, is told at once."""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import TypeVar

from service.documents.compile_engineering import injector_flow
from service.documents.faults import MOST_TOLD
from service.documents.fields import Place
from service.documents.nearest import nearest
from service.documents.request import BillRequest, HadPart, OwnSpot
from service.domain.parts import Opening, RailShape, own_rail_shape
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import Addon, Chassis, Clearance
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.own_pump import own_pump

T = TypeVar("T")


def resolve_request(asked: BillRequest, revision: Revision) -> Request:
    """The request as the engine takes it. Raises RequestFaultsError with all faults."""
    asked = with_skus(asked, revision)
    faults: list[RequestFault] = []
    chassis = _look_up("/chassis", asked.chassis, "a chassis", revision.chassis, faults)
    layout = _look_up("/layout", asked.layout, "a layout", revision.layouts, faults)
    fuel_id = next(iter(revision.fuels)) if asked.fuel is None else asked.fuel
    fuel = _look_up("/fuel", fuel_id, "a fuel", revision.fuels, faults)
    addons = _addons(asked, chassis, revision, faults)
    for index, sku in enumerate(asked.exclude):
        _look_up(f"/exclude/{index}", sku, "an item", revision.items, faults)
    for index, part in enumerate(asked.have):
        _look_up(f"/have/{index}/sku", part.sku, "an item", revision.items, faults)
    for place, own in (asked.own_rail or {}).items():
        pointer = f"/own_rail/{place}/standard"
        _look_up(pointer, own.standard, "a port standard", revision.standards, faults)
    pump = own_pump(asked, chassis, faults)
    if chassis is not None:
        _check_spots(asked, chassis, revision, faults)
    if faults or chassis is None or layout is None or fuel is None:
        raise RequestFaultsError(tuple(faults))
    return Request(
        chassis=chassis,
        layout=layout,
        fuel=fuel,
        power_kw=chassis.stock_kw if asked.power_kw is None else asked.power_kw,
        power_told=asked.power_kw is not None,
        pump_l_h=asked.pump_l_h,
        own_pump=pump,
        set_kpa=asked.regulator.set_kpa if asked.regulator else None,
        follows=asked.regulator.follows if asked.regulator else None,
        own_injectors=injector_flow(asked.injectors) if asked.injectors else None,
        feed_hose_m=asked.feed_hose_m,
        return_hose_m=asked.return_hose_m,
        own_boost_kpa=asked.boost_kpa,
        addons=tuple(addons),
        clearances=tuple(Clearance(x.spot, x.axial_mm, x.across_mm) for x in asked.clearances),
        gauge=asked.gauge,
        finish=asked.finish,
        exclude=frozenset(asked.exclude),
        in_stock_only=asked.in_stock_only,
        allow_unsold=asked.allow_unsold,
        max_price=asked.max_price,
        have=tuple(sorted(_summed(asked.have).items())),
        own_rail=_own_rail(asked.own_rail),
        limit=asked.limit,
        group_variants=asked.group_variants,
        order_by=asked.order_by,
    )


def with_skus(asked: BillRequest, revision: Revision) -> BillRequest:
    """The request with its SKUs written as the catalog writes them, so that one question has one key."""
    if not (asked.exclude or asked.have):
        return asked
    exclude = [revision.sku_of(sku) for sku in asked.exclude]
    have = [part.model_copy(update={"sku": revision.sku_of(part.sku)}) for part in asked.have]
    told = {"exclude": exclude, "have": have}
    return asked.model_copy(update={name: told[name] for name in told if getattr(asked, name)})


def _summed(parts: Iterable[HadPart]) -> Counter[str]:
    units: Counter[str] = Counter()
    for part in parts:
        units[part.sku] += part.qty
    return units


def _own_rail(spots: Mapping[Place, OwnSpot] | None) -> RailShape | None:
    if spots is None:
        return None
    return own_rail_shape({place: Opening(spot.standard, spot.end) for place, spot in sorted(spots.items())})


def _look_up(pointer: str, value: str, what: str, known: Mapping[str, T], faults: list[RequestFault]) -> T | None:
    found = known.get(value)
    if found is None:
        alike = tuple(nearest(value, known)) if len(faults) < MOST_TOLD else ()
        faults.append(RequestFault(pointer, value, f"the id of {what} of this revision", alike))
    return found


def _addons(asked: BillRequest, chassis: Chassis | None, revision: Revision, faults: list[RequestFault]) -> list[Addon]:
    found: list[Addon] = []
    fitting = [x.id for x in revision.addons.values() if chassis is None or chassis.id in x.chassis]
    for index, value in enumerate(asked.addons):
        pointer = f"/addons/{index}"
        addon = _look_up(pointer, value, "an add-on", revision.addons, faults)
        if addon is None:
            continue
        if addon in found:
            faults.append(RequestFault(pointer, value, "each add-on once"))
        elif chassis is not None and chassis.id not in addon.chassis:
            expected = f"an add-on for {chassis.id}" + ("" if fitting else ", which has none")
            faults.append(RequestFault(pointer, value, expected, tuple(nearest(value, fitting) or fitting[:3])))
        found.append(addon)
    return found


def known_spots(asked: BillRequest, chassis: Chassis, revision: Revision) -> list[str]:
    """The spots that the customer's own rail or a rail of the chassis's pattern has, sorted."""
    places = {place for shape in revision.shapes.get(chassis.pattern, ()) for place in shape.spots}
    places.update(asked.own_rail or ())
    return sorted(spot for place in places for spot in chassis.on_banks(place))


def _check_spots(asked: BillRequest, chassis: Chassis, revision: Revision, faults: list[RequestFault]) -> None:
    """The gauge's and each clearance's spot must be one that a rail of the chassis's pattern has."""
    known = known_spots(asked, chassis, revision)
    expected = f"a spot of a rail for {chassis.id}: {', '.join(known) or 'none is known'}"
    if asked.gauge not in ("none", "any", *known):
        faults.append(
            RequestFault("/gauge", asked.gauge, f"none, any, or {expected}", tuple(nearest(asked.gauge, known)))
        )
    for index, clearance in enumerate(asked.clearances):
        if clearance.spot not in known:
            suggestions = tuple(nearest(clearance.spot, known))
            faults.append(RequestFault(f"/clearances/{index}/spot", clearance.spot, expected, suggestions))
