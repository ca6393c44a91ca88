"""What can be set from outside: environment variables named PORTWRIGHT_..., read once at the start."""

import re
from pathlib import Path
from typing import Annotated

from platformdirs import user_data_path
from pydantic import BeforeValidator, Field, SecretStr, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict
from sqlalchemy import URL

from service.documents.rendering import rendered

PREFIX = "PORTWRIGHT_"
WORK_LIMIT = 20_000_000
"""More steps than any sensible question of a catalog takes, and a few seconds of work."""
LEAST_WORK, MOST_WORK = 1_000, 10**12


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


_LABEL = "[a-z0-9]([a-z0-9-]*[a-z0-9])?"
_ORIGIN = re.compile(
    rf"(?P<scheme>https?)://({_LABEL}(\.{_LABEL})*|\[[0-9a-f:.]+\])(:(?P<port>[1-9][0-9]{{0,4}}))?", re.ASCII
)
_DEFAULT_PORTS = {"http": "80", "https": "443"}
_LAST_PORT = 65_535


class Settings(BaseSettings):
    """All settings. An empty variable counts as one that is not set.

    `database_url` may hold a password and is hidden where settings are printed; `storage.open_database` judges it.
    `allowed_origins`: the origins whose pages may call the API from a browser.
    `workshop_pages`: serve the pages that show contact lines, to whoever reaches the port.
    `work_limit`: the most steps that one question may take.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, env_ignore_empty=True, frozen=True, extra="forbid")

    database_url: SecretStr = Field(default_factory=lambda: sqlite_url(data_folder() / "portwright.sqlite3"))
    allowed_origins: Annotated[tuple[str, ...], NoDecode, BeforeValidator(_origins)] = ()
    workshop_pages: bool = False
    work_limit: Annotated[int, Field(ge=LEAST_WORK, le=MOST_WORK)] = WORK_LIMIT


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
    "workshop_pages": "true or false",
    "work_limit": f"a whole number of steps from {LEAST_WORK} to {MOST_WORK}",
}
