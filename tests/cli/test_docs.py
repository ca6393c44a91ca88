"""The pages for people tell every command, endpoint and setting, and the README quotes what the program prints."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from service.cli.app import app
from service.settings import Settings
from tests.cli.commands import run
from tests.support.served_document import served_document

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = (ROOT / "service/cli/README.md").read_text(encoding="utf-8")
ENDPOINTS = (ROOT / "service/web/README.md").read_text(encoding="utf-8")
SETTINGS = (ROOT / "service/deploy/settings.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def _commands(command: Any, name: str) -> Iterator[str]:
    below = getattr(command, "commands", {})
    if not below:
        yield name
    for word, inner in below.items():
        yield from _commands(inner, f"{name} {word}")


def _operations() -> list[str]:
    paths = served_document()["paths"]
    return [f"{method.upper()} {path}" for path, methods in paths.items() for method in methods]


@pytest.mark.parametrize("command", list(_commands(get_command(app), "portwright")))
def test_every_command_is_told(command: str) -> None:
    """The table of commands has each."""
    assert f"| `{command}" in COMMANDS


@pytest.mark.parametrize("operation", _operations())
def test_every_endpoint_is_told(operation: str) -> None:
    """The table of endpoints has each, by method and path."""
    assert f"| `{operation}` |" in ENDPOINTS


def test_no_endpoint_is_told_that_is_not_there() -> None:
    """What the table of endpoints lists is served."""
    assert set(re.findall(r"^\| `([A-Z]+ /\S+)` \|", ENDPOINTS, flags=re.MULTILINE)) == set(_operations())


def test_every_setting_is_told_and_no_other() -> None:
    """The table of settings has each variable that is read."""
    told = set(re.findall(r"^\| `PORTWRIGHT_([A-Z_]+)` \|", SETTINGS, flags=re.MULTILINE))
    assert told == {name.upper() for name in Settings.model_fields}


def test_the_quoted_answer_is_what_the_program_prints() -> None:
    """The README's answer stands in the output of the demo, line by line."""
    [quoted] = re.findall(r"^```text\n(.+?)^```$", README, flags=re.MULTILINE | re.DOTALL)
    result = run("demo", "--once")
    assert result.exit_code == 0, result.output
    printed = "".join(f"{line.rstrip()}\n" for line in result.stdout.splitlines())
    assert quoted in printed


def test_the_two_commands_to_start_with_are_alike_everywhere() -> None:
    """The checks that are run from nothing end in the README's way to run the tests."""
    checks = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "pip install" in checks
    assert "-e '.[dev]'" in checks
    assert "python -m pytest" in checks
    assert "pip install -e '.[dev]' && .venv/bin/python -m pytest" in README


@pytest.mark.parametrize(
    "folder", sorted(path.name for path in (ROOT / "service").iterdir() if (path / "__init__.py").is_file())
)
def test_every_folder_is_on_the_map(folder: str) -> None:
    """DEVELOPERS.md says of each folder of the program what lives there."""
    assert f"| `{folder}/` |" in DEVELOPERS
