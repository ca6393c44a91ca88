"""Tables brought into a draft: XLSX, or CSV alone or in a zip. Without keys: for loopback alone."""

import io
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.draft_tables import TablesTaken
from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.tables.derive import tables
from service.tables.opening import Bounds
from service.usecases.draft_tables import Manner, bring, sheets_in
from service.usecases.drafts import Drafts
from service.web import draft_examples
from service.web.bodies import BODY_LIMIT_BYTES, must_be, whole_body
from service.web.errors import InvalidQueryError, ParameterFault, UnsupportedMediaTypeError
from service.web.operations import OF_BODY, edited, query
from service.web.queries import TablesQuery, parameters_of, query_of
from service.web.representations import NEVER, represent
from service.web.resources import AppDrafts, AppResources
from service.web.routers.drafts import PREFIX, DraftId

UPLOAD_LIMIT_BYTES = 4 * 1024 * 1024
UPLOAD_PATIENCE = UPLOAD_LIMIT_BYTES // BODY_LIMIT_BYTES
"""A file has as much more time to arrive as it may be larger than another body."""
UPLOAD_PATH = f"{PREFIX}/*/tables"

_MEDIA_TYPES = ("application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "application/zip", "text/csv")
_BOUNDS = Bounds()

router = APIRouter(prefix=f"{PREFIX}/{{id}}", tags=["drafts"])


async def file_of(request: Request) -> bytes:
    """Read a file of tables. Raises UnsupportedMediaTypeError, BodyTooLargeError, BodyTimeoutError."""
    declared = request.headers.get("content-type", "")[:200]
    told = declared.partition(";")[0].strip().lower()
    if told not in _MEDIA_TYPES:
        found = rendered(declared) if declared else "nothing"
        raise UnsupportedMediaTypeError("Content-Type", found, " or ".join(_MEDIA_TYPES), ", ".join(_MEDIA_TYPES))
    if told != "text/csv":  # whose bytes tell their encoding
        must_be(told, request)
    return await whole_body(request, request.app.state.body_timeout_s * UPLOAD_PATIENCE)


@router.post(
    "/tables",
    operation_id="bringDraftTables",
    summary="Bring tables into a draft: what they have otherwise than its base becomes its edits",
    description="The body is a workbook (XLSX), a zip of CSV files named after the tables, or one CSV file, in the "
    "form in which `portwright catalog export` writes them: at most 4 MB, 64 MB when it is unpacked, 200,000 rows; "
    "`portwright draft edit` takes more. A table that is absent changes nothing; an object without "
    "a row in the table of its section is removed, and so is an entry of a list without one in the table of that list. "
    "The order of rows tells nothing where they have a number. All is taken or nothing. What the draft has otherwise "
    "than its base already stays unless the tables change the same object: then 409, or `replace`. Each fault has the "
    "pointer `/SHEET/ROW/COLUMN`.",
    response_model=TablesTaken,
    responses=edited(
        "What the tables change, and what does not hold in the draft then.",
        TablesTaken,
        draft_examples.tables_taken(),
        *("unknown-id", "draft-published", "tables-conflict", "draft-changed"),
        *(problem for problem in OF_BODY if problem != "malformed-json"),
        may_be_new=False,
        is_left=False,
    ),
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {name: {"schema": {"type": "string", "format": "binary"}} for name in _MEDIA_TYPES},
        }
    }
    | query(parameters_of(TablesQuery)),
)
async def bring_tables(
    resources: AppResources,
    drafts: AppDrafts,
    id_: DraftId,
    given: Annotated[TablesQuery, Depends(query_of(TablesQuery))],
    file: Annotated[bytes, Depends(file_of)],
) -> Response:
    if given.table is not None and given.table not in tables():
        near = tuple(nearest(given.table, tables()))
        raise InvalidQueryError(ParameterFault("table", rendered(given.table), "the name of a table", near))
    told = await resources.take_in(_brought, drafts, id_, given, file)
    return represent(to_json(told), caching=NEVER)


def _brought(drafts: Drafts, id_: str, given: TablesQuery, file: bytes) -> TablesTaken:
    manner = Manner(given.author, given.reason, replace=given.replace, dry_run=given.dry_run)
    return bring(drafts, id_, sheets_in(io.BytesIO(file), given.table, _BOUNDS), manner)
