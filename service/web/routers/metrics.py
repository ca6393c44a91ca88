"""What is counted, for Prometheus."""

from datetime import UTC, datetime

import anyio
import anyio.to_thread
from fastapi import APIRouter, Request
from prometheus_client import CONTENT_TYPE_LATEST
from starlette.responses import Response

from service.storage.errors import StorageError
from service.usecases.library import Library
from service.web.metrics import Answering, told
from service.web.queries import NothingAsked
from service.web.representations import NEVER, represent
from service.web.resources import Resources

router = APIRouter(include_in_schema=False)
_THREADS = anyio.CapacityLimiter(1)


@router.get("/metrics")
async def metrics(request: Request, _: NothingAsked) -> Response:
    resources = request.app.state.resources
    library = resources.library if isinstance(resources, Resources) else None
    content = await anyio.to_thread.run_sync(_all, library, limiter=_THREADS)
    return represent(content, caching=NEVER, media_type=CONTENT_TYPE_LATEST)


def _all(library: Library | None) -> bytes:
    return told(None if library is None else _answering(library))


def _answering(library: Library) -> Answering | None:
    """None while the database is away, or there is no revision: all else is told."""
    try:
        found = library.newest_published()
    except StorageError:
        return None
    return found and Answering(found[0], (datetime.now(UTC) - found[1]).total_seconds())
