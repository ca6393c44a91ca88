"""What can be set from outside: environment variables named PORTWRIGHT_..., read once at the start."""

import ipaddress
import re
from collections.abc import Callable, Iterable
from importlib.util import find_spec
from pathlib import Path
from typing import Annotated, Literal

from platformdirs import user_data_path
from pydantic import BeforeValidator, Field, SecretStr, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict
from sqlalchemy import URL

from service.access.allowances import A_MINUTE
from service.access.roles import Role
from service.documents.rendering import rendered
from service.storage.keeping import LAST_DAY, MOST_KEPT, USUAL, Keeping

PREFIX = "PORTWRIGHT_"
WORK_LIMIT = 1_000_000
"""Steps that a question may take: a second or two on one core of a small machine."""
LEAST_WORK, MOST_WORK = 1_000, 10**12
MOST_KEPT_MB = 4_096
MOST_PAUSE_S = 300
MOST_NUMBER = 10**9


def data_folder() -> Path:
    """Return the user's own folder for data, which may not exist yet; never a folder of the package."""
    return user_data_path("portwright", appauthor=False)


def sqlite_url(file: Path) -> SecretStr:
    """Return the address of the SQLite database in `file`."""
    return SecretStr(URL.create("sqlite", database=str(file)).render_as_string(hide_password=False))


class SettingsError(Exception):
    """A variable has a value that is not taken; the text names it, what was found and what would be right."""


def _origins(text: object) -> object:
    """Split a list of origins at its commas; each must stand as a browser sends it."""
    if not isinstance(text, str):
        return text
    origins = tuple(part.strip() for part in text.split(","))
    for origin in origins:
        found = _ORIGIN.fullmatch(origin)
        port = found and found["port"]
        if found is None or (port and (int(port) > _LAST_PORT or port == _DEFAULT_PORTS[found["scheme"]])):
            raise PydanticCustomError("origin", "not an origin", {"found": origin})
    return origins


def _public_url(text: object) -> object:
    """Take an origin; a slash behind it does no harm."""
    origins = _origins(text.removesuffix("/")) if isinstance(text, str) else text
    if isinstance(origins, tuple) and len(origins) > 1:
        raise PydanticCustomError("origin", "more than one", {"found": text})
    return origins[0] if isinstance(origins, tuple) else origins


def _hosts(text: object) -> object:
    """Split a list of hosts at its commas."""
    if not isinstance(text, str):
        return text
    hosts = tuple(part.strip() for part in text.split(","))
    for host in hosts:
        if not _HOST.fullmatch(host):
            raise PydanticCustomError("host", "not a host", {"found": host})
    return hosts


def _roles(text: object) -> object:
    """Split a list of roles at its commas; the word none stands for none of them."""
    if not isinstance(text, str):
        return text
    return () if text.strip() == "none" else tuple(part.strip() for part in text.split(","))


def _numbers(names: Iterable[str], least: int, most: int) -> Callable[[object], object]:
    """Make what splits a list of NAME=NUMBER at its commas; names are of these, each number from `least` to `most`."""
    known = frozenset(names)

    def numbers(text: object) -> object:
        if not isinstance(text, str):
            return text
        pairs = [tuple(word.strip() for word in part.split("=")) for part in text.split(",")]
        for pair in pairs:
            is_right = len(pair) == 2 and pair[0] in known and _WHOLE.fullmatch(pair[1])
            if not is_right or not least <= int(pair[1]) <= most:
                raise PydanticCustomError("number", "not a number of a name", {"found": "=".join(pair)})
        return {pair[0]: int(pair[1]) for pair in pairs}

    return numbers


def _proxies(text: object) -> object:
    """Split a list of addresses and networks at its commas."""
    if not isinstance(text, str):
        return text
    try:
        return tuple(ipaddress.ip_network(part.strip()) for part in text.split(","))
    except ValueError:
        raise PydanticCustomError("network", "not a network", {"found": text}) from None


def _redis(text: object) -> object:
    """Take the address of a Redis."""
    if isinstance(text, str) and (not _REDIS.fullmatch(text) or find_spec("redis") is None):
        raise PydanticCustomError("redis", "not the address of a Redis", {"found": text})
    return text


_REDIS = re.compile(r"rediss?://\S+")
_WHOLE = re.compile("[0-9]{1,15}", re.ASCII)
_LABEL = "[a-z0-9]([a-z0-9-]*[a-z0-9])?"
_ORIGIN = re.compile(
    rf"(?P<scheme>https?)://({_LABEL}(\.{_LABEL})*|\[[0-9a-f:.]+\])(:(?P<port>[1-9][0-9]{{0,4}}))?", re.ASCII
)
_HOST = re.compile(rf"{_LABEL}(\.{_LABEL})*|\[?[0-9a-f:.]+\]?", re.ASCII)
_DEFAULT_PORTS = {"http": "80", "https": "443"}
_LAST_PORT = 65_535


Days = Annotated[int, Field(ge=1, le=LAST_DAY)]
Numbers = Annotated[dict[str, int], NoDecode]


class Settings(BaseSettings):
    """All settings. An empty variable counts as one that is not set.

    `database_url` may hold a password and is hidden where settings are printed; `storage.open_database` judges it.
    `allowed_origins`: the origins whose pages may call the API from a browser.
    `style_page`: serve the page of all pieces that pages are put together of, for who works on them.
    `log`: how the log is written, for people or as a line of JSON a record.
    `stop_pause_s`: so long a service that is told to stop says that it is not ready before it takes nothing more.
    `back_process`: have a second process for what takes long.
    `work_limit`: the most steps that one question may take.
    `kept_answers_mb`: so much of the answers that were given last is kept by each process; 0: nothing.
    `public_url`: scheme, host and port by which others reach the service; links are told with it.
    `allowed_hosts`: the hosts that requests may name beside that of `public_url`; none: those of loopback.
    `most_connections`: of one process at once; `most_connections_a_client`: of them, from one address.
    `head_timeout_s`: so long may a request's address and headers take to arrive.
    `without_key`: the roles that whoever shows no key has, who comes by loopback to a service that is reached by it
    alone; `without_key_from_elsewhere`: who comes by any other way.
    `requests_a_minute`: how often a key of a role may ask, and what is counted by address; 0: as often as it likes.
    `limits_url`: the Redis in which several workers count that together; None: each counts alone.
    `proxies`: those whose word is taken for the address that a request comes from.
    `work_limits`: the most steps of one question by role, where that is not `work_limit`.
    `most_kept`: how many things of a kind one account keeps at once.
    `keep_asked_questions`: count the questions that are asked, so that a change of the catalog can be tried on them.
    `webhooks_to_private`: news may go to this machine, to its own network, and without TLS.
    `keep_..._days`: how long what was sent is kept, and a draft that nobody changes.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, env_ignore_empty=True, frozen=True, extra="forbid")

    database_url: SecretStr = Field(default_factory=lambda: sqlite_url(data_folder() / "portwright.sqlite3"))
    allowed_origins: Annotated[tuple[str, ...], NoDecode, BeforeValidator(_origins)] = ()
    style_page: bool = False
    log: Literal["plain", "json"] = "plain"
    stop_pause_s: Annotated[float, Field(ge=0, le=MOST_PAUSE_S)] = 0.0
    back_process: bool = True
    work_limit: Annotated[int, Field(ge=LEAST_WORK, le=MOST_WORK)] = WORK_LIMIT
    kept_answers_mb: Annotated[int, Field(ge=0, le=MOST_KEPT_MB)] = 32
    public_url: Annotated[str | None, BeforeValidator(_public_url)] = None
    allowed_hosts: Annotated[tuple[str, ...], NoDecode, BeforeValidator(_hosts)] = ()
    most_connections: Annotated[int, Field(ge=8, le=50_000)] = 512
    most_connections_a_client: Annotated[int, Field(ge=1, le=50_000)] = 256
    head_timeout_s: Annotated[float, Field(ge=0.1, le=600)] = 10.0
    without_key: Annotated[tuple[Role, ...], NoDecode, BeforeValidator(_roles)] = (Role.ASK, Role.DESK)
    without_key_from_elsewhere: Annotated[tuple[Role, ...], NoDecode, BeforeValidator(_roles)] = ()
    requests_a_minute: Annotated[Numbers, BeforeValidator(_numbers(A_MINUTE, 0, MOST_NUMBER))] = Field(
        default_factory=dict
    )
    limits_url: Annotated[SecretStr | None, BeforeValidator(_redis)] = None
    proxies: Annotated[
        tuple[ipaddress.IPv4Network | ipaddress.IPv6Network, ...], NoDecode, BeforeValidator(_proxies)
    ] = ()
    work_limits: Annotated[Numbers, BeforeValidator(_numbers(Role, LEAST_WORK, MOST_WORK))] = Field(
        default_factory=dict
    )
    most_kept: Annotated[Numbers, BeforeValidator(_numbers(MOST_KEPT, 1, MOST_NUMBER))] = Field(default_factory=dict)
    keep_asked_questions: bool = True
    webhooks_to_private: bool = False
    keep_order_checks_days: Days = USUAL.order_checks_days
    keep_inquiries_days: Days = USUAL.inquiries_days
    keep_short_links_days: Days = USUAL.short_links_days
    keep_drafts_days: Days = USUAL.drafts_days

    @property
    def keeping(self) -> Keeping:
        """For how long things are kept."""
        return Keeping(
            self.keep_order_checks_days,
            self.keep_inquiries_days,
            self.keep_short_links_days,
            drafts_days=self.keep_drafts_days,
            most={**MOST_KEPT, **self.most_kept},
        )


def read_settings() -> Settings:
    """The settings of the environment. Raises SettingsError with every fault."""
    try:
        return Settings()
    except ValidationError as error:
        raise SettingsError("; ".join(map(_told, error.errors(include_url=False)))) from None


def _told(fault: ErrorDetails) -> str:
    name = str(fault["loc"][0])
    found = fault.get("ctx", {}).get("found", fault["input"])
    expected = _EXPECTED.get(name, fault["msg"])
    return f"{PREFIX}{name.upper()}: found {rendered(str(found))}, expected {expected}"


_EXPECTED = {
    "allowed_origins": "exact origins with commas between them, such as https://shop.example or http://127.0.0.1:8080:"
    " scheme and host in small letters, the port unless it is the scheme's own, nothing behind it, and no *",
    "style_page": "true or false",
    "back_process": "true or false",
    "log": "plain or json",
    "stop_pause_s": f"a number of seconds from 0 to {MOST_PAUSE_S}",
    "keep_asked_questions": "true or false",
    "webhooks_to_private": "true or false",
    **dict.fromkeys(
        ("without_key", "without_key_from_elsewhere"),
        f"none, or roles with commas between them, of {', '.join(role.value for role in Role)}",
    ),
    "requests_a_minute": "numbers of requests with commas between them, such as ask=600,without-key=60, of "
    + ", ".join(A_MINUTE),
    "limits_url": "the address of a Redis, such as redis://127.0.0.1:6379/0, with the extra `redis` installed",
    "proxies": "addresses or networks with commas between them, such as 127.0.0.1,10.0.0.0/8",
    "work_limits": f"numbers of steps from {LEAST_WORK} to {MOST_WORK} with commas between them, such as"
    f" ask=500000,editor=5000000, of {', '.join(role.value for role in Role)}",
    "most_kept": f"whole numbers from 1 with commas between them, such as drafts=20, of {', '.join(MOST_KEPT)}",
    "work_limit": f"a whole number of steps from {LEAST_WORK} to {MOST_WORK}",
    "kept_answers_mb": f"a whole number of megabytes from 0 to {MOST_KEPT_MB}",
    "public_url": "the address by which others reach the service, such as https://parts.example: scheme and host in"
    " small letters, the port unless it is the scheme's own, and nothing behind it",
    "allowed_hosts": "hosts with commas between them, in small letters and without a port, such as"
    " parts.example,10.0.0.7",
    "most_connections": "a whole number from 8 to 50000",
    "most_connections_a_client": "a whole number from 1 to 50000",
    "head_timeout_s": "a number of seconds from 0.1 to 600",
    **dict.fromkeys(
        ("keep_order_checks_days", "keep_inquiries_days", "keep_short_links_days", "keep_drafts_days"),
        f"a whole number of days from 1 to {LAST_DAY}",
    ),
}
