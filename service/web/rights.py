"""Which right each operation and page asks for: one table, in which nothing may be missing."""

import re
from collections.abc import Iterable
from functools import lru_cache

from fastapi import APIRouter
from fastapi.routing import APIRoute
from starlette.routing import Route

from service.access.roles import Right

_OPERATIONS = (
    (Right.NONE, "getLiveness|getReadiness|getHealth"),
    (Right.ASK, "findBills|findBillsByQuery|recallBill|explainPart|readQuestion|joinPorts|listChassisLayouts"),
    (Right.ASK, "getDrawing|getDropCurves|getCatalogSchema|getProblem|listRevisions|listChanges|listItemUses"),
    (
        Right.ASK,
        "(list|get)(Items|Chassis|Layouts|Addons|Fuels|Materials|PortStandards)|listContractCases|getContractCase",
    ),
    (
        Right.DESK,
        "checkOrders?|recallOrderCheck|readOrder|send(Inquiry|UnknownCar)|recallInquiry|linkBill|getSheet|followShortLink",
    ),
    (Right.CASES, "(keep|delete)ContractCase|(make|get|change|delete|ping)Webhook|rotateWebhookSecret|listWebhooks"),
    (Right.PUBLISH, "publishDraft|restoreRevision"),
    (Right.EDIT, "answerInquiry|getImpact|listNextParts|bringDraftTables|[a-z]+Draft[A-Za-z]*|[a-z]+Sweep(Impact)?"),
)
"""By the id of an operation, the first that fits."""

_PAGES = (
    (Right.NONE, "(GET|POST) /sign-(in|out)|POST /units|GET /static/.*"),
    (Right.ASK, "GET /(policy|ask|ask/|catalog|catalog/.*|drop-curves|style|metrics|openapi[.]json)?"),
    (Right.DESK, "GET /bills/[^/]*/sheet.*"),
    (Right.ASK, "(GET|POST) /ask/said|GET /bills/.*"),
    (Right.DESK, "(GET|POST) /order(/.*)?|POST /inquiries|(GET|POST) /inquiries/car|GET /inquiries/[^/]*/sent"),
    (Right.PUBLISH, "POST /workshop/.*(publish|restore)"),
    (Right.EDIT, "(GET|POST) /(workshop|inquiries)(/.*)?"),
)
"""By method and path, the first that fits."""

_UNKNOWN = Right.ASK
"""Not even that there is nothing is told to who may not ask."""
_KEPT = 4_096
_LONGEST = 512


class Rights:
    """Tells which right a request asks for. Raises LookupError at once where a route has no row in the tables."""

    def __init__(self, routers: Iterable[APIRouter]) -> None:
        routes = [route for router in routers for route in router.routes if isinstance(route, Route)]
        self._routes = [(route.path_regex, route.methods or {"GET"}, right_of(route)) for route in routes]
        self._found = lru_cache(_KEPT)(self._find)

    def of(self, method: str, path: str) -> Right:
        """The right that a method of a path asks for; of what there is not, that of asking."""
        return (self._found if len(path) <= _LONGEST else self._find)("GET" if method == "HEAD" else method, path)

    def _find(self, method: str, path: str) -> Right:
        fits = (right for pattern, methods, right in self._routes if method in methods and pattern.match(path))
        return next(fits, _UNKNOWN)


def right_of(route: Route) -> Right:
    """The right that a route asks for. Raises LookupError where the tables say nothing of it."""
    operation = route.operation_id if isinstance(route, APIRoute) else None
    if operation is not None:
        return right_of_operation(operation)
    rights = {_first(_PAGES, f"{method} {route.path}") for method in (route.methods or {"GET"}) - {"HEAD"}}
    if len(rights) != 1:
        raise LookupError(f"the methods of {route.path} ask for more than one right")
    return rights.pop()


def right_of_operation(operation: str) -> Right:
    """The right that an operation asks for, by its id. Raises LookupError where the table says nothing of it."""
    return _first(_OPERATIONS, operation)


def _first(table: Iterable[tuple[Right, str]], name: str) -> Right:
    right = next((right for right, pattern in table if re.fullmatch(pattern, name)), None)
    if right is None:
        raise LookupError(f"no right is set for {name}")
    return right
