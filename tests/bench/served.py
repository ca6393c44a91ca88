"""The service with a few endpoints more, which send ready bytes: `python -m tests.bench.served serve`.

They are of the same application and behind the same middleware, so what a question costs more than they do is its own.
"""

from time import process_time

from fastapi import FastAPI, Request
from starlette.responses import Response

from service.cli import main, serve
from service.web.serving import app_from_environment

READY = "/bench/ready"
UNCHANGED = "/bench/unchanged"
SPENT = "/bench/spent"
_APP = "tests.bench.served:app"


def app() -> FastAPI:
    """The application with `PUT READY` (keeps the bytes), `POST READY` (sends them), `GET UNCHANGED` (304) and
    `GET SPENT` (the processor time of this process, in s)."""
    served = app_from_environment()
    ready = b"{}"

    async def keep(request: Request) -> Response:
        nonlocal ready
        ready = await request.body()
        return Response(status_code=204)

    async def send() -> Response:
        return Response(ready, media_type="application/json")

    async def unchanged() -> Response:
        return Response(status_code=304)

    async def spent() -> float:
        return process_time()

    served.add_api_route(SPENT, spent, methods=["GET"])
    served.add_api_route(READY, keep, methods=["PUT"])
    served.add_api_route(READY, send, methods=["POST"])
    served.add_api_route(UNCHANGED, unchanged, methods=["GET"])
    return served


if __name__ == "__main__":
    serve._APP = _APP
    main()
