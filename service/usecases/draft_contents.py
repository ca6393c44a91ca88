"""What stands in a draft: its catalog, its faults, what one edit of it does, which inquiries it answers."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from service.documents.answer import Answer
from service.documents.impact import ImpactAnswer
from service.documents.overlay import Edit, ObjectFault, Sections, catalog_over, faults_since, overlaid
from service.documents.packed import PackedCatalog
from service.documents.pointers import pointer_to, segments_of
from service.documents.request import BillRequest
from service.domain.lazy import lazy
from service.domain.work import TooCostlyError, metered
from service.impact.questions import standing_questions
from service.storage.drafts import StoredDraft
from service.usecases.drafts import Drafts, known
from service.usecases.errors import ConflictError, RequestFault, RequestFaultsError
from service.usecases.find_bills import answer_in
from service.usecases.impact import EditionSide, NewMeter, Remembered, impact_of, impact_told
from service.usecases.library import Edition, Library
from service.usecases.standing import KeptQuestions


@dataclass(frozen=True)
class Contents:
    """A draft with the objects of its base and what it has otherwise."""

    draft: StoredDraft
    base_catalog: PackedCatalog
    edits: tuple[Edit, ...]

    @property
    def base(self) -> Sections:
        """The objects of its base, by section and key."""
        return self.base_catalog.texts

    @lazy
    def texts(self) -> Mapping[str, Mapping[str, str]]:
        """All objects as the draft has them, by section and key."""
        return overlaid(self.base, self.edits)

    @lazy
    def faults(self) -> list[ObjectFault]:
        """All that does not hold in it."""
        return faults_since(self.base_catalog, self.texts)

    @lazy
    def catalog(self) -> PackedCatalog:
        """All objects as the draft has them, whether they hold together or not."""
        return PackedCatalog(self.texts)

    @lazy
    def whole(self) -> PackedCatalog:
        """The catalog of the draft. Raises ConflictError where something does not hold in it."""
        if self.faults:
            many = "1 fault" if len(self.faults) == 1 else f"{len(self.faults)} faults"
            raise ConflictError(
                "catalog-faults",
                f"The catalog does not hold together as the draft has it: {many}.",
                tuple(map(_told, self.faults)),
            )
        return catalog_over(self.texts)

    def document(self, section: str, key: str) -> str | None:
        """The canonical JSON of an object; None where there is none."""
        return self.texts.get(section, {}).get(key)

    def edit_of(self, section: str, key: str) -> Edit | None:
        """What the draft does to an object; None where it leaves it as it is in the base."""
        return next((x for x in self.edits if (x.section, x.key) == (section, key)), None)


def contents_of(drafts: Drafts, id_: str) -> Contents:
    """Look at a draft as a whole. Raises NotFoundError."""
    draft, edits = known(lambda: drafts.store.edits(id_))
    return Contents(draft, drafts.library.catalog(draft.base), tuple(edits))


def without_edit(contents: Contents, section: str, key: str) -> PackedCatalog | None:
    """The catalog of a draft with one of its edits undone; None where that does not hold together."""
    others = [x for x in contents.edits if (x.section, x.key) != (section, key)]
    if not others:
        return contents.base_catalog
    sections = overlaid(contents.base, others)
    return None if faults_since(contents.base_catalog, sections) else catalog_over(sections)


def edit_impact(
    contents: Contents, without: PackedCatalog, kept: KeptQuestions, new_meter: NewMeter, remembered: Remembered
) -> ImpactAnswer:
    """What one edit does to the standing questions, all others kept: the draft held against itself `without` it.

    Raises ConflictError where something does not hold in the draft.
    """
    number = contents.draft.base
    before, after = Edition(number, without), Edition(number + 1, contents.whole)
    impact = impact_of(before, after, kept.gather(), new_meter=new_meter, remembered=remembered)
    return impact_told(impact, before, after, (f"{contents.draft.id} without it", contents.draft.id))


def answers_in_base(
    library: Library, base: int, kept: KeptQuestions, new_meter: NewMeter, remembered: Remembered
) -> int:
    """Ask the base of a draft its own standing questions, so that an impact on it finds the answers; how many."""
    edition = library.edition(base)
    side = EditionSide(edition, remembered, new_meter)
    asked = standing_questions(edition.catalog, kept.gather())
    for question in asked:
        with suppress(TooCostlyError):
            side.seen(question)
    return len(asked)


def revision_impact(
    library: Library, before: int, after: int, kept: KeptQuestions, new_meter: NewMeter
) -> ImpactAnswer:
    """What one revision does to the standing questions of another. Raises NotFoundError."""
    old, new = library.edition(before), library.edition(after)
    return impact_told(impact_of(old, new, kept.gather(), new_meter=new_meter), old, new)


def answers_to(
    edition: Edition, requests: Mapping[str, Mapping[str, Any]], new_meter: NewMeter
) -> dict[str, Answer | None]:
    """What an edition answers to requests, by their names; None: it takes too much work, or is not understood there."""
    found: dict[str, Answer | None] = {}
    for name, asked in requests.items():
        try:
            request = BillRequest.model_validate({**asked, "revision": None, "limit": 1})
            with metered(new_meter()):
                found[name] = answer_in(edition, request)
        except (ValidationError, RequestFaultsError, TooCostlyError):
            found[name] = None
    return found


def _told(fault: ObjectFault) -> RequestFault:
    above = (fault.section, fault.key) if fault.key else (fault.section,)
    return RequestFault(pointer_to((*above, *segments_of(fault.pointer))), fault.found, fault.expected)
