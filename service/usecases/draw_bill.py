"""The drawing of a bill, by the bill's key: its rails, and the pressure along its paths."""

from service.assembly import rail_plans
from service.assessment import profiles_of
from service.documents.drawing import BillDrawing
from service.explain.profiles import report_drawing
from service.usecases.library import Library
from service.usecases.recall_bill import Recalled, recall


def draw_bill(library: Library, key: str) -> BillDrawing:
    """The drawing of a key's bill, in its own revision. Raises NotFoundError for a key that names no valid bill."""
    return drawing_of(recall(library, key))


def drawing_of(recalled: Recalled) -> BillDrawing:
    """The drawing of a bill that was found again."""
    revision = recalled.edition.revision
    profiles = profiles_of(recalled.bill, recalled.request, revision.policies)
    return report_drawing(profiles, rail_plans(recalled.bill), recalled.document["key"], recalled.request, revision)
