"""A partner's test: standing cases and the promises of the API, held to any deployment over HTTP."""

from service.contract.case_file import CaseFileError, read_case_file
from service.contract.outcomes import Broken, Outcome
from service.contract.reports import github_lines, junit_xml
from service.contract.running import run_contract, trials
from service.contract.site import Site, opened

__all__ = [
    "Broken",
    "CaseFileError",
    "Outcome",
    "Site",
    "github_lines",
    "junit_xml",
    "opened",
    "read_case_file",
    "run_contract",
    "trials",
]
