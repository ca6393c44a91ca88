"""A file of cases, as the service serves them or as a partner writes them."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from service.documents.arriving import Part
from service.documents.contract_integrity import case_faults
from service.documents.contract_kinds import CASES, AnyCase
from service.documents.faults import Fault, faults_of
from service.documents.rendering import rendered
from service.documents.strict_json import JsonError, loads

_FIELDS = {"revision", "currency", "tax", "cases"}
_MOST_CASES = 10_000


class CaseFileError(ValueError):
    """The file holds no cases; every fault with its pointer."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{fault.pointer}: {fault.expected}" for fault in faults))
        self.faults = faults


def read_case_file(file: Path) -> tuple[AnyCase, ...]:
    """The cases of a file. Raises CaseFileError with every fault, OSError where it cannot be read."""
    try:
        data = loads(file.read_bytes())
    except JsonError as error:
        raise CaseFileError((Fault(error.pointer, error.found, error.expected),)) from error
    if not isinstance(data, dict):
        raise CaseFileError((Fault("", rendered(data), "an object with the list cases"),))
    faults: list[Fault] = list(_faults_of_file(data))
    cases: list[AnyCase] = []
    for place, told in enumerate(() if faults else data["cases"]):
        try:
            cases.append(_case(told, f"/cases/{place}"))
        except CaseFileError as error:
            faults += error.faults
    if not faults:
        faults += [fault for case in Part((), data).parts("cases") for fault in case_faults(case)]
    names = [(case.account, case.id) for case in cases]
    doubled = dict.fromkeys(name for name in names if names.count(name) > 1)
    faults += [Fault("/cases", repr(id_), "each id once") for _, id_ in doubled]
    if faults:
        raise CaseFileError(tuple(faults))
    return tuple(cases)


def _faults_of_file(data: dict[str, Any]) -> Iterator[Fault]:
    for name in sorted(data.keys() - _FIELDS):
        yield Fault(f"/{name}", rendered(data[name]), "no such field: a file has cases")
    cases = data.get("cases")
    if not isinstance(cases, list) or len(cases) > _MOST_CASES:
        yield Fault("/cases", rendered(cases), f"a list of at most {_MOST_CASES} cases")


def _case(told: Any, pointer: str) -> AnyCase:
    """A case as what its kind makes of it. Raises CaseFileError."""
    if not isinstance(told, dict):
        raise CaseFileError((Fault(pointer, rendered(told), "an object"),))
    kind = told.get("kind", "bills")
    model = CASES.get(kind) if isinstance(kind, str) else None
    if model is None:
        raise CaseFileError((Fault(f"{pointer}/kind", rendered(kind), f"one of: {', '.join(CASES)}"),))
    try:
        return model.model_validate(told)
    except ValidationError as error:
        raise CaseFileError(tuple(faults_of(error, pointer, model))) from error
