"""What the paths take: the methods of a path, all its routes together."""

from collections.abc import Awaitable, Callable, Iterable, Iterator

from fastapi import APIRouter, Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.types import Scope

from service.web.middleware import REFUSAL
from service.web.problems import Refusal
from service.web.refusals import method_not_allowed, unknown_path


def unrouted(
    routers: Iterable[APIRouter], respond: Callable[[Scope, Refusal], Response]
) -> Callable[[Request, Exception], Awaitable[Response]]:
    """Make what answers a request that no route took: OPTIONS with the path's methods, 405 with them, or 404; `respond`
    makes the answer of a refusal."""
    routes = [route for router in routers for route in router.routes if isinstance(route, Route)]

    def refuse(scope: Scope, refusal: Refusal) -> Response:
        scope.setdefault("state", {})[REFUSAL] = refusal.code
        return respond(scope, refusal)

    async def answer(request: Request, _: Exception) -> Response:
        methods = _methods(request.scope, routes)
        if not methods:
            refusal = unknown_path(request.url.path, dict.fromkeys(_led_to(request.url.path, routes)))
            return refuse(request.scope, refusal)
        allow = ", ".join(sorted(methods))
        if request.method == "OPTIONS":
            return Response(status_code=204, headers={"Allow": allow})
        return refuse(request.scope, method_not_allowed(request.method, allow))

    return answer


def _methods(scope: Scope, routes: Iterable[Route]) -> set[str]:
    path = scope["path"]
    own = [route for route in routes if route.path == path]  # else the path may be an id in that of another
    methods: set[str] = set()
    for route in own or routes:
        if route.path_regex.match(path):
            methods |= route.methods or set()
    if "GET" in methods:
        methods.add("HEAD")
    return methods | {"OPTIONS"} if methods else methods


def _led_to(path: str, routes: Iterable[Route]) -> Iterator[str]:
    """The paths that may have been meant: for who looked for a page, those that can be opened as they stand."""
    is_api = path.startswith("/v1")
    return (route.path_format for route in routes if is_api or "{" not in route.path_format)
