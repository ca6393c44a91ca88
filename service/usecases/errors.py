"""What a use case refuses, with what it takes to say so clearly.

RefusedError
 ├─ RequestFaultsError         the question is well formed but names what is not there or does not fit
 ├─ NotFoundError              the thing asked for by its id is not there
 ├─ IdempotencyKeyReusedError  the key that makes a request safe to repeat came with another one before
 ├─ EditedMeanwhileError       what is to be edited is not as whoever edits it saw it
 ├─ ConflictError              what is asked for is right, but not in the state in which things are
 ├─ FullError                  nothing more of this kind is kept
 └─ NoCatalogError             no catalog has been imported yet
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class RequestFault:
    """One fault of a request: where (JSON pointer), what stood there, what would be right, the nearest known ids."""

    pointer: str
    found: str
    expected: str
    nearest: tuple[str, ...] = ()

    def within(self, pointer: str) -> "RequestFault":
        """Return the fault at its place in a document that holds the request at `pointer`."""
        return replace(self, pointer=f"{pointer}{self.pointer}")


class RefusedError(Exception):
    """The base of all refusals."""


class RequestFaultsError(RefusedError):
    """The request names unknown ids or values that do not fit the catalog; every fault is listed, or the first of many
    and how many more there are."""

    def __init__(self, faults: tuple[RequestFault, ...], more: int = 0) -> None:
        super().__init__("; ".join(f"{fault.pointer}: {fault.found}: {fault.expected}" for fault in faults))
        self.faults = faults
        self.more = more


class NotFoundError(RefusedError):
    """`kind` is what was looked for in words (item, chassis, bill ...), `value` the id that is not known."""

    def __init__(self, kind: str, value: str, nearest: tuple[str, ...] = ()) -> None:
        super().__init__(f"no {kind} {value!r}")
        self.kind = kind
        self.value = value
        self.nearest = nearest


class IdempotencyKeyReusedError(RefusedError):
    """`key` was given with another request before; nothing was done this time."""

    def __init__(self, key: str) -> None:
        super().__init__(f"the idempotency key {key!r} came with another request before")
        self.key = key


class EditedMeanwhileError(RefusedError):
    """`given` is what the edit was meant for, `tag` what stands, None: nothing; `told` says who did what since."""

    def __init__(self, given: str, tag: str | None, told: str) -> None:
        super().__init__(told)
        self.given = given
        self.tag = tag
        self.told = told


class ConflictError(RefusedError):
    """`code` is the kind of problem, `told` says what is in the way; the first `faults` each name a place."""

    def __init__(self, code: str, told: str, faults: tuple[RequestFault, ...] = ()) -> None:
        super().__init__(told)
        self.code = code
        self.told = told
        self.faults = faults


class FullError(RefusedError):
    """`reason` says what there is no room for, in a clause without its end."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class UnknownKeyError(RefusedError):
    """A key that is none of this service, or is revoked or over: which of these is not said."""

    def __init__(self) -> None:
        super().__init__("no key of this service that is still good")


class NoCatalogError(RefusedError):
    """No revision exists yet: import a catalog first."""
