"""Transports of streams, of whichever event loop: those of uvloop are not of asyncio's class."""

import asyncio
from typing import TypeGuard


def stream(transport: asyncio.BaseTransport) -> asyncio.Transport:
    """The transport of a connection, as what it is. Raises TypeError for one that nothing can be written to."""
    if not _is_stream(transport):
        raise TypeError("expected the transport of a stream")
    return transport


def _is_stream(transport: asyncio.BaseTransport) -> TypeGuard[asyncio.Transport]:
    return isinstance(transport, asyncio.Transport) or hasattr(transport, "write")
