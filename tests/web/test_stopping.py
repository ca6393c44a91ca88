"""A server that is told to stop: not ready first, then what is under way ends, and nobody else is taken."""

import http.client
import signal
import time
from pathlib import Path
from urllib.parse import urlsplit

import httpx

from tests.support.server import PATIENCE_S, address_of, begun
from tests.support.sqlite_files import with_small_catalog

QUESTION = b'{"chassis": "brook", "layout": "factory"}'


def _is_taken(url: str) -> bool:
    try:
        return httpx.get(url).status_code == 503
    except httpx.TransportError:  # nobody listens, or it came in the very moment when the door was closed
        return False


def test_what_is_under_way_ends(tmp_path: Path) -> None:
    """A question of which half has come when the server is told to stop is answered; a later one finds nobody."""
    file = tmp_path / "catalog.sqlite3"
    with_small_catalog(file)
    with begun(f"sqlite:///{file}", back_process="false", stop_pause_s="1", log="json") as process:
        try:
            url = address_of(process)
            address = urlsplit(url).hostname, urlsplit(url).port
            begun_one = http.client.HTTPConnection(*address, timeout=PATIENCE_S)
            begun_one.putrequest("POST", "/v1/bills")
            begun_one.putheader("Content-Type", "application/json")
            begun_one.putheader("Content-Length", str(len(QUESTION)))
            begun_one.endheaders(QUESTION[:9])
            ready = f"{url}/v1/health/ready"
            assert httpx.get(ready).status_code == 200
            process.send_signal(signal.SIGTERM)
            until = time.monotonic() + PATIENCE_S
            while httpx.get(ready).status_code != 503:  # it answers all the same
                assert time.monotonic() < until
            while _is_taken(ready):
                assert time.monotonic() < until
            begun_one.send(QUESTION[9:])
            response = begun_one.getresponse()
            assert (response.status, b'"total_valid":1' in response.read()) == (200, True)
            begun_one.close()
            _, rest = process.communicate(timeout=PATIENCE_S)
        finally:
            process.kill()
    assert "told to stop: not ready from now on" in rest
    assert '"path": "/v1/bills", "status": 200' in rest
    assert "Traceback" not in rest
