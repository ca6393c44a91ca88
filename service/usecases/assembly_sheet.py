"""The assembly sheet of a bill, by the bill's key, and what the newest revision makes of it."""

from dataclasses import dataclass

from service.assembly import assemble
from service.documents.answer import CurrentBill
from service.documents.sheet import Sheet
from service.explain.sheet import report_sheet
from service.usecases.current_bill import current_bill
from service.usecases.library import Library
from service.usecases.recall_bill import Recalled, held_by, recall


@dataclass(frozen=True)
class SheetToday:
    """What the newest revision makes of a sheet's bill; `reads_alike`: whether its sheet there has the same steps."""

    current: CurrentBill
    reads_alike: bool


def assembly_sheet(library: Library, key: str) -> Sheet:
    """The sheet of a key's bill, in its own revision. Raises NotFoundError for a key that names no valid bill."""
    return sheet_of(recall(library, key))


def sheet_of(recalled: Recalled) -> Sheet:
    """The sheet of a bill that was found again."""
    revision = recalled.edition.revision
    sheet = assemble(recalled.bill, recalled.request, revision)
    return report_sheet(sheet, recalled.document, recalled.request, revision)


def sheet_today(library: Library, recalled: Recalled, key: str, sheet: Sheet) -> SheetToday | None:
    """What became of a key's bill and its sheet; None where its revision is the newest."""
    newest = library.edition()
    if newest.number == recalled.edition.number:
        return None
    current = current_bill(recalled.edition, held_by(key), recalled.bill, newest)
    if current["key"] is None:
        return SheetToday(current, reads_alike=False)
    return SheetToday(current, assembly_sheet(library, current["key"])["steps"] == sheet["steps"])
