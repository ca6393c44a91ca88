"""The guards: imports run one way, and what the pages for people name is there."""

import re
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

import pytest
from importlinter.api import use_cases
from importlinter.configuration import configure

ROOT = Path(__file__).parents[1]
PAGES = (
    *("README.md", "DEVELOPERS.md", "service/cli/README.md", "service/web/README.md"),
    *("service/contract/README.md", "service/deploy/settings.md"),
)
PLACES = (ROOT, ROOT / "service", ROOT / "tests", ROOT / "service" / "web", ROOT / "service" / "solver")
_CODE = re.compile(r"```.*?```", re.DOTALL)
_NAMED = re.compile(r"`([\w.*/-]*(?:/|\.(?:py|json|md|toml|txt|css|js|csv|html|yaml)))`")
_MADE = re.compile(r".*ID\.py|FILE\..*|\.\.\..*|/openapi\.json")
"""What a page tells to write or has made, and a path of the API."""


def test_imports_run_one_way(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """As `lint-imports` checks it."""
    monkeypatch.chdir(ROOT)
    configure()
    is_kept = use_cases.lint_imports(config_filename="pyproject.toml", cache_dir=None)
    assert is_kept, capsys.readouterr().out


def named(page: str) -> Iterator[str]:
    """The files and folders that a page names outside its listings."""
    return (found[1] for found in _NAMED.finditer(_CODE.sub("", (ROOT / page).read_text())))


@pytest.mark.parametrize("page", PAGES)
def test_what_a_page_names_is_there(page: str) -> None:
    """A file by its path from the root, from `service/` or `tests/`, or by its name alone."""
    names = {file.name for file in chain((ROOT / "service").rglob("*"), (ROOT / "tests").rglob("*"))}
    assert [name for name in named(page) if not _MADE.fullmatch(name) and not is_there(name, names)] == []


def is_there(name: str, names: set[str]) -> bool:
    """Whether there is what a page names; `names`: of all files and folders."""
    is_bare = "/" not in name.rstrip("/")
    return any((place / name).exists() for place in PLACES) or (is_bare and name.strip("/") in names)


def test_what_is_said_of_threats_and_faults_is_tested() -> None:
    """Each risk and each fault names tests, and each that is named is there."""
    text = (ROOT / "DEVELOPERS.md").read_text()
    told = text[text.index("## Threats") : text.index("## How to release")]
    rows = [line for line in told.splitlines() if line.startswith("| API")]
    assert [row.split()[1] for row in rows] == [f"API{number}" for number in range(1, 11)]
    faults = told[told.index("|---|---|---|\n", told.index("## Faults")) :].split("\n\n")[0].splitlines()[1:]
    assert len(faults) >= 10
    assert all("::test_" in row for row in rows + faults)
    for file, name in re.findall(r"`(tests/[\w/]+\.py)::(\w+)`", told):
        assert re.search(rf"^(async )?def {name}\(", (ROOT / file).read_text(), re.MULTILINE), f"{file}::{name}"
    assert told.count("::") == len(re.findall(r"`tests/[\w/]+\.py::test_\w+`", told))
