"""`portwright contract` over real HTTP: green against the service, red with a clear line where a promise breaks."""

import json
import socket
from collections.abc import Iterator
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import httpx
import pytest

from service.documents.check import check_catalog
from service.documents.folder import read_catalog
from tests.cli.commands import run
from tests.contract import broken_servers as breaks
from tests.contract.broken_servers import broken
from tests.support.forked import served
from tests.support.keys import packed, unpacked

pytest_plugins = ["pytester"]

SEED = Path(__file__).parents[2] / "seed_data"


@pytest.fixture(scope="module")
def base_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The service over the seed catalog."""
    url = f"sqlite:///{tmp_path_factory.mktemp('contract') / 'catalog.sqlite3'}"
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("PORTWRIGHT_DATABASE_URL", url)
        assert run("catalog", "import", SEED).exit_code == 0
    with served(url) as address:
        yield address


@pytest.fixture(scope="module")
def few(base_url: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A few of the service's cases as a file of a partner's own: with and without a bill, and by their exact key."""
    told = httpx.get(f"{base_url}/v1/contract/cases").json()["cases"]
    keyed = [case for case in told if "key" in case["promises"]][:2]
    without = [case for case in told if not case["promises"]["has_bill"]][:1]
    others = [case for case in told if case["promises"]["has_bill"] and case not in keyed][:5]
    assert keyed
    keyed[0]["promises"]["key"] = packed(unpacked(keyed[0]["promises"]["key"]), digit="1")  # as it was given before
    assert without
    file = tmp_path_factory.mktemp("few") / "cases.json"
    file.write_text(json.dumps({"cases": [*keyed, *others, *without]}))
    return file


def test_the_service_keeps_every_promise(base_url: str, tmp_path: Path) -> None:
    report = tmp_path / "contract.xml"
    result = run("contract", base_url, "--junit", report)
    assert result.exit_code == 0, result.output
    assert "BROKEN" not in result.output
    assert result.output.splitlines()[-1] == "108 promises: 107 kept, 0 broken, 1 skipped"
    root = ET.parse(report).getroot()
    assert [suite.get("tests") for suite in root] == ["50", "58"]
    assert not root.findall(".//failure")


def test_through_a_proxy_that_corrupts_nothing_it_is_green(base_url: str, few: Path) -> None:
    with broken(base_url, breaks.same) as address:
        result = run("contract", address, "--cases", few, "--only", "cases")
    assert result.exit_code == 0, result.output


@pytest.mark.parametrize("format_", ["text", "github"])
def test_a_broken_promise_is_told_whole(base_url: str, few: Path, tmp_path: Path, format_: str) -> None:
    """What, where, what was expected and what came, and the command that asks the same; in JUnit XML as well."""
    report = tmp_path / "contract.xml"
    options = ("--cases", few, "--junit", report, "--only", "cases", "--format", format_)
    with broken(base_url, breaks.wrong_price) as address:
        result = run("contract", address, *options)
    assert result.exit_code == 1, result.output
    told = result.output.replace("%0A", "\n").replace("%25", "%")
    assert ("::error title=cases%3A " in told) is (format_ == "github")
    for line in (
        "but its lines add up to",
        "where: POST /v1/bills, #/bills/0/price",
        "expected: ",
        "got: ",
        "repeat: curl ",
    ):
        assert line in told
        assert any(line in (failure.text or "") for failure in ET.parse(report).getroot().iter("failure"))


def test_a_failing_service_is_not_a_wrong_one(base_url: str, few: Path, tmp_path: Path) -> None:
    """It is told so, with how to see it; the exit says not possible now, the report says error."""
    report = tmp_path / "contract.xml"
    with broken(base_url, breaks.failing_joints) as address:
        result = run("contract", address, "--cases", few, "--only", "joints are true", "--junit", report)
    assert result.exit_code == 3, result.output
    assert result.output.startswith("FAILING joints are true: ")
    assert "repeat: curl " in result.output
    assert [suite.get("errors") for suite in ET.parse(report).getroot()] == ["1"]


def test_as_a_pytest_plugin_each_promise_is_a_test(base_url: str, tmp_path: Path, pytester: pytest.Pytester) -> None:
    """Kept, skipped, and broken with the words of the matter."""
    file = tmp_path / "cases.json"
    own = case(has_bill=True, price={"at_least": 1, "at_most": 2})["cases"][0]
    file.write_text(json.dumps({"cases": [own | {"id": "entity"}]}))
    is_installed = any(one.name == "portwright" for one in entry_points(group="pytest11"))
    loaded = () if is_installed else ("-p", "service.contract.pytest_plugin")
    options = (*loaded, "-p", "no:xdist", "--portwright-url", base_url)
    ran = pytester.runpytest_inprocess(*options, "--portwright-cases", str(file), "--portwright-only", "entity")
    outcomes = ran.parseoutcomes()
    assert (outcomes["failed"], outcomes["skipped"]) == (1, 1), ran.stdout.str()
    ran.stdout.fnmatch_lines(["*not 1 to 2*", "*repeat: curl *"])


def case(**promises: Any) -> dict[str, Any]:
    request = {"chassis": "fennic-16", "layout": "own-hose-6-centre"}
    return {"cases": [{"id": "own", "says": "Ours.", "request": request, "promises": promises}]}


@pytest.mark.parametrize(
    ("promises", "said"),
    [
        ({"has_bill": False}, "bills, but none is promised"),
        ({"has_bill": True, "contains": ["no-such-part"]}, "has no no-such-part"),
        ({"has_bill": True, "never_contains": ["rail-tor-4-satin"]}, "contains rail-tor-4-satin"),
        ({"has_bill": True, "price": {"at_least": 1, "at_most": 2}}, "not 1 to 2"),
        ({"has_bill": True, "key": "1abc"}, "its key is another"),
    ],
)
def test_a_partners_own_cases_are_held(base_url: str, tmp_path: Path, promises: dict[str, Any], said: str) -> None:
    file = tmp_path / "cases.json"
    file.write_text(json.dumps(case(**promises)))
    result = run("contract", base_url, "--cases", file, "--only", "cases")
    assert result.exit_code == 1
    assert said in result.output
    file.write_text(json.dumps(case(has_bill=True)))
    assert run("contract", base_url, "--cases", file, "--only", "cases").exit_code == 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "found"),
        ("[]", "expected"),
        ('{"cases":[{"id":"a"}]}', "/cases/0/promises"),
        (json.dumps(case(has_bill=False, contains=["a"])), "/cases/0/promises/contains"),
        (json.dumps({"cases": case(has_bill=True)["cases"] * 2}), "each id once"),
    ],
)
def test_a_bad_file_of_cases_is_bad_input(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "cases.json"
    file.write_text(text)
    result = run("contract", "http://127.0.0.1:9", "--cases", file)
    assert result.exit_code == 2
    assert said in result.output


def test_what_cannot_be_reached_is_not_possible_now() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        result = run("contract", f"http://127.0.0.1:{taken.getsockname()[1]}")
    assert result.exit_code == 3
    assert "Traceback" not in result.output


def test_what_is_no_address_is_bad_input() -> None:
    assert run("contract", "nowhere").exit_code == 2


def test_the_seed_catalog_has_forty_cases_at_least() -> None:
    catalog = check_catalog(read_catalog(SEED))
    assert len(catalog.contract_cases or ()) >= 40
