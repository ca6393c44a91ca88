"""One rail in a request: the cheapest bill on it, or every rule that stops it."""

from collections.abc import Iterator

from service.domain.explanation import Stop, Verdict
from service.domain.findings import Finding
from service.domain.parts import OWN_RAIL, Item, RailShape
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.rules import layout, pattern
from service.rules.rule import Got
from service.solver.judge.judges import Judges
from service.solver.search.diagnosis import nearest_of
from service.solver.search.setups import Surveyor
from service.solver.verdicts.case import Case
from service.solver.verdicts.changes import ChangeFinder
from service.solver.verdicts.places import cheapest_with
from service.solver.verdicts.stops import part_stops
from service.solver.verdicts.whole_bill import stops_of_bill


def rail_verdict(case: Case, changes: ChangeFinder) -> Verdict:
    """The verdict on the item of a case, which is a rail."""
    if case.places.holds(None, "rail"):
        found = cheapest_with(case.survey.bundles, case.item, None)
        return Verdict(None, "rail", stands=True, bill=None if found is None else found.bill)
    stops = tuple(_stops(case.item, case.request, case.judges))
    return Verdict(None, "rail", stands=False, stops=stops, change=changes.smallest(None, "rail"))


def _stops(rail: Item, request: Request, judges: Judges) -> Iterator[Stop]:
    """Every rule that stops a rail: as a part, in the layout, and at the spots of it that nothing serves."""
    if rail.sku != OWN_RAIL:
        if request.own_rail is not None:
            yield Stop(Finding(pattern.RULE.id, pattern.own_rail_facts(request.chassis.pattern)))
            return
        is_had = dict(request.have).get(rail.sku, 0) >= request.chassis.banks
        got: Got = "had" if is_had else "bought"
        yield from part_stops(judges.spots.parts(PartSituation.of(request)), rail, got)
    outliner = judges.outliner(request)
    if not outliner.banks_fit:
        yield Stop(Finding(layout.RULE.id, layout.banks_facts(request.layout, request.chassis)))
        return
    shape = _shape_of(rail, request, judges.revision)
    setup = nearest_of(Surveyor(judges, request).setups_of(outliner.on(shape, (rail,))))
    if setup is not None:
        yield from stops_of_bill(setup, request, judges.revision)
    else:
        told = {rejection.finding.rule: rejection.finding for rejection in reversed(outliner.rejections)}
        yield from map(Stop, told.values())


def _shape_of(rail: Item, request: Request, revision: Revision) -> RailShape:
    """The shape of a rail, with it as the only one."""
    shapes = [request.own_rail] if request.own_rail is not None else []
    shapes += [shape for found in revision.shapes.values() for shape in found]
    shape = next(shape for shape in shapes if rail in shape.rails)
    return RailShape(shape.spots, shape.plugs, shape.passage, (rail,))
