"""Bring tables into a draft: what they have otherwise than its base becomes its edits, all of it or nothing."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import BinaryIO

from service.documents.draft_tables import SectionTaken, TableDraftFault, TableEdit, TablesTaken
from service.documents.faults import MOST_TOLD
from service.documents.fuel_order import FUEL_ORDER, document_in, is_moved, order_in
from service.documents.overlay import Edit, ObjectFault, became, faults_since, fields_between, overlaid
from service.documents.packed import PackedCatalog
from service.documents.pointers import pointer_to
from service.storage.drafts import StoredDraft
from service.storage.errors import ChangedDraftError
from service.tables.faults import Place, TableFaultsError
from service.tables.opening import Bounds, Sheet, open_file, open_path
from service.tables.taking import Taken, take
from service.usecases.drafts import Drafts, known, published_already
from service.usecases.errors import ConflictError, RequestFault, RequestFaultsError

MOST_EDITS_TOLD = 100
_TRIES = 5

Named = tuple[str, str]


@dataclass(frozen=True)
class Manner:
    """How tables are taken: by whom and why. `replace`: they are laid over the draft, and what it has otherwise gives
    way; else they are laid over its base, and its other edits stay. `dry_run`: nothing is kept."""

    author: str | None = None
    reason: str | None = None
    replace: bool = False
    dry_run: bool = False


def sheets_in(file: BinaryIO, title: str | None, bounds: Bounds) -> list[Sheet]:
    """The tables of a file. Raises RequestFaultsError, each fault with its sheet, row and column."""
    try:
        return open_file(file, bounds, title)
    except TableFaultsError as error:
        raise _refused(error) from None


def sheets_at(path: Path, bounds: Bounds) -> list[Sheet]:
    """The tables of a file, or of a folder of CSV files. Raises as `sheets_in`; OSError."""
    try:
        return open_path(path, bounds)
    except TableFaultsError as error:
        raise _refused(error) from None


def bring(drafts: Drafts, id_: str, sheets: Sequence[Sheet], manner: Manner) -> TablesTaken:
    """Take tables into a draft, all or nothing.

    Raises NotFoundError; RequestFaultsError for what cannot be read; ConflictError where the draft is published, or has
    otherwise what the tables have otherwise too, and is not to give way.
    """
    for _ in range(_TRIES):
        draft, edits = known(lambda: drafts.store.edits(id_))
        if draft.published is not None:
            raise published_already(draft.published)
        base = drafts.library.catalog(draft.base)
        taken = _taken(sheets, PackedCatalog(overlaid(base.texts, edits)) if manner.replace else base)
        plan = _planned(draft, edits, base, taken, manner)
        if manner.dry_run:
            return plan.told(draft, taken, manner)
        try:
            after = _kept(drafts, draft, plan, manner)
        except ChangedDraftError:
            continue
        return plan.told(after, taken, manner)
    raise ConflictError("draft-changed", "The draft is being changed by others: nothing was taken. Send it again.")


def _taken(sheets: Sequence[Sheet], under: PackedCatalog) -> Taken:
    try:
        return take(sheets, under)
    except TableFaultsError as error:
        raise _refused(error) from None


def _kept(drafts: Drafts, draft: StoredDraft, plan: "_Plan", manner: Manner) -> StoredDraft:
    done_by = manner.author, manner.reason
    return known(lambda: drafts.store.edit_all(draft, plan.documents(), done_by, datetime.now(UTC)))


def _refused(error: TableFaultsError) -> RequestFaultsError:
    """Faults of tables as those of a request: the pointer names sheet, row and column."""
    told = (RequestFault(_pointer(x.place), x.found, x.expected, x.nearest) for x in error.faults.told)
    return RequestFaultsError(tuple(told), error.faults.more)


def _pointer(place: Place) -> str:
    return pointer_to(part for part in (place.sheet, place.row, place.column) if part is not None)


@dataclass(frozen=True)
class _Plan:
    """What tables do to a draft on a base: the objects that become others, as they stand and as they are to be."""

    sections: list[SectionTaken]
    becoming: dict[Named, tuple[str | None, str | None]]
    untouched: list[str]
    faults: list[ObjectFault]

    def documents(self) -> Iterable[tuple[str, str, str | None]]:
        """Yield what is to be written."""
        return ((*named, after) for named, (_, after) in self.becoming.items())

    def told(self, draft: StoredDraft, taken: Taken, manner: Manner) -> TablesTaken:
        """The document of what was done."""
        edits: list[TableEdit] = [
            {"section": section, "key": key, "what": what, "fields": list(fields_between(before, after))}
            for (section, key), (before, after) in list(self.becoming.items())[:MOST_EDITS_TOLD]
            if (what := became(before, after)) is not None
        ]
        return {
            "draft": draft.id,
            "base": draft.base,
            "version": draft.version,
            "dry_run": manner.dry_run,
            "sections": self.sections,
            "untouched": self.untouched,
            "edits": edits,
            "more_edits": len(self.becoming) - len(edits),
            "faults": [_fault(one, taken) for one in self.faults[:MOST_TOLD]],
            "more_faults": max(len(self.faults) - MOST_TOLD, 0),
        }


def _planned(draft: StoredDraft, edits: list[Edit], base: PackedCatalog, taken: Taken, manner: Manner) -> _Plan:
    """Hold tables against a base and the draft over it. Raises ConflictError."""
    edited = {(edit.section, edit.key): edit for edit in edits}
    becoming: dict[Named, tuple[str | None, str | None]] = {}
    counts: list[SectionTaken] = []
    conflicts: list[Edit] = []
    for section, texts in taken.texts.items():
        told = _nothing_of(section, texts)
        for key in _keys(section, texts, base.texts[section], edited):
            named, mine, theirs = (section, key), texts.get(key), base.texts[section].get(key)
            edit = edited.get(named)
            stands = theirs if edit is None else edit.document
            what = became(theirs, mine)
            if what is None:
                told["same"] += mine is not None
            else:
                told[what] += 1
            if mine == stands:
                continue
            if edit is None or manner.replace:
                becoming[named] = stands, mine
            elif what is None:
                told["kept"] += 1
            else:
                conflicts.append(edit)
        counts.append(told)
    if "fuels" in taken.texts:
        named = FUEL_ORDER, ""
        edit = edited.get(named)
        mine, theirs = order_in(taken.texts), order_in(base.texts)
        stands = theirs if edit is None else edit.document
        if is_moved(base.texts, taken.texts) and mine != stands:
            if edit is None or manner.replace:
                becoming[named] = stands, mine
            else:
                conflicts.append(edit)
        elif edit is not None and manner.replace and mine != stands:
            becoming[named] = stands, theirs
    if conflicts:
        raise _conflict(conflicts)
    written = [
        Edit(section, key, became(before, after) or "changed", after, draft.version, None, _NEVER)
        for (section, key), (_, after) in becoming.items()
        for before in [document_in(base.texts, section, key)]
    ]
    others = [edit for edit in edits if (edit.section, edit.key) not in becoming]
    faults = faults_since(base, overlaid(base.texts, [*others, *written]))
    untouched = [section for section in base.texts if section not in taken.texts]
    return _Plan(counts, becoming, untouched, faults)


_NEVER = datetime.min.replace(tzinfo=UTC)


def _nothing_of(section: str, texts: Mapping[str, str]) -> SectionTaken:
    return {"section": section, "objects": len(texts), "same": 0, "added": 0, "changed": 0, "removed": 0, "kept": 0}


def _keys(section: str, texts: Mapping[str, str], base: Mapping[str, str], edited: Iterable[Named]) -> Iterable[str]:
    """The keys of a section in the tables, the base and the draft, each once."""
    return {**texts, **base, **{key: "" for where, key in edited if where == section}}


def _conflict(conflicts: list[Edit]) -> ConflictError:
    return ConflictError(
        "tables-conflict",
        f"{len(conflicts)} of the objects that the tables have otherwise than the base, the draft has otherwise again: "
        "nothing was taken. Make their rows as the draft has them, or say `replace` for the tables to count.",
        tuple(
            RequestFault(
                pointer_to((edit.section, edit.key) if edit.key else (edit.section,)),
                f"{edit.what} in the draft by {edit.author or 'somebody'}",
                "the row as the draft has it",
            )
            for edit in conflicts
        ),
    )


def _fault(fault: ObjectFault, taken: Taken) -> TableDraftFault:
    place = taken.place_of(fault.section, fault.key, fault.pointer)
    return {
        "section": fault.section,
        "key": fault.key,
        "pointer": fault.pointer,
        "found": fault.found,
        "expected": fault.expected,
        "place": None if place is None else str(place),
    }
