"""The assembly sheet of a bill, by the bill's key."""

from service.assembly import assemble
from service.documents.sheet import Sheet
from service.explain.sheet import report_sheet
from service.usecases.library import Library
from service.usecases.recall_bill import Recalled, recall


def assembly_sheet(library: Library, key: str) -> Sheet:
    """The sheet of a key's bill, in its own revision. Raises NotFoundError for a key that names no valid bill."""
    return sheet_of(recall(library, key))


def sheet_of(recalled: Recalled) -> Sheet:
    """The sheet of a bill that was found again."""
    revision = recalled.edition.revision
    sheet = assemble(recalled.bill, recalled.request, revision)
    return report_sheet(sheet, recalled.document, recalled.request, revision)
