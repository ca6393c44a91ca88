"""A typed client of the public API, over httpx: the same calls at once (`Client`) and awaited (`AsyncClient`).

    from portwright_client import Client, operations

    with Client("https://parts.example", key="...") as api:
        for item in api.each(operations.list_items(kind="gauge")):
            print(item["sku"], item["name"])

Every operation of the OpenAPI document is a method, named as its id is; answers are TypedDicts of `schemas`.
"""

from . import operations, schemas
from .calls import Call, Fetched, Listed, answer, given, segment
from .clients import AsyncClient, Client
from .errors import (
    AddressError,
    BrokenAnswerError,
    ClientError,
    ConflictError,
    InvalidRequestError,
    KeyReusedError,
    NotAllowedError,
    NotFoundError,
    ProblemError,
    ServiceFailedError,
    StillWorkingError,
    TooCostlyError,
    UnavailableError,
    UnreachableError,
)
from .news import is_signed
from .retries import NO_RETRIES, Retries

__all__ = [
    "NO_RETRIES",
    "AddressError",
    "AsyncClient",
    "BrokenAnswerError",
    "Call",
    "Client",
    "ClientError",
    "ConflictError",
    "Fetched",
    "InvalidRequestError",
    "KeyReusedError",
    "Listed",
    "NotAllowedError",
    "NotFoundError",
    "ProblemError",
    "Retries",
    "ServiceFailedError",
    "StillWorkingError",
    "TooCostlyError",
    "UnavailableError",
    "UnreachableError",
    "answer",
    "given",
    "is_signed",
    "operations",
    "schemas",
    "segment",
]
