"""What can be set from outside: environment variables named PORTWRIGHT_..., read once at the start."""

from pathlib import Path

from platformdirs import user_data_path
from pydantic import Field, SecretStr, ValidationError
from pydantic_core import ErrorDetails
from pydantic_settings import BaseSettings, SettingsConfigDict
from sqlalchemy import URL

from service.documents.rendering import rendered

PREFIX = "PORTWRIGHT_"


def data_folder() -> Path:
    """Return the user's own folder for data, which may not exist yet; never a folder of the package."""
    return user_data_path("portwright", appauthor=False)


def sqlite_url(file: Path) -> SecretStr:
    """Return the address of the SQLite database in `file`."""
    return SecretStr(URL.create("sqlite", database=str(file)).render_as_string(hide_password=False))


class SettingsError(Exception):
    """A variable has a value that is not taken; the text names it, what was found and what would be right."""


class Settings(BaseSettings):
    """All settings. An empty variable counts as one that is not set.

    `database_url` may hold a password and is hidden where settings are printed; `storage.open_database` judges it.
    `workshop_pages`: serve the pages that show contact lines, to whoever reaches the port.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, env_ignore_empty=True, frozen=True, extra="forbid")

    database_url: SecretStr = Field(default_factory=lambda: sqlite_url(data_folder() / "portwright.sqlite3"))
    workshop_pages: bool = False


def read_settings() -> Settings:
    """The settings of the environment. Raises SettingsError with every fault."""
    try:
        return Settings()
    except ValidationError as error:
        raise SettingsError("; ".join(map(_told, error.errors(include_url=False)))) from None


def _told(fault: ErrorDetails) -> str:
    name = str(fault["loc"][0])
    expected = _EXPECTED.get(name, fault["msg"])
    return f"{PREFIX}{name.upper()}: found {rendered(str(fault['input']))}, expected {expected}"


_EXPECTED = {"workshop_pages": "true or false"}
