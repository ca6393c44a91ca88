"""A partner's test: standing cases and the promises of the API, held to any deployment over HTTP."""

from service.contract.case_file import CaseFileError, read_case_file
from service.contract.junit import junit_xml
from service.contract.outcomes import Outcome
from service.contract.running import run_contract

__all__ = ["CaseFileError", "Outcome", "junit_xml", "read_case_file", "run_contract"]
