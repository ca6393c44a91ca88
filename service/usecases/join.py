"""Join: whether two sides meet, how, and what would join them if not."""

from service.documents.joint import JointAnswer, JointQuestion, PartSide, PortSide
from service.documents.nearest import nearest
from service.domain.joints import JointEnd
from service.domain.parts import Opening
from service.domain.revision import Revision
from service.explain.joints import report_join
from service.solver.joints import find_join
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.library import Edition, Library


def join(library: Library, question: JointQuestion) -> JointAnswer:
    """The answer in the revision that the question names, else in the newest.

    Raises RequestFaultsError, NoCatalogError.
    """
    return join_in(library.edition_for(question.revision), question)


def join_in(edition: Edition, question: JointQuestion) -> JointAnswer:
    """The answer in an edition. Raises RequestFaultsError with the faults of both sides."""
    faults: list[RequestFault] = []
    one = _ends("/one", question.one, edition.revision, faults)
    other = _ends("/other", question.other, edition.revision, faults)
    if faults:
        raise RequestFaultsError(tuple(faults))
    return report_join(find_join(one, other, edition.revision), edition.revision)


def _ends(
    pointer: str, side: PartSide | PortSide, revision: Revision, faults: list[RequestFault]
) -> tuple[JointEnd, ...]:
    """The ends that a side may be joined by; none where it has a fault, which is added to `faults`."""
    if isinstance(side, PartSide):
        return _ends_of_part(pointer, side, revision, faults)
    if side.standard not in revision.standards:
        alike = tuple(nearest(side.standard, revision.standards))
        expected = "the id of a port standard of this revision"
        faults.append(RequestFault(f"{pointer}/standard", side.standard, expected, alike))
    return (JointEnd(Opening(side.standard, side.end)),)


def _ends_of_part(pointer: str, side: PartSide, revision: Revision, faults: list[RequestFault]) -> tuple[JointEnd, ...]:
    item = revision.items.get(revision.sku_of(side.sku))
    if item is None:
        alike = tuple(nearest(side.sku, revision.items))
        faults.append(RequestFault(f"{pointer}/sku", side.sku, "the id of an item of this revision", alike))
        return ()
    ids = [port.id for port in item.ports]
    if not ids:
        faults.append(RequestFault(f"{pointer}/sku", side.sku, "an item that has ports: this one has none"))
    elif side.port is not None and side.port not in ids:
        expected = f"a port of {item.sku}: {', '.join(ids)}"
        faults.append(RequestFault(f"{pointer}/port", side.port, expected, tuple(nearest(side.port, ids))))
    return tuple(JointEnd(port.opening, item, port) for port in item.ports if side.port is None or port.id == side.port)
