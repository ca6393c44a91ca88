"""What is installed: the lock file and the image go with what pyproject.toml declares."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def _name(requirement: str) -> str:
    return re.split(r"[\[<>=!~ ;]", requirement, maxsplit=1)[0].lower().replace("_", "-")


def test_the_lock_file_has_what_is_required() -> None:
    """Every declared requirement is locked under the declared range, from the public registry or from here."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lock = tomllib.loads((ROOT / "uv.lock").read_text(encoding="utf-8"))
    extras = project["optional-dependencies"].values()
    declared = [*project["dependencies"], *(requirement for extra in extras for requirement in extra)]
    [own] = [package for package in lock["package"] if package["name"] == project["name"]]
    locked = {(entry["name"], *sorted(entry["specifier"].split(","))) for entry in own["metadata"]["requires-dist"]}
    wanted = {(_name(entry), *sorted(re.sub(r"^[^<>=!~]*", "", entry).split(","))) for entry in declared}
    assert locked == wanted
    sources = {tuple(package["source"].items()) for package in lock["package"]}
    assert sources == {(("registry", "https://pypi.org/simple"),), (("editable", "."),)}


def test_the_client_alone_is_that_of_the_whole() -> None:
    """Its version, and what it needs in the same ranges, without the rest."""
    whole = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    alone = tomllib.loads((ROOT / "service" / "client" / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert alone["version"] == whole["version"]
    assert {_name(one) for one in alone["dependencies"]} == {"httpx", "pydantic", "typing-extensions"}
    assert {*alone["dependencies"]} <= {*whole["dependencies"]}
