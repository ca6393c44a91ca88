"""A draft as tables: taken away as a workbook or CSV files, brought back, with what is wrong by sheet, row, column."""

import io
from collections.abc import Callable, Sequence
from pathlib import Path as FilePath
from tempfile import TemporaryDirectory
from typing import Annotated, NamedTuple

from fastapi import APIRouter, Path, Request
from starlette.datastructures import UploadFile
from starlette.responses import Response

from service.documents.draft_tables import TablesTaken
from service.documents.packed import PackedCatalog
from service.documents.pointers import segments_of
from service.documents.rendering import printable
from service.tables.csv_files import write_csv
from service.tables.derive import tables
from service.tables.opening import Bounds
from service.tables.workbook import write_workbook
from service.usecases.draft_contents import contents_of
from service.usecases.draft_tables import Manner, bring, sheets_in
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError, RequestFault, RequestFaultsError
from service.web.counter.forms import sent_form
from service.web.counter.showing import PageRoute, shown
from service.web.counter.workshop_desk import PATH, keep_who, who_works
from service.web.handing import go_elsewhere
from service.web.pages.workshop_words import SECTION_WORDS
from service.web.resources import AppDrafts, AppResources
from service.web.routers.draft_tables import UPLOAD_LIMIT_BYTES

router = APIRouter(include_in_schema=False, route_class=PageRoute)

UPLOAD_PATH = f"{PATH}/*/tables"
DraftId = Annotated[str, Path(alias="id")]
_FILE = "tables"
_LONGEST_NAME = 80
_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_WRITERS: dict[str, tuple[Callable[[PackedCatalog, FilePath], None], str]] = {
    "xlsx": (write_workbook, _XLSX),
    "zip": (write_csv, "application/zip"),
}


class Misfit(NamedTuple):
    """What is wrong with a table, and where: empty where it is the whole that is."""

    sheet: str
    row: str
    column: str
    found: str
    expected: str
    nearest: tuple[str, ...] = ()


@router.get(f"{PATH}/{{id}}/tables")
async def tables_page(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    return await resources.look(_page, request, drafts, id_)


@router.get(f"{PATH}/{{id}}/tables.{{form}}")
async def take_away(
    resources: AppResources, drafts: AppDrafts, id_: DraftId, form: Annotated[str, Path(pattern="^(xlsx|zip)$")]
) -> Response:
    go_elsewhere()
    contents = await resources.look(contents_of, drafts, id_)
    content = await resources.take_in(_written, contents.catalog, form)
    name = f'attachment; filename="{id_}-{contents.draft.version}.{form}"'
    headers = {"Content-Disposition": name, "Cache-Control": "private, no-cache"}
    return Response(content, headers=headers, media_type=_WRITERS[form][1])


def _written(catalog: PackedCatalog, form: str) -> bytes:
    with TemporaryDirectory() as folder:
        path = FilePath(folder) / f"draft.{form}"
        _WRITERS[form][0](catalog, path)
        return path.read_bytes()


@router.post(f"{PATH}/{{id}}/tables")
async def bring_back(request: Request, resources: AppResources, drafts: AppDrafts, id_: DraftId) -> Response:
    async with sent_form(request) as form:
        file = form.get(_FILE)
        told = {name: value for name, value in form.multi_items() if isinstance(value, str)}
        if not isinstance(file, UploadFile) or not file.filename:
            misfit = Misfit("", "", "", "no file", "a workbook (XLSX), a CSV file, or a zip of CSV files")
            return await resources.look(_page, request, drafts, id_, told, [misfit])
        content, name = await file.read(), file.filename
    manner = Manner(
        told.get("author", "").strip() or None,
        told.get("reason", "").strip() or None,
        replace=told.get("replace") == "yes",
        dry_run=told.get("do") == "try",
    )
    try:
        taken = await resources.take_in(_brought, drafts, id_, (content, name), manner)
    except RequestFaultsError as error:
        misfits = [_misfit(fault, printable(name)[:_LONGEST_NAME]) for fault in error.faults]
        return await resources.look(_page, request, drafts, id_, told, misfits, error.more)
    except ConflictError as error:
        if error.code != "tables-conflict":
            raise
        return await resources.look(_page, request, drafts, id_, told, [], 0, error)
    answer = await resources.look(_page, request, drafts, id_, told, (), 0, None, taken)
    return keep_who(answer, manner.author or "", request)


def _brought(drafts: Drafts, id_: str, file: tuple[bytes, str], manner: Manner) -> TablesTaken:
    content, name = file
    stem = FilePath(name).stem
    return bring(drafts, id_, sheets_in(io.BytesIO(content), stem if stem in tables() else None, Bounds()), manner)


def _misfit(fault: RequestFault, file: str) -> Misfit:
    sheet, row, column, *_ = (*segments_of(fault.pointer), "", "", "")
    return Misfit(sheet or file, row, column, fault.found, fault.expected, tuple(fault.nearest))


def _named(fault: RequestFault) -> tuple[str, str]:
    """Section and key of an object that the draft has otherwise too."""
    section, key, *_ = (*segments_of(fault.pointer), "")
    return section, key


def _page(
    request: Request,
    drafts: Drafts,
    id_: str,
    given: dict[str, str] | None = None,
    misfits: Sequence[Misfit] = (),
    more: int = 0,
    conflict: ConflictError | None = None,
    taken: TablesTaken | None = None,
) -> Response:
    contents = contents_of(drafts, id_)
    status = 409 if conflict is not None else 422 if misfits else 200
    return shown(
        request,
        "workshop_tables.html",
        status=status,
        draft=contents.draft,
        who=(given or {}).get("author") or who_works(request) or contents.draft.author or "",
        given=given or {},
        misfits=misfits,
        more=more,
        conflict=conflict,
        in_conflict=[_named(fault) for fault in conflict.faults] if conflict else [],
        taken=taken,
        words=SECTION_WORDS,
        most_mb=UPLOAD_LIMIT_BYTES // 1024**2,
    )
