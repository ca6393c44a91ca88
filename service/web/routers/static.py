"""The stylesheets and the script of the pages."""

from collections.abc import Awaitable, Callable

from fastapi import APIRouter
from starlette.responses import Response

from service.web.pages.rendering import STATIC, static_file
from service.web.queries import NothingAsked
from service.web.representations import CSS, JAVASCRIPT, REVALIDATE, represent

router = APIRouter(include_in_schema=False)
_MEDIA_TYPES = {".css": CSS, ".js": JAVASCRIPT}


def _giving(name: str, media_type: str) -> Callable[..., Awaitable[Response]]:
    async def give(_: NothingAsked) -> Response:
        return represent(static_file(name), caching=REVALIDATE, media_type=media_type)

    return give


for _file in sorted(STATIC.iterdir()):
    if _file.suffix in _MEDIA_TYPES:
        router.add_api_route(f"/static/{_file.name}", _giving(_file.name, _MEDIA_TYPES[_file.suffix]), methods=["GET"])
