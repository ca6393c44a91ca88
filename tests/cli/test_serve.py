"""`portwright serve`: on loopback unless opened on purpose, with or without a catalog, with several workers."""

import http.client
import re
import signal
import socket
from pathlib import Path

import httpx
import pytest

from service.cli import serve
from service.settings import Settings
from tests.cli.commands import PATIENCE_S, run, started
from tests.support.forked import served


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.7", "somewhere.example"])
def test_another_address_needs_the_user_s_word(host: str) -> None:
    """An address that others can reach is refused, with what it would mean and how to say so."""
    result = run("serve", "--host", host)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "there is no TLS" in result.stderr
    assert "no TLS" in result.stderr
    assert "--open-to-network" in result.stderr


def test_opening_says_what_it_means() -> None:
    """With the word given the meaning is still told; an address that this machine has not is refused then."""
    result = run("serve", "--host", "192.0.2.7", "--open-to-network")
    assert result.exit_code == 3
    assert "portwright: open to the network on 192.0.2.7: there is no TLS" in result.stderr
    assert "portwright: cannot listen on 192.0.2.7:8000: " in result.stderr


def test_a_port_that_is_taken_is_told() -> None:
    """Whoever has it goes on; nothing is served beside it."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        result = run("serve", "--port", port)
    assert result.exit_code == 3
    assert f"portwright: cannot listen on 127.0.0.1:{port}: Address already in use" in result.stderr


@pytest.mark.parametrize(
    "options", [["--port", "70000"], ["--workers", "0"], ["--port", "x"]], ids=["port", "workers", "no number"]
)
def test_numbers_out_of_range_are_usage_errors(options: list[str]) -> None:
    """The range is told."""
    assert run("serve", *options).exit_code == 2


@pytest.mark.parametrize("workers", ["2"])
def test_serve_before_and_after_an_import(workers: str, catalog_file: Path) -> None:
    """Without a catalog it says how to import one and serves, not ready; once one is there, it answers."""
    with started("serve", "--port", "0", "--workers", workers) as process:
        assert process.stdout is not None
        printed = ""
        for line in process.stdout:
            printed += line
            if "Application startup complete" in line:
                break
        assert "there is no catalog yet: import one with `portwright catalog import PATH`" in printed
        url = re.findall(r"http://127\.0\.0\.1:\d+", printed + next(process.stdout))[0]
        with httpx.Client(base_url=url, timeout=PATIENCE_S) as client:
            assert client.get("/v1/health/live").status_code == 200
            assert client.get("/v1/health/ready").status_code == 503
            question = {"chassis": "brook", "layout": "factory"}
            assert client.post("/v1/bills", json=question).status_code == 503
            assert run("catalog", "import", catalog_file).exit_code == 0
            assert client.get("/v1/health/ready").status_code == 200
            assert client.post("/v1/bills", json=question).json()["total_valid"] == 1
            told = client.get("/metrics", headers={"Connection": "close"}).text  # of all processes, whichever tells
            assert _counted(told, "/v1/bills") == 2
            assert _counted(told, "/v1/health/ready") == 2
        process.send_signal(signal.SIGINT)
        rest, _ = process.communicate(timeout=PATIENCE_S)
        assert process.returncode == 0, rest
        assert "Traceback" not in rest


def _counted(told: str, path: str) -> float:
    """How many requests with this path were counted."""
    found = re.findall(rf'^portwright_request_seconds_count\{{[^}}]*path="{path}"[^}}]*\}} (.*)$', told, re.MULTILINE)
    return sum(map(float, found))


def test_settings_hide_the_address(monkeypatch: pytest.MonkeyPatch) -> None:
    """A password in the address is in no print of the settings."""
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", "postgresql://me:secret@db/portwright")
    assert "secret" not in f"{Settings()!r} {Settings()} {Settings().model_dump()}"


def test_an_empty_setting_is_none(monkeypatch: pytest.MonkeyPatch, home: Path) -> None:
    """A variable that is set to nothing leaves the default."""
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", "")
    assert str(home) in Settings().database_url.get_secret_value()


def test_a_setting_that_is_wrong_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """By its name, before anything is served."""
    monkeypatch.setenv("PORTWRIGHT_ALLOWED_ORIGINS", "https://shop.example/")
    result = run("serve")
    assert result.exit_code == 2
    assert 'PORTWRIGHT_ALLOWED_ORIGINS: found "https://shop.example/", expected exact origins' in result.stderr


def test_an_overlong_address_is_refused_with_a_problem(tmp_path: Path) -> None:
    """Not by the HTTP server, which would not say what is wrong."""
    with served(f"sqlite:///{tmp_path / 'empty.sqlite3'}", back_process="false") as address:
        connection = http.client.HTTPConnection(address.removeprefix("http://"), timeout=PATIENCE_S)
        connection.request("GET", "/v1/bills?have=" + "%C3%A9" * 50_000)
        response = connection.getresponse()
        assert (response.status, response.getheader("content-type")) == (414, "application/problem+json")
        connection.close()


def test_on_another_address_nothing_is_given_without_a_key(tmp_path: Path, catalog_file: Path) -> None:
    """With the settings as they are unless somebody sets them; a key opens what its role may."""
    database_url = f"sqlite:///{tmp_path}/catalog.sqlite3"
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("PORTWRIGHT_DATABASE_URL", database_url)
        assert run("catalog", "import", catalog_file).exit_code == 0
        made = run("key", "new", "--role", "ask", "--account", "shop")
    key = {"Authorization": f"Bearer {made.stdout.strip()}"}
    with (
        served(database_url, host="127.0.0.2", without_key="", back_process="false") as url,
        httpx.Client(base_url=url, timeout=PATIENCE_S) as client,
    ):
        assert url.startswith("http://127.0.0.2:")
        for path in ("/v1/items", "/v1/order-checks/x", "/v1/nothing", "/openapi.json", "/ask", "/b/x", "/style"):
            assert client.get(path).status_code == 401, path
        assert client.post("/v1/bills", json={"chassis": "brook", "layout": "factory"}).status_code == 401
        led = client.get("/ask", headers={"Accept": "text/html"})
        assert (led.status_code, led.headers["location"]) == (303, "/sign-in?back=%2Fask")
        assert client.get("/v1/health/ready").status_code == 200
        assert client.get("/v1/items", headers=key).status_code == 200
        assert client.get("/v1/drafts", headers=key).status_code == 403


def test_the_event_loop_is_asyncio_s_whatever_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    """Others read on from who sends fast, and their transports are of another class."""
    told: dict[str, object] = {}
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", "sqlite:///catalog.sqlite3")  # what is tried sets both
    monkeypatch.setenv("PORTWRIGHT_PUBLIC_URL", "http://127.0.0.1:8000")
    monkeypatch.setattr("uvicorn.run", lambda *_, **given: told.update(given))
    serve.run(Settings(back_process=False), "127.0.0.1", 8000)
    assert told["loop"] == "asyncio"
