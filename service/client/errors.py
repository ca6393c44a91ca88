"""What can go wrong with a call.

ClientError
 ├─ AddressError              the base URL is none
 ├─ UnreachableError          no whole answer came
 ├─ BrokenAnswerError         an answer came that the API never gives
 ├─ StillWorkingError         the answer is worked out, longer than `patience_s`
 └─ ProblemError              the service refused, and says why
     ├─ InvalidRequestError   the question is not right: see `errors`
     ├─ NotAllowedError       the key is missing, not good, or has not this right
     ├─ NotFoundError         no such id, or no such path
     ├─ ConflictError         somebody was faster, or something else stands against it
     ├─ KeyReusedError        the idempotency key came with another request before
     ├─ TooCostlyError        the question takes more work than one may take
     ├─ UnavailableError      not now; perhaps after `retry_after_s`
     └─ ServiceFailedError    a fault of the service
"""

from . import schemas

_PAGES = "/v1/problems/"


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


class StillWorkingError(ClientError):
    """The answer is worked out in the background and was not there in time: ask again later."""


class ProblemError(ClientError):
    """A problem document; tell problems apart by class or `code`, as `detail` is for people and may change."""

    def __init__(self, problem: schemas.Problem, retry_after_s: float | None = None) -> None:
        super().__init__(f"{problem['status']} {problem['title']}: {problem['detail']}")
        self.problem = problem
        self.retry_after_s = retry_after_s

    @property
    def type(self) -> str:
        return self.problem["type"]

    @property
    def code(self) -> str:
        """The last part of the type."""
        return self.problem["type"].rpartition("/")[2]

    @property
    def title(self) -> str:
        return self.problem["title"]

    @property
    def status(self) -> int:
        return self.problem["status"]

    @property
    def detail(self) -> str:
        return self.problem["detail"]

    @property
    def instance(self) -> str:
        return self.problem.get("instance", "")

    @property
    def errors(self) -> list[schemas.ProblemError]:
        """Every fault: its place, what was found, what would be right, and the nearest known names."""
        return self.problem.get("errors", [])


class InvalidRequestError(ProblemError):
    """The question is not right; each of `errors` names a place."""


class NotAllowedError(ProblemError):
    """The key is missing, not good, or does not have the right."""


class NotFoundError(ProblemError):
    """There is nothing with this id, or at this path."""


class ConflictError(ProblemError):
    """Somebody was faster, or what stands there forbids it; `code` tells which."""


class KeyReusedError(ProblemError):
    """The idempotency key stands for another request; nothing was done."""


class TooCostlyError(ProblemError):
    """The question takes more work than one may take; the same question ends the same way again."""


class UnavailableError(ProblemError):
    """The service cannot answer now: busy, asked too often, without its database, or without a catalog."""


class ServiceFailedError(ProblemError):
    """An unexpected fault of the service."""


_CODES: dict[type[ProblemError], tuple[str, ...]] = {
    InvalidRequestError: ("malformed-json", "invalid-request"),
    NotAllowedError: ("key-required", "unknown-key", "not-allowed"),
    NotFoundError: ("unknown-id", "unknown-path"),
    ConflictError: (
        "answers-lost",
        "case-exists",
        "catalog-faults",
        "draft-changed",
        "draft-conflict",
        "draft-published",
        "edited-meanwhile",
        "newer-revision",
        "nothing-to-publish",
        "precondition-required",
        "tables-conflict",
    ),
    KeyReusedError: ("idempotency-key-reused",),
    TooCostlyError: ("too-costly",),
    UnavailableError: ("no-catalog", "overloaded", "storage-unavailable", "too-many-requests"),
    ServiceFailedError: ("internal-error",),
}
_KINDS = {code: kind for kind, codes in _CODES.items() for code in codes}


def problem_error(problem: schemas.Problem, retry_after_s: float | None) -> ProblemError:
    """The exception of a problem, by its type; one that is not known here is a plain ProblemError."""
    kind = _KINDS.get(problem["type"].removeprefix(_PAGES), ProblemError)
    return kind(problem, retry_after_s)
