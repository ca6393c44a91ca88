"""A typed client of the public API, over httpx: the same calls at once (`Client`) and awaited (`AsyncClient`)."""

from service.client.clients import AsyncClient, Client
from service.client.errors import (
    AddressError,
    BrokenAnswerError,
    ClientError,
    InvalidRequestError,
    KeyReusedError,
    NotFoundError,
    ProblemError,
    ServiceFailedError,
    TooCostlyError,
    UnavailableError,
    UnreachableError,
)
from service.client.operations import Fetched
from service.client.retries import Retries

__all__ = [
    "AddressError",
    "AsyncClient",
    "BrokenAnswerError",
    "Client",
    "ClientError",
    "Fetched",
    "InvalidRequestError",
    "KeyReusedError",
    "NotFoundError",
    "ProblemError",
    "Retries",
    "ServiceFailedError",
    "TooCostlyError",
    "UnavailableError",
    "UnreachableError",
]
