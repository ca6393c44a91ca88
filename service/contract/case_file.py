"""A file of cases, as the service serves them or as a partner writes them."""

from pathlib import Path

from pydantic import ValidationError

from service.documents.arriving import Part
from service.documents.contract import CaseFile
from service.documents.contract_integrity import case_faults
from service.documents.faults import Fault, faults_of
from service.documents.strict_json import JsonError, loads


class CaseFileError(ValueError):
    """The file holds no cases; every fault with its pointer."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("; ".join(f"{fault.pointer}: {fault.expected}" for fault in faults))
        self.faults = faults


def read_case_file(file: Path) -> CaseFile:
    """The cases of a file. Raises CaseFileError with every fault, OSError where it cannot be read."""
    try:
        data = loads(file.read_bytes())
        cases = CaseFile.model_validate(data)
    except JsonError as error:
        raise CaseFileError((Fault(error.pointer, error.found, error.expected),)) from error
    except ValidationError as error:
        raise CaseFileError(tuple(faults_of(error))) from error
    part = Part((), data if isinstance(data, dict) else {})
    faults = [fault for case in part.parts("cases") for fault in case_faults(case)]
    ids = [case.id for case in cases.cases]
    doubled = sorted({id_ for id_ in ids if ids.count(id_) > 1})
    faults += [Fault("/cases", repr(id_), "each id once") for id_ in doubled]
    if faults:
        raise CaseFileError(tuple(faults))
    return cases
