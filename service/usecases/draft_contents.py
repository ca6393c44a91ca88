"""What stands in a draft: its catalog, its faults, what one edit of it does, which inquiries it answers."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from service.documents.answer import Answer
from service.documents.draft import Faults
from service.documents.impact import ImpactAnswer
from service.documents.overlay import Edit, ObjectFault, Sections, catalog_over, faults_over, overlaid
from service.documents.packed import PackedCatalog
from service.documents.request import BillRequest
from service.domain.lazy import lazy
from service.domain.work import TooCostlyError, metered
from service.storage.drafts import StoredDraft
from service.usecases.draft_telling import faults_told
from service.usecases.drafts import Drafts, known
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import answer_in
from service.usecases.impact import NewMeter, impact_of, impact_told
from service.usecases.library import Edition, Library
from service.usecases.standing import KeptQuestions


@dataclass(frozen=True)
class Contents:
    """A draft with the objects of its base and what it has otherwise."""

    draft: StoredDraft
    base: Sections
    edits: tuple[Edit, ...]

    @lazy
    def texts(self) -> Mapping[str, Mapping[str, str]]:
        """All objects as the draft has them, by section and key."""
        return overlaid(self.base, self.edits)

    @lazy
    def faults(self) -> list[ObjectFault]:
        """All that does not hold in it."""
        return faults_over(self.texts)

    @property
    def faults_told(self) -> Faults:
        """The document of the first faults."""
        return faults_told(self.faults)

    @lazy
    def catalog(self) -> PackedCatalog:
        """All objects as the draft has them, whether they hold together or not."""
        return PackedCatalog(self.texts)

    def document(self, section: str, key: str) -> str | None:
        """The canonical JSON of an object; None where there is none."""
        return self.texts.get(section, {}).get(key)

    def edit_of(self, section: str, key: str) -> Edit | None:
        """What the draft does to an object; None where it leaves it as it is in the base."""
        return next((x for x in self.edits if (x.section, x.key) == (section, key)), None)


def contents_of(drafts: Drafts, id_: str) -> Contents:
    """Look at a draft as a whole. Raises NotFoundError."""
    draft, edits = known(lambda: drafts.store.edits(id_))
    return Contents(draft, drafts.library.catalog(draft.base).texts, tuple(edits))


def without_edit(contents: Contents, section: str, key: str) -> PackedCatalog | None:
    """The catalog of a draft with one of its edits undone; None where that does not hold together."""
    others = [x for x in contents.edits if (x.section, x.key) != (section, key)]
    sections = overlaid(contents.base, others)
    return None if faults_over(sections) else catalog_over(sections)


def edit_impact(contents: Contents, without: PackedCatalog, kept: KeptQuestions, new_meter: NewMeter) -> ImpactAnswer:
    """What one edit does to the standing questions, all others kept: the draft held against itself `without` it."""
    number = contents.draft.base
    before, after = Edition(number, without), Edition(number + 1, catalog_over(contents.texts))
    impact = impact_of(before, after, kept.gather(), new_meter=new_meter)
    return impact_told(impact, before, after, (f"{contents.draft.id} without it", contents.draft.id))


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
