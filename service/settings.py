"""What can be set from outside: environment variables named PORTWRIGHT_..., read once at the start."""

from pathlib import Path

from platformdirs import user_data_path
from pydantic import Field, SecretStr
from pydantic_settings import BaseSettings, SettingsConfigDict
from sqlalchemy import URL

PREFIX = "PORTWRIGHT_"


def data_folder() -> Path:
    """Return the user's own folder for data, which may not exist yet; never a folder of the package."""
    return user_data_path("portwright", appauthor=False)


def sqlite_url(file: Path) -> SecretStr:
    """Return the address of the SQLite database in `file`."""
    return SecretStr(URL.create("sqlite", database=str(file)).render_as_string(hide_password=False))


class Settings(BaseSettings):
    """All settings. An empty variable counts as one that is not set.

    `database_url` may hold a password and is hidden where settings are printed; `storage.open_database` judges it.
    """

    model_config = SettingsConfigDict(env_prefix=PREFIX, env_ignore_empty=True, frozen=True, extra="forbid")

    database_url: SecretStr = Field(default_factory=lambda: sqlite_url(data_folder() / "portwright.sqlite3"))
