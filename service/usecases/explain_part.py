"""Explain a part: why it is, or is not, in the bills of a request."""

from service.documents.explain import ExplainRequest, Explanation
from service.documents.nearest import nearest
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.explaining import report_explanation
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.library import Edition
from service.usecases.resolve_request import known_spots, resolve_request


def explain_in(edition: Edition, question: ExplainRequest) -> Explanation:
    """The explanation in an edition. Raises RequestFaultsError with the faults of the request and of the rest."""
    revision = edition.revision
    faults: list[RequestFault] = []
    request: Request | None = None
    try:
        request = resolve_request(question.request, revision)
    except RequestFaultsError as error:
        faults += [fault.within("/request") for fault in error.faults]
    item = _item(question, request, revision, faults)
    chassis = revision.chassis.get(question.request.chassis)
    spots = [] if chassis is None else known_spots(question.request, chassis, revision)
    if question.spot is not None and chassis is not None and question.spot not in spots:
        expected = f"a spot of a rail for {chassis.id}: {', '.join(spots) or 'none is known'}"
        faults.append(RequestFault("/spot", question.spot, expected, tuple(nearest(question.spot, spots))))
    if faults or request is None or item is None:
        raise RequestFaultsError(tuple(faults))
    return report_explanation(edition.engine.explain(request, item, question.spot), revision)


def _item(
    question: ExplainRequest, request: Request | None, revision: Revision, faults: list[RequestFault]
) -> Item | None:
    """The part that is asked about; None, and a fault, where the catalog has none of that name."""
    if question.sku == OWN_RAIL and question.request.own_rail is not None:
        own_rail = None if request is None else request.own_rail
        return None if own_rail is None else own_rail.rails[0]
    item = revision.items.get(revision.sku_of(question.sku))
    if item is None:
        alike = tuple(nearest(question.sku, revision.items))
        faults.append(RequestFault("/sku", question.sku, "the id of an item of this revision", alike))
    return item
