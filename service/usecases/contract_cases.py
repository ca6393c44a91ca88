"""The standing cases of a revision, as a partner can run them: with the key of each bill that is promised exactly; and
those of the partners beside them."""

from collections.abc import Iterable
from weakref import WeakKeyDictionary

from service.documents.catalog_cases import OtherCatalogCase, told
from service.documents.contract import CatalogCase, FileCase, FilePromises, PinnedQuestion
from service.documents.contract_kinds import AnyCase, CaseFile
from service.documents.money import money_of
from service.documents.request import BillRequest
from service.usecases.errors import RequestFaultsError
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request

_CASES: WeakKeyDictionary[Edition, CaseFile] = WeakKeyDictionary()


def contract_cases(edition: Edition) -> CaseFile:
    """The cases of an edition; a catalog without any has none.

    A case whose best bill is promised asks of this very revision; where it has none, or is not understood, there is no
    key, and whoever runs the case sees that its promise of a bill is broken.
    """
    if edition not in _CASES:
        _CASES[edition] = _cases(edition)
    return _CASES[edition]


def with_partners(file: CaseFile, partners: Iterable[AnyCase]) -> CaseFile:
    """The cases of a revision, then those of partners."""
    return file.model_copy(update={"cases": [*file.cases, *partners]})


def _cases(edition: Edition) -> CaseFile:
    cases = edition.catalog.contract_cases or ()
    told_cases = [_served(edition, case) for case in cases]
    return CaseFile(revision=edition.number, **money_of(edition.revision), cases=told_cases)


def question_of(request: PinnedQuestion) -> BillRequest:
    """The request for bills of a case."""
    return BillRequest.model_validate(request.model_dump(exclude_none=True))


def _served(edition: Edition, case: CatalogCase | OtherCatalogCase) -> AnyCase:
    return _of_bills(edition, case) if isinstance(case, CatalogCase) else told(case)


def _of_bills(edition: Edition, case: CatalogCase) -> FileCase:
    asked = case.request.model_dump(exclude_none=True, exclude_defaults=True)
    promised = case.promises.model_dump(exclude={"keyed"})
    if not case.promises.keyed:
        request = PinnedQuestion.model_validate(asked)
        return FileCase(id=case.id, says=case.says, request=request, promises=FilePromises(**promised))
    request = PinnedQuestion.model_validate(asked | {"revision": edition.number})
    promises = FilePromises(**promised, key=_best(edition, question_of(request)))
    return FileCase(id=case.id, says=case.says, request=request, promises=promises)


def _best(edition: Edition, question: BillRequest) -> str | None:
    try:
        bills = edition.engine.answer(resolve_request(question, edition.revision)).bills
    except RequestFaultsError:
        return None
    return key_maker(edition.number, question)(bills[0]) if bills else None
