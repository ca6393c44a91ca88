"""`portwright serve`: the API over HTTP, on loopback unless it is opened to the network on purpose."""

import ipaddress
import logging
import os
import socket
import sys
from contextlib import nullcontext
from copy import deepcopy
from typing import Annotated, Any

import typer
import uvicorn
from uvicorn.config import LOGGING_CONFIG

from service.cli.console import errors
from service.cli.database import opened_database
from service.cli.refusals import NO_CATALOG, ExitCode, refusals_told, refuse
from service.documents.rendering import printable
from service.settings import PREFIX, Settings, read_settings
from service.storage.revisions import RevisionStore
from service.web.back_process import worked_behind
from service.web.logs import json_config
from service.web.process import EVENT_LOOP
from service.web.sharing import shared_folder

LOOPBACK = "127.0.0.1"
Port = Annotated[int, typer.Option(min=0, max=65_535, help="0: any that is free.")]
_APP = "service.web.serving:app_from_environment"
_CONNECTION = "service.web.connection:Connection"
_STOP_WITHIN_S = 30
_MOST_LOGGED = 300
_OTHER_FILES = 512
"""So many files and connections of other kinds a process may have open: database, catalogs, threads."""


@refusals_told()
def serve(
    host: Annotated[str, typer.Option(help="The address to listen on.")] = LOOPBACK,
    port: Port = 8000,
    workers: Annotated[int, typer.Option(min=1, max=64, help="Processes that answer.")] = 1,
    open_to_network: Annotated[
        bool, typer.Option("--open-to-network", help="Allow an address that others can reach.")
    ] = False,
) -> None:
    """Serve the API."""
    if not _is_loopback(host):
        _warn_or_refuse(host, open_to_network)
    settings = read_settings()
    with opened_database(settings.database_url) as database:
        newest = RevisionStore(database).latest()
        if newest is None:
            errors().print(f"portwright: {NO_CATALOG}; until then, questions are refused")
        behind = ", one for what takes long" if settings.back_process else ""
        follows = "looks for a publish all the time" if database.is_sqlite else "is told of each publish"
        errors().print(
            f"portwright: {database.name} is up to date, its newest revision {newest or 'none'}; starting "
            f"{workers} to answer{behind}; each {follows}"
        )
    run(settings, host, free_port(host, port), workers)


def free_port(host: str, port: int) -> int:
    """Return the port, or a free one for 0; leave with a message where it cannot be listened on."""
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        with socket.socket(family, kind, protocol) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
            probe.listen()
            return int(probe.getsockname()[1])
    except OSError as error:
        refuse(f"cannot listen on {at(host, port)}: {error.strerror}", ExitCode.UNAVAILABLE)


def run(settings: Settings, host: str, port: int, workers: int = 1) -> None:
    """Serve until interrupted. The settings reach every worker through the environment."""
    os.environ[f"{PREFIX}DATABASE_URL"] = settings.database_url.get_secret_value()
    os.environ[f"{PREFIX}PUBLIC_URL"] = settings.public_url or f"http://{at(_reached_at(host), port)}"
    _have_room_for(settings.most_connections)
    logs = _logging(settings)
    with shared_folder() as folder, worked_behind(folder, logs) if settings.back_process else nullcontext():
        uvicorn.run(
            _APP,
            factory=True,
            http=_CONNECTION,
            loop=EVENT_LOOP,
            ws="none",
            log_config=logs,
            access_log=settings.log == "plain",
            host=host,
            port=port,
            workers=workers,
            server_header=False,
            proxy_headers=False,
            timeout_graceful_shutdown=_STOP_WITHIN_S,
        )


def _reached_at(host: str) -> str:
    """The host by which this machine reaches itself where a server listens on `host`."""
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return host
    return LOOPBACK if address.is_unspecified else str(address)


def _have_room_for(most_connections: int) -> None:
    """Raise the process's limit of open files to what its connections need; exit with a message where it may not."""
    if sys.platform == "win32":
        return
    import resource  # there is none on Windows

    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = most_connections + _OTHER_FILES
    if soft == resource.RLIM_INFINITY or soft >= wanted:
        return
    if hard != resource.RLIM_INFINITY and hard < wanted:
        refuse(
            f"{most_connections} connections need {wanted} open files, and this process may have {hard}: "
            f"allow it more, or set {PREFIX}MOST_CONNECTIONS to less",
            ExitCode.BAD_INPUT,
        )
    resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))


def _logging(settings: Settings) -> dict[str, Any]:
    """Lines of JSON where that is set; else uvicorn's logging with long addresses cut, so that they fill no disk."""
    if settings.log == "json":
        return json_config()
    config: dict[str, Any] = deepcopy(LOGGING_CONFIG)
    config["filters"] = {"short": {"()": ShortAddresses}}
    config["handlers"]["access"]["filters"] = ["short"]
    return config


class ShortAddresses(logging.Filter):
    """Cuts the address in a record of a request."""

    def filter(self, record: logging.LogRecord) -> bool:
        if isinstance(record.args, tuple):
            record.args = tuple(printable(x, _MOST_LOGGED) if isinstance(x, str) else x for x in record.args)
        return True


def at(host: str, port: int) -> str:
    """Return host and port as they stand in a URL."""
    return f"[{host}]:{port}" if ":" in host else f"{host}:{port}"


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _warn_or_refuse(host: str, opened: bool) -> None:
    meaning = (
        "there is no TLS, so keys, and what is asked and answered, can be read on their way; whoever comes by this "
        "address needs a key (`portwright key new`)"
    )
    if not opened:
        refuse(
            f"--host {host} can be reached by others: {meaning}. "
            f"Listen on {LOOPBACK}, or say --open-to-network if that is meant",
            ExitCode.BAD_INPUT,
        )
    errors().print(f"portwright: open to the network on {host}: {meaning}")
