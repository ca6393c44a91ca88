"""Which error becomes which problem: one row an error class, and a function where a row does not do."""

from collections.abc import Callable, Iterable
from types import MappingProxyType
from typing import Any, NamedTuple

from service.access.roles import RIGHTS, Right
from service.documents.faults import MOST_TOLD
from service.documents.nearest import nearest_words
from service.documents.rendering import printable, rendered
from service.documents.strict_json import InvalidJsonError, MalformedJsonError
from service.domain.work import TooCostlyError
from service.explain.too_costly import too_costly
from service.storage.errors import StorageError
from service.usecases.errors import (
    ConflictError,
    EditedMeanwhileError,
    FullError,
    IdempotencyKeyReusedError,
    NoCatalogError,
    NotFoundError,
    RequestFaultsError,
    UnknownKeyError,
)
from service.web.errors import (
    AddressTooLongError,
    BatchTooLongError,
    BodyTimeoutError,
    BodyTooLargeError,
    ForeignFormError,
    HeadTimeoutError,
    HeadTooLargeError,
    InvalidBodyError,
    InvalidQueryError,
    KeyRequiredError,
    MalformedRequestError,
    NoRoomError,
    NotAcceptableError,
    NotAllowedError,
    NotReadyError,
    OverloadedError,
    PreconditionRequiredError,
    TooManyRequestsError,
    UnsupportedMediaTypeError,
    WrongHostError,
)
from service.web.problems import PROBLEM_TYPES, Refusal, fault, faulty

_PARAMETERS = {
    "item": ("sku", "sku"),
    "bill": ("key", "key"),
    "problem type": ("code", "code"),
    "short link": ("code", "code"),
    "revision": ("revision", "number"),
}
"""The parameter of path or query that names a thing of a kind, and what it gives of it; of others it is the `id`."""

IDEMPOTENCY_KEY = "Idempotency-Key"
_CHALLENGE = (("WWW-Authenticate", "Bearer"),)
_HOW_TO_SHOW = "Send it as `Authorization: Bearer KEY`, or sign in at /sign-in."
_LAST = (("Connection", "close"),)
"""Where a request ends cannot be told after this: the connection is closed."""


def _retry_after(seconds: int) -> tuple[tuple[str, str], ...]:
    return (("Retry-After", str(seconds)),)


def _not_found(error: NotFoundError) -> Refusal:
    found = rendered(error.value)
    hint = f"; nearest: {', '.join(error.nearest)}" if error.nearest else ""
    parameter, name = _PARAMETERS.get(error.kind, ("id", "id"))
    told = fault({"parameter": parameter}, found, f"the {name} of a known {error.kind}", error.nearest)
    return Refusal("unknown-id", f"There is no {error.kind} {found}{hint}.", (told,))


def _key_reused(error: IdempotencyKeyReusedError) -> Refusal:
    expected = "another key, or the request that it came with before"
    told = fault({"parameter": IDEMPOTENCY_KEY}, rendered(error.key), expected)
    return Refusal("idempotency-key-reused", told.detail, (told,))


def _request_faults(error: RequestFaultsError) -> Refusal:
    told = error.faults[:MOST_TOLD]
    worded = tuple(fault({"pointer": x.pointer}, x.found, x.expected, x.nearest) for x in told)
    return faulty(worded, len(error.faults) - len(told) + error.more)


def _edited_meanwhile(error: EditedMeanwhileError) -> Refusal:
    parameter = "If-None-Match" if error.given == "*" and error.tag else "If-Match"
    told = fault({"parameter": parameter}, rendered(error.given), error.tag or "If-None-Match: *, as there is nothing")
    refusal = Refusal("edited-meanwhile", error.told, (told,))
    return refusal if error.tag is None else refusal.with_header("ETag", error.tag)


def _conflict(error: ConflictError) -> Refusal:
    told = error.faults[:MOST_TOLD]
    worded = tuple(fault({"pointer": x.pointer}, x.found, x.expected, x.nearest) for x in told)
    return Refusal(error.code, error.told, worded, more=len(error.faults) - len(told))


def _precondition_required(_: PreconditionRequiredError) -> Refusal:
    told = fault({"parameter": "If-Match"}, "nothing", "the ETag of the object as you saw it")
    return Refusal("precondition-required", _plain("precondition-required").detail, (told,))


def _invalid_query(error: InvalidQueryError) -> Refusal:
    told = error.faults[:MOST_TOLD]
    worded = tuple(fault({"parameter": x.parameter}, x.found, x.expected, x.nearest) for x in told)
    return faulty(worded, len(error.faults) - len(told) + error.more)


def _invalid_body(error: InvalidBodyError) -> Refusal:
    return faulty(tuple(fault({"pointer": x.pointer}, x.found, x.expected) for x in error.faults), error.more)


def _invalid_json(error: InvalidJsonError) -> Refusal:
    return faulty((fault({"pointer": error.pointer}, error.found, error.expected),))


def _not_acceptable(error: NotAcceptableError) -> Refusal:
    expected = f"one of {', '.join(error.offered)}"
    told = fault({"parameter": "Accept"}, error.found, expected)
    missing = "" if error.missing is None else f" {error.missing}"
    return Refusal("not-acceptable", f"{told.detail}{missing}", (told,), (("Vary", "Accept"),))


def _unsupported_media_type(error: UnsupportedMediaTypeError) -> Refusal:
    told = fault({"parameter": error.header}, error.found, error.expected)
    accept = "Accept" if error.header == "Content-Type" else "Accept-Encoding"
    return Refusal("unsupported-media-type", told.detail, (told,), ((accept, error.accepted),))


def _wrong_host(error: WrongHostError) -> Refusal:
    told = fault({"parameter": "Host"}, rendered(error.host), "a host that this service answers for")
    return Refusal("wrong-host", told.detail, (told,))


def _too_costly(error: TooCostlyError) -> Refusal:
    return Refusal("too-costly", too_costly(error))


def _key_required(error: KeyRequiredError) -> Refusal:
    detail = f"This takes a key of {_roles_with(error.right)}; none was shown. {_HOW_TO_SHOW}"
    return Refusal("key-required", detail, headers=_CHALLENGE)


def _not_allowed(error: NotAllowedError) -> Refusal:
    shown = "no key" if error.role is None else f"a key of the role {error.role.value}"
    return Refusal("not-allowed", f"This takes a key of {_roles_with(error.right)}; {shown} was shown.")


def _too_many_requests(error: TooManyRequestsError) -> Refusal:
    told = ", ".join(value for _, value in error.fields)
    detail = f"No more is answered for {error.anew_s} seconds: {told}."
    return Refusal("too-many-requests", detail, headers=(*error.fields, ("Retry-After", str(error.anew_s))))


def _roles_with(right: Right) -> str:
    roles = [role.value for role, rights in RIGHTS.items() if right in rights]
    return f"the role {roles[0]}" if len(roles) == 1 else f"one of the roles {', '.join(roles)}"


def _plain(code: str) -> Refusal:
    kind = PROBLEM_TYPES[code]
    return Refusal(code, f"{kind.meaning} {kind.remedy}")


class _Row(NamedTuple):
    """The refusal of an error that is told by its own fields: `detail` has them in braces; "": what its type means."""

    code: str
    detail: str = ""
    headers: tuple[tuple[str, str], ...] = ()

    def told(self, error: Exception) -> Refusal:
        detail = self.detail.format_map(vars(error)) or _plain(self.code).detail
        return Refusal(self.code, detail, headers=self.headers)


_NO_ROOM = _Row("no-room", "There is no room for this now: {reason}. Send it again later.", _retry_after(60))
_NO_STORAGE = _Row("storage-unavailable", headers=_retry_after(5))
"""The error's own text names the database: it goes to the log, not out."""

_ROWS: dict[type[Exception], _Row] = {
    NoCatalogError: _Row("no-catalog", headers=_retry_after(5)),
    MalformedJsonError: _Row("malformed-json", "The body is not JSON: {found}."),
    # The connection stays: were it closed, many callers would be cut off in sending and never see the answer.
    BodyTooLargeError: _Row("body-too-large", "The {part} has more than the {limit_bytes} bytes that are taken."),
    BatchTooLongError: _Row(
        "body-too-large",
        "The batch has more than the {limit} orders that are taken; nothing from this line on was read.",
    ),
    BodyTimeoutError: _Row("body-timeout", "The body was not complete after {limit_s:g} seconds.", _LAST),
    MalformedRequestError: _Row("malformed-request", "This is no request of HTTP/1.1: {reason}.", _LAST),
    AddressTooLongError: _Row("address-too-long", "The address has more than {limit_bytes} bytes.", _LAST),
    HeadTooLargeError: _Row(
        "head-too-large",
        "Address and headers have more than {limit_bytes} bytes, or there are more than {most_headers} headers.",
        _LAST,
    ),
    HeadTimeoutError: _Row("head-timeout", "Address and headers were not complete after {limit_s:g} seconds.", _LAST),
    UnknownKeyError: _Row("unknown-key", headers=_CHALLENGE),
    ForeignFormError: _Row("foreign-form"),
    OverloadedError: _Row("overloaded", headers=_retry_after(1)),
    NoRoomError: _NO_ROOM,
    FullError: _NO_ROOM,
    NotReadyError: _NO_STORAGE,
    StorageError: _NO_STORAGE,
}


REFUSALS: MappingProxyType[type[Exception], Callable[[Any], Refusal]] = MappingProxyType(
    {
        **{error: row.told for error, row in _ROWS.items()},
        NotFoundError: _not_found,
        RequestFaultsError: _request_faults,
        IdempotencyKeyReusedError: _key_reused,
        EditedMeanwhileError: _edited_meanwhile,
        ConflictError: _conflict,
        PreconditionRequiredError: _precondition_required,
        InvalidQueryError: _invalid_query,
        InvalidBodyError: _invalid_body,
        InvalidJsonError: _invalid_json,
        NotAcceptableError: _not_acceptable,
        UnsupportedMediaTypeError: _unsupported_media_type,
        WrongHostError: _wrong_host,
        TooCostlyError: _too_costly,
        KeyRequiredError: _key_required,
        NotAllowedError: _not_allowed,
        TooManyRequestsError: _too_many_requests,
    }
)


def refusal_of(error: Exception) -> Refusal | None:
    """Give the refusal for an error by its class or the nearest class above it; None where none is meant."""
    return next((REFUSALS[cls](error) for cls in type(error).__mro__ if cls in REFUSALS), None)


def unknown_path(path: str, known: Iterable[str]) -> Refusal:
    """Refuse a path that no operation has."""
    return Refusal("unknown-path", f"There is nothing at {printable(path)}{nearest_words(path, known)}.")


def method_not_allowed(method: str, allow: str) -> Refusal:
    """Refuse a method that the path does not take; `allow` lists those that it does."""
    detail = f"This path takes {allow}; {printable(method, 20)} is none of them."
    return Refusal("method-not-allowed", detail, headers=(("Allow", allow),))


def internal_error() -> Refusal:
    """Refuse without a word about what happened inside."""
    return _plain("internal-error")
