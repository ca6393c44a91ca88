"""Problems: the closed list of their types, and the answer that carries a problem document."""

from dataclasses import dataclass, replace
from types import MappingProxyType
from urllib.parse import quote

from pydantic_core import to_json
from starlette.responses import Response

from service.documents.problem import MEDIA_TYPE, PAGES, Problem, ProblemError


@dataclass(frozen=True)
class ProblemType:
    """A kind of problem: its code, status and title never change; `remedy` tells what the caller can do."""

    code: str
    status: int
    title: str
    meaning: str
    remedy: str

    @property
    def uri(self) -> str:
        """The full path that identifies the type and serves a page about it."""
        return f"{PAGES}/{self.code}"


_TYPES = (
    ProblemType(
        "malformed-json",
        400,
        "The body is not JSON",
        "The bytes of the body could not be read as JSON in UTF-8, nest too deep or hold an overlong integer.",
        "Send one JSON object; the detail tells the line and column at which reading stopped.",
    ),
    ProblemType(
        "malformed-request",
        400,
        "This is no request of HTTP/1.1",
        "The bytes could not be read as a request, or it does not say once for which host it is.",
        "Send it with a library for HTTP; the connection is closed.",
    ),
    ProblemType(
        "key-required",
        401,
        "A key is asked for",
        "Who shows no key may not do this here.",
        "Ask who runs the service for a key; send it as `Authorization: Bearer KEY`.",
    ),
    ProblemType(
        "unknown-key",
        401,
        "The key is not good",
        "What was shown is no key of this service, or it was revoked, or its time is over.",
        "Ask who runs the service for a new one; to ask as everybody may, show none.",
    ),
    ProblemType(
        "not-allowed",
        403,
        "The key does not allow this",
        "The key is good, but its role does not have the right to do this.",
        "Use a key of one of the roles that the detail tells.",
    ),
    ProblemType(
        "foreign-form",
        403,
        "The form was not sent by a page of this service",
        "A form goes with a token that the page gave to the same browser; this one came without it.",
        "Open the page anew and send its form from there, with cookies of this site allowed.",
    ),
    ProblemType(
        "unknown-path",
        404,
        "There is nothing at this path",
        "No operation has this path.",
        "The paths are listed in /openapi.json.",
    ),
    ProblemType(
        "unknown-id",
        404,
        "There is nothing with this id",
        "The path or the query names something that is not in the revision of the catalog that was asked.",
        "Take the id from a list, such as /v1/chassis; `nearest` offers the known ids that are alike.",
    ),
    ProblemType(
        "method-not-allowed",
        405,
        "The path does not take this method",
        "The path exists, but not for this method.",
        "Use one of the methods of the Allow header.",
    ),
    ProblemType(
        "not-acceptable",
        406,
        "The answer is not given in such a form",
        "The header Accept names no media type in which this path answers.",
        "Accept one of the media types that the detail tells, or send no Accept header.",
    ),
    ProblemType(
        "body-timeout",
        408,
        "The body did not arrive in time",
        "The request was begun, but its body was not complete within the time that is allowed.",
        "Send the request again, without pauses.",
    ),
    ProblemType(
        "head-timeout",
        408,
        "The head of the request did not arrive in time",
        "A connection was opened, but the address and the headers were not complete within the time that is allowed.",
        "Send the request again, without pauses.",
    ),
    ProblemType(
        "case-exists",
        409,
        "The account has another case with this id",
        "A case is kept under its account and its id, and another one is there.",
        "Give the case another id, or delete the one that is kept first.",
    ),
    ProblemType(
        "draft-published",
        409,
        "The draft is published",
        "A draft that became a revision is not changed any more.",
        "Begin another one: POST /v1/drafts.",
    ),
    ProblemType(
        "draft-changed",
        409,
        "The draft was changed meanwhile",
        "Somebody edited the draft while this was done; nothing of this was kept.",
        "Look at what changed, and send it again.",
    ),
    ProblemType(
        "draft-conflict",
        409,
        "The draft and a newer revision both changed something",
        "An object was changed in the draft and, otherwise, by a revision that was published after the draft began.",
        "Make the object in the draft what it should be and say whose state is to stay: `keep`, draft or newest.",
    ),
    ProblemType(
        "tables-conflict",
        409,
        "The draft and the tables both changed something",
        "An object was changed in the draft and, otherwise, by the tables that are brought into it; nothing was taken.",
        "Make its row what the draft has, or say `replace=true` for the tables to count.",
    ),
    ProblemType(
        "newer-revision",
        409,
        "Another revision was published meanwhile",
        "What is to be published follows a revision that is not the newest any more.",
        "Move the draft to the newest revision with POST /v1/drafts/{id}/rebase, look at it and publish it then.",
    ),
    ProblemType(
        "catalog-faults",
        409,
        "The catalog does not hold together",
        "Parts of the catalog as it would be published do not fit one another.",
        "Each entry of `errors` names an object, what was found there and what would be right.",
    ),
    ProblemType(
        "answers-lost",
        409,
        "Answers would be lost",
        "With this catalog promises are broken, or questions that had a bill have none.",
        "Put that right, or say with `accept` why it is published all the same.",
    ),
    ProblemType(
        "nothing-to-publish",
        409,
        "There is nothing to publish",
        "The catalog is the same as the newest revision.",
        "Edit the draft first.",
    ),
    ProblemType(
        "edited-meanwhile",
        412,
        "It is not as it was any more",
        "The thing to be edited was changed, made or removed since it was looked at.",
        "Read it again, look at what others did, and send the edit with the ETag that it has now.",
    ),
    ProblemType(
        "body-too-large",
        413,
        "The body is too large",
        "The body, or one line of a batch, has more bytes than any question needs, or the batch has too many orders.",
        "Send at most as much at once as the detail tells.",
    ),
    ProblemType(
        "address-too-long",
        414,
        "The address is too long",
        "The path and the query have more bytes than any question needs.",
        "Send the question as the body of a POST, such as POST /v1/bills.",
    ),
    ProblemType(
        "unsupported-media-type",
        415,
        "The body is not declared as JSON",
        "Bodies are JSON in UTF-8, uncompressed, and must say so; a batch has one JSON object a line.",
        "Send the header Content-Type: application/json (application/x-ndjson with a batch) and no Content-Encoding.",
    ),
    ProblemType(
        "wrong-host",
        421,
        "This service is not that host",
        "The header Host names a host that this service does not answer for.",
        "Ask by the address that the service was given; who runs it allows others with PORTWRIGHT_ALLOWED_HOSTS or"
        " PORTWRIGHT_PUBLIC_URL.",
    ),
    ProblemType(
        "invalid-request",
        422,
        "The request is understood but not valid",
        "A field or query parameter is unknown, missing, given twice, out of range, or names something that is"
        " not in the catalog or does not go with the rest.",
        "Each entry of `errors` names the place, what was found there and what would be right.",
    ),
    ProblemType(
        "idempotency-key-reused",
        422,
        "The idempotency key came with another request",
        "The key stands for a request that was answered before, and this request is another one.",
        "Make a new key for each new request; to have the old answer again, send the old request with its key.",
    ),
    ProblemType(
        "too-costly",
        422,
        "The question takes too much work",
        "Its answer takes more steps than one question may take. Nothing was answered in part, and the same question"
        " ends the same way again.",
        "Narrow it as the detail tells: a layout, a finish, fewer variants, fewer parts at once.",
    ),
    ProblemType(
        "precondition-required",
        428,
        "The edit does not say what it is meant for",
        "An edit without If-Match could undo what others did without anybody seeing it.",
        "Send If-Match with the ETag of the object as you saw it, or If-None-Match: * to make a new one.",
    ),
    ProblemType(
        "too-many-requests",
        429,
        "Too many requests within a minute",
        "This key, or without one this address, has asked as often as a minute allows, or showed too many bad keys.",
        "Ask again after the seconds of the Retry-After header; RateLimit-Policy and RateLimit tell what is allowed.",
    ),
    ProblemType(
        "head-too-large",
        431,
        "The head of the request is too large",
        "The address and the headers together have more bytes than are taken, or the headers are too many.",
        "Send fewer or shorter headers: cookies of this host alone, for one.",
    ),
    ProblemType(
        "internal-error",
        500,
        "The service failed",
        "An unexpected fault of the service, which has been logged under the request id.",
        "Report the request id (the header X-Request-ID); the same request may work later.",
    ),
    ProblemType(
        "no-catalog",
        503,
        "No catalog has been imported yet",
        "The service runs, but its database holds no revision of a catalog.",
        "Import one: portwright catalog import PATH.",
    ),
    ProblemType(
        "storage-unavailable",
        503,
        "The database does not answer",
        "The database cannot be reached, is busy, or is not in a state that can be read.",
        "Try again after the seconds of the Retry-After header.",
    ),
    ProblemType(
        "no-room",
        507,
        "There is no room for this now",
        "What was sent is right, but cannot be put aside or kept: the disk is full, or too much waits already.",
        "Send it again later; who runs the service sees the reason in its log.",
    ),
    ProblemType(
        "overloaded",
        503,
        "Too many questions at once",
        "All places are taken and the queue is full.",
        "Try again after the seconds of the Retry-After header.",
    ),
)
_IN_DETAIL = 3
PROBLEM_TYPES = MappingProxyType({kind.code: kind for kind in _TYPES})


@dataclass(frozen=True)
class Refusal:
    """A problem before it is told: its type's code, its detail, its faults and further headers.

    `more`: how many faults there are besides.
    """

    code: str
    detail: str
    errors: tuple[ProblemError, ...] = ()
    headers: tuple[tuple[str, str], ...] = ()
    more: int = 0

    def with_header(self, name: str, value: str) -> "Refusal":
        return replace(self, headers=(*self.headers, (name, value)))


def fault(place: dict[str, str], found: str, expected: str, nearest: tuple[str, ...] = ()) -> ProblemError:
    """Word one fault; `place` is {"pointer": JSON Pointer} or {"parameter": name}."""
    where = {name: "#" + quote(at, safe="/~") if name == "pointer" else at for name, at in place.items()}
    hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
    at = next(iter(place.values())) or "the body"
    return ProblemError(
        **where,
        detail=f"{at}: found {found}, expected {expected}{hint}.",
        found=found,
        expected=expected,
        nearest=list(nearest),
    )


def faulty(errors: tuple[ProblemError, ...], more: int = 0) -> Refusal:
    """Refuse a request for its faults, `more` of which are not told; the detail says all of them up to three."""
    told = [error.detail for error in errors[:_IN_DETAIL]]
    rest = len(errors) + more - len(told)
    counted = [f"{rest} more: see errors."] if rest else []
    return Refusal("invalid-request", " ".join([*told, *counted]), errors, more=more)


def problem_of(refusal: Refusal, occurrence: str) -> Problem:
    """Make the problem document of a refusal; `occurrence` is the request's id, perhaps with a part of it behind #."""
    kind = PROBLEM_TYPES[refusal.code]
    return Problem(
        type=kind.uri,
        title=kind.title,
        status=kind.status,
        detail=refusal.detail,
        instance=f"urn:uuid:{occurrence}",
        errors=list(refusal.errors),
        more=refusal.more or None,
    )


def problem_response(refusal: Refusal, request_id: str) -> Response:
    """Answer with a problem document."""
    problem = problem_of(refusal, request_id)
    headers = {"Cache-Control": "no-store", **dict(refusal.headers)}
    return Response(to_json(problem, exclude_none=True), problem.status, headers, MEDIA_TYPE)
