"""What the edge itself refuses, before any use case is asked.

EdgeError
 ├─ InvalidQueryError          query parameters that are not known, given twice or not right
 ├─ InvalidBodyError           a body that is JSON but not what the operation takes
 ├─ NotAcceptableError         an answer asked for in media types that are not given here
 ├─ UnsupportedMediaTypeError  a body that does not say it is JSON
 ├─ BodyTooLargeError          a body, or a line of one, over the limit
 ├─ BatchTooLongError          a batch with more orders than are taken
 ├─ BodyTimeoutError           a body that does not arrive in time
 ├─ ForeignFormError           a form that no page of this site sent
 ├─ KeyRequiredError           a request without a key, where one is asked for
 ├─ NotAllowedError            a key whose role does not have the right
 ├─ TooManyRequestsError       more requests, or more bad keys, than are allowed in a minute
 ├─ PreconditionRequiredError  an edit that does not say under which state of the thing it is meant
 ├─ OverloadedError            too many questions at once
 ├─ MalformedRequestError      bytes that are no request of HTTP/1.1, or one without its one host
 ├─ WrongHostError             a request for a host that this service is not
 ├─ AddressTooLongError        an address over the limit
 ├─ HeadTooLargeError          headers over the limit
 ├─ HeadTimeoutError           an address and headers that do not arrive in time
 ├─ NoRoomError                nothing more of this kind can be put aside or kept for now
 └─ NotReadyError              whether questions can be answered was not known in time
"""

from dataclasses import dataclass

from service.access.roles import Right, Role
from service.documents.faults import Fault


@dataclass(frozen=True)
class ParameterFault:
    """A fault of a query parameter: its name, what was given, what would be right, the nearest known names."""

    parameter: str
    found: str
    expected: str
    nearest: tuple[str, ...] = ()


class EdgeError(Exception):
    """The base of all refusals of the edge."""


class KeyRequiredError(EdgeError):
    """Who shows no key may not do this; `right` is what it takes."""

    def __init__(self, right: Right) -> None:
        super().__init__(f"a key with the right {right.value} is asked for")
        self.right = right


class NotAllowedError(EdgeError):
    """The key is good, and its `role` does not have the `right` that this takes."""

    def __init__(self, role: Role | None, right: Right) -> None:
        super().__init__(f"the role {role} has not the right {right.value}")
        self.role = role
        self.right = right


class TooManyRequestsError(EdgeError):
    """Who asks has had what a minute allows; `fields` tell how much that is, the next minute begins in `anew_s`."""

    def __init__(self, fields: list[tuple[str, str]], anew_s: int) -> None:
        super().__init__(f"no more for {anew_s} s")
        self.fields = fields
        self.anew_s = anew_s


class InvalidQueryError(EdgeError):
    """The first faults of the query string, and how many there are besides."""

    def __init__(self, *faults: ParameterFault, more: int = 0) -> None:
        super().__init__("; ".join(f"{fault.parameter}: {fault.expected}" for fault in faults))
        self.faults = faults
        self.more = more


class InvalidBodyError(EdgeError):
    """The first faults of the body, and how many there are besides."""

    def __init__(self, faults: list[Fault], more: int = 0) -> None:
        super().__init__("; ".join(f"{fault.pointer}: {fault.expected}" for fault in faults))
        self.faults = faults
        self.more = more


class NotAcceptableError(EdgeError):
    """`found` is what the caller accepts, `offered` what there is; `missing`: what this installation lacks, if any."""

    def __init__(self, found: str, offered: tuple[str, ...], missing: str | None = None) -> None:
        super().__init__(f"Accept: {found}")
        self.found = found
        self.offered = offered
        self.missing = missing


class UnsupportedMediaTypeError(EdgeError):
    """`found` is what the request says of its body, shown safely; `header` is where it should say `accepted`."""

    def __init__(self, header: str, found: str, expected: str, accepted: str) -> None:
        super().__init__(f"{header}: {found}")
        self.header = header
        self.found = found
        self.expected = expected
        self.accepted = accepted


class BodyTooLargeError(EdgeError):
    """The body, or a line of it (`part`), has more than `limit_bytes`, told by its header or counted as it came."""

    def __init__(self, limit_bytes: int, part: str = "body") -> None:
        super().__init__(f"more than {limit_bytes} bytes")
        self.limit_bytes = limit_bytes
        self.part = part


class BatchTooLongError(EdgeError):
    """The batch has more than `limit` orders."""

    def __init__(self, limit: int) -> None:
        super().__init__(f"more than {limit} orders")
        self.limit = limit


class BodyTimeoutError(EdgeError):
    """The body was not there after `limit_s` seconds."""

    def __init__(self, limit_s: float) -> None:
        super().__init__(f"no whole body within {limit_s} s")
        self.limit_s = limit_s


class ForeignFormError(EdgeError):
    """The form does not carry the token of the browser that sends it, or another site had it sent."""


class PreconditionRequiredError(EdgeError):
    """The edit has neither If-Match nor If-None-Match."""


class OverloadedError(EdgeError):
    """All places are taken and the queue is full, or moves too slowly."""


class MalformedRequestError(EdgeError):
    """`reason` says what is wrong with it, in a sentence without its end."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class NoRoomError(EdgeError):
    """`reason` says what there is no room for, in a clause without its end."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class WrongHostError(EdgeError):
    """`host` is what the request says."""

    def __init__(self, host: str) -> None:
        super().__init__(f"Host: {host}")
        self.host = host


class AddressTooLongError(EdgeError):
    """The address alone has more than `limit_bytes`."""

    def __init__(self, limit_bytes: int) -> None:
        super().__init__(f"more than {limit_bytes} bytes")
        self.limit_bytes = limit_bytes


class HeadTooLargeError(EdgeError):
    """Address and headers have more than `limit_bytes`, or there are more headers than `most_headers`."""

    def __init__(self, limit_bytes: int, most_headers: int) -> None:
        super().__init__(f"more than {limit_bytes} bytes or {most_headers} headers")
        self.limit_bytes = limit_bytes
        self.most_headers = most_headers


class HeadTimeoutError(EdgeError):
    """Address and headers were not there after `limit_s` seconds."""

    def __init__(self, limit_s: float) -> None:
        super().__init__(f"no whole head within {limit_s} s")
        self.limit_s = limit_s


class NotReadyError(EdgeError):
    """The library did not open its newest edition in time; it may yet."""


class ElsewhereError(Exception):
    """No refusal: this request is for the back process, and nothing was done for it yet."""
