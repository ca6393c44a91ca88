"""What can go wrong with a call.

ClientError
 ├─ AddressError              the base URL is none
 ├─ UnreachableError          no whole answer came
 ├─ BrokenAnswerError         an answer came that the API never gives
 └─ ProblemError              the service refused, and says why
     ├─ InvalidRequestError   the question is not right: see `errors`
     ├─ NotFoundError         no such id, or no such path
     ├─ KeyReusedError        the idempotency key came with another request before
     ├─ TooCostlyError        the question takes more work than one may take
     ├─ UnavailableError      not now; perhaps after `retry_after_s`
     └─ ServiceFailedError    a fault of the service
"""

from service.documents.problem import PAGES, Problem
from service.documents.problem import ProblemError as Fault


class ClientError(Exception):
    """The base of all that a call raises."""


class AddressError(ClientError):
    """The base URL is no address of a service: `address` is what was given."""

    def __init__(self, address: str) -> None:
        super().__init__(f"found {address!r}, expected a URL such as http://127.0.0.1:8000")
        self.address = address


class UnreachableError(ClientError):
    """No connection, or none that lasted until the answer was whole."""


class BrokenAnswerError(ClientError):
    """An answer that the API never gives: of another form, or a redirect; `status` is its HTTP status."""

    def __init__(self, status: int, reason: str) -> None:
        super().__init__(f"status {status}: {reason}")
        self.status = status
        self.reason = reason


class ProblemError(ClientError):
    """A problem document; tell problems apart by class or `code`, as `detail` is for people and may change."""

    def __init__(self, problem: Problem, retry_after_s: float | None = None) -> None:
        super().__init__(f"{problem.status} {problem.title}: {problem.detail}")
        self.problem = problem
        self.retry_after_s = retry_after_s

    @property
    def type(self) -> str:
        return self.problem.type

    @property
    def code(self) -> str:
        """The last part of the type."""
        return self.problem.type.rpartition("/")[2]

    @property
    def title(self) -> str:
        return self.problem.title

    @property
    def status(self) -> int:
        return self.problem.status

    @property
    def detail(self) -> str:
        return self.problem.detail

    @property
    def instance(self) -> str:
        return self.problem.instance

    @property
    def errors(self) -> list[Fault]:
        """Every fault: its place, what was found, what would be right, and the nearest known names."""
        return self.problem.errors


class InvalidRequestError(ProblemError):
    """The question is not right; each of `errors` names a place."""


class NotFoundError(ProblemError):
    """There is nothing with this id, or at this path."""


class KeyReusedError(ProblemError):
    """The idempotency key stands for another request; nothing was done."""


class TooCostlyError(ProblemError):
    """The question takes more work than one may take; the same question ends the same way again."""


class UnavailableError(ProblemError):
    """The service cannot answer now: busy, without its database, or without a catalog."""


class ServiceFailedError(ProblemError):
    """An unexpected fault of the service."""


_KINDS: dict[str, type[ProblemError]] = {
    "malformed-json": InvalidRequestError,
    "invalid-request": InvalidRequestError,
    "too-costly": TooCostlyError,
    "unknown-id": NotFoundError,
    "unknown-path": NotFoundError,
    "idempotency-key-reused": KeyReusedError,
    "no-catalog": UnavailableError,
    "storage-unavailable": UnavailableError,
    "overloaded": UnavailableError,
    "internal-error": ServiceFailedError,
}


def problem_error(problem: Problem, retry_after_s: float | None) -> ProblemError:
    """The exception of a problem, by its type; one that is not known here is a plain ProblemError."""
    kind = _KINDS.get(problem.type.removeprefix(f"{PAGES}/"), ProblemError)
    return kind(problem, retry_after_s)
