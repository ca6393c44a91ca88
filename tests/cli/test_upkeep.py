"""`portwright backup`, `restore`, `verify`, `tidy`, `erase` and `key`."""

import re
from pathlib import Path

import pytest

from tests.cli.commands import run


@pytest.mark.usefixtures("imported")
def test_there_and_back(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A backup is sound, fills another database, and is not mixed with what is there."""
    file = tmp_path / "all.backup"
    assert "1 revision" in run("backup", file).stdout
    assert run("backup", file).exit_code == 3
    assert run("verify", file).stdout.startswith("sound: 1 catalog trail, 1 revision")
    assert run("restore", file).exit_code == 3
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", f"sqlite:///{tmp_path / 'new.sqlite3'}")
    assert run("restore", file).stdout.startswith("restored 1 catalog trail, 1 revision")
    assert run("verify").exit_code == 0
    assert run("ask", "brook", "factory").exit_code == 0
    assert home.exists()


@pytest.mark.usefixtures("home")
def test_where_nothing_was_kept_yet() -> None:
    """There is nothing to look through, and that is told."""
    refused = run("verify")
    assert refused.exit_code == 3
    assert "are missing or of another version of the service" in " ".join(refused.stderr.split())


def test_what_is_no_backup(tmp_path: Path, home: Path) -> None:
    """Is told, and changes nothing."""
    (tmp_path / "text").write_text("no database at all")
    assert run("restore", tmp_path / "none").exit_code == 2
    refused = run("restore", tmp_path / "text")
    assert refused.exit_code == 3
    assert f"{tmp_path / 'text'} is damaged or is no database" in " ".join(refused.stderr.split())
    assert run("verify", tmp_path / "text").exit_code == 3
    assert (tmp_path / "text").read_text() == "no database at all"
    assert home.exists()


@pytest.mark.usefixtures("imported")
def test_tidy_and_erase() -> None:
    """Nothing is there to be deleted."""
    assert run("tidy").stdout == "nothing that is kept has had its time\n"
    assert run("erase", "--contact", "nobody").stdout == "erased 0\n"
    assert run("erase", "--contact", " ").exit_code == 2


@pytest.mark.usefixtures("home")
def test_keys_are_made_listed_and_ended() -> None:
    """The text of a key is shown once, on standard output alone."""
    made = run("key", "new", "--role", "desk", "--account", "Harbour shop", "--days", "30")
    assert re.fullmatch(r"pwk_[0-9a-z]{10}_[A-Za-z0-9_-]{43}\n", made.stdout)
    id_ = made.stdout.split("_")[1]
    listed = run("key", "list").stdout
    assert listed.startswith(f"{id_}  desk  Harbour shop  made ")
    assert made.stdout.split("_", 2)[2].strip() not in listed
    assert run("key", "revoke", id_).stdout == f"revoked key {id_}\n"
    assert "revoked 2" in run("key", "list").stdout
    assert run("key", "revoke", id_).exit_code == 2
    assert run("key", "sign-ins").stdout == "no sign-ins\n"


@pytest.mark.usefixtures("home")
@pytest.mark.parametrize("account", ["", "  ", "x" * 101, "a\x1bb"])
def test_an_account_has_a_plain_name(account: str) -> None:
    """It stands in lists."""
    assert run("key", "new", "--role", "ask", "--account", account).exit_code == 2
