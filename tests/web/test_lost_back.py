"""Readiness when the back process has died and no new one comes."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import httpx
import pytest

from service.usecases.library import Library
from service.web import back as back_module
from service.web import probes
from service.web.app import create_app
from service.web.back import Back


@asynccontextmanager
async def listening(socket: Path) -> AsyncIterator[None]:
    """Something that takes connections, and drops them all when it dies."""
    connected: list[asyncio.StreamWriter] = []
    server = await asyncio.start_unix_server(lambda _, writer: connected.append(writer), socket)
    try:
        yield
    finally:
        await asyncio.sleep(0.05)  # so that it has taken what came
        server.close()
        socket.unlink(missing_ok=True)
        for writer in connected:
            writer.transport.abort()
        await asyncio.sleep(0.05)


def test_a_back_process_that_does_not_come_again_is_told(
    library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Not before it was there, nor while a new one may still be starting; with a new one all is well again."""
    monkeypatch.setattr(back_module, "_HEARD_LATELY_S", 0.0)
    monkeypatch.setattr(probes, "_FRESH_S", 0.0)
    socket = tmp_path / "back"
    back = Back(str(socket))
    app = create_app(library, back=back)

    async def status() -> int:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1") as client:
            return (await client.get("/v1/health/ready")).status_code

    async def lives_and_dies() -> AsyncIterator[int]:
        yield await status()
        async with listening(socket):
            assert await back.is_there()
            yield await status()
        yield await status()
        monkeypatch.setattr(back_module, "_GONE_FOR_S", 0.0)
        yield await status()
        async with listening(socket):
            yield await status()
        back.close()

    async def all_told() -> list[int]:
        return [one async for one in lives_and_dies()]

    assert asyncio.run(all_told()) == [200, 200, 200, 503, 200]
