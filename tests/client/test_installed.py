"""The client as a stranger has it: from the wheel, by its own name, against a server, and under a type checker."""

import re
import shutil
import subprocess
import sys
import sysconfig
import time
import venv
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

from service.client import Client, ConflictError, operations
from tests.support.catalogs import small_catalog
from tests.support.forked import served
from tests.web.conftest import library_in

ROOT = Path(__file__).parents[2]
WALK = Path(__file__).with_name("walk.py")
NOTICED_WITHIN_S = 0.3
SERVER_PARTS = ("fastapi", "starlette", "sqlalchemy", "sqlmodel", "numpy", "service")
ALONE = f"""
import sys
import portwright_client
assert not [name for name in {SERVER_PARTS} if name in sys.modules]
import service.client
import service.contract.operations
assert service.client.Client is portwright_client.Client
assert service.client.operations is portwright_client.operations
assert {{*service.client.__all__}} == {{*portwright_client.__all__}}
"""


@pytest.fixture(scope="module", name="address")
def _address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A server that sends news to this machine."""
    file = tmp_path_factory.mktemp("client") / "catalog.sqlite3"
    with library_in(file, small_catalog()):
        pass
    with served(f"sqlite:///{file}", webhooks_to_private="true") as address:
        yield address


@pytest.fixture(scope="module", name="installed")
def _installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that the wheel is unpacked into."""
    folder = tmp_path_factory.mktemp("installed")
    [wheel] = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "packages")
    return folder / "packages"


def test_a_stranger_s_types(installed: Path, tmp_path: Path) -> None:
    """The walk passes mypy as strict as it gets, with the client among the installed packages; a wrong key does not."""
    venv.create(tmp_path / "venv", with_pip=False, symlinks=True)
    packages = Path(sysconfig.get_path("purelib", vars={"base": str(tmp_path / "venv")}))
    shutil.copytree(installed / "portwright_client", packages / "portwright_client")
    (packages / "others.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    wrong = tmp_path / "wrong.py"
    wrong.write_text(WALK.read_text(encoding="utf-8").replace('bill["price"]', 'bill["prise"]'), encoding="utf-8")
    strictly = ["mypy", "--strict", "--config-file=", "--python-executable", str(tmp_path / "venv" / "bin" / "python")]
    strictly += ["--cache-dir", str(tmp_path / "cache")]
    done = subprocess.run(
        [sys.executable, "-m", *strictly, str(WALK), str(wrong)],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    told = [line for line in done.stdout.splitlines() if ": error: " in line]
    assert len(told) == 1, done.stdout + done.stderr
    assert re.match(r'wrong\.py:\d+: error: .*no key "prise"', told[0])


def _run(installed: Path, *command: str) -> str:
    done = subprocess.run(
        [sys.executable, *command],
        cwd=installed.parent,
        env={"PYTHONPATH": str(installed), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_it_stands_alone(installed: Path) -> None:
    """Nothing of the server is imported with it; `service.client` is the same."""
    _run(installed, "-c", ALONE)
    assert (installed / "portwright_client" / "py.typed").is_file()


def test_what_the_service_takes_of_it_is_there_in_a_wheel() -> None:
    """Its names, not its modules, which `service.client` does not have there."""
    inside = ROOT / "service" / "client"
    files = [file for file in (ROOT / "service").rglob("*.py") if inside not in file.parents]
    taking = {file.name: file.read_text(encoding="utf-8") for file in files}
    assert [name for name, text in taking.items() if "service.client." in text] == []
    assert [name for name, text in taking.items() if "from service.client import" in text]


def test_a_partner_s_walk(installed: Path, address: str) -> None:
    """Car, layouts, bills, key, order check, changes, webhook."""
    assert "walked" in _run(installed, str(WALK), address)


def test_a_draft_is_published(address: str) -> None:
    """Edited by what was seen, refused where somebody was faster, and published once its impact is worked out."""
    with Client(address) as api:
        draft = api.begin_draft({"name": "dearer"})
        seen = api.send(operations.get_draft_object(draft["id"], "items", "RAIL-S").fetched())
        assert seen.etag is not None
        api.patch_draft_object(draft["id"], "items", "RAIL-S", {"price": 12_345}, if_match=seen.etag)
        with pytest.raises(ConflictError) as raised:
            api.patch_draft_object(draft["id"], "items", "RAIL-S", {"price": 1}, if_match=seen.etag)
        assert raised.value.code == "edited-meanwhile"
        assert [one["key"] for one in api.each(operations.list_draft_changes(draft["id"], limit=1))] == ["RAIL-S"]
        published = api.publish_draft(draft["id"], {"author": "a partner", "reason": "dearer"})
        assert api.get_items("RAIL-S", revision=published["revision"])["result"]["price"] == 12_345
        time.sleep(NOTICED_WITHIN_S)  # until then an answer that was given before may be given again
        assert [one["revision"] for one in api.list_changes(since=1)["revisions"]] == [published["revision"]]


def test_the_sandbox_is_an_address(address: str) -> None:
    """What the client asks there leads on there, page by page."""
    with Client(f"{address}/sandbox") as api:
        one_by_one = [fuel["id"] for fuel in api.each(operations.list_fuels(limit=1))]
        assert one_by_one == [fuel["id"] for fuel in api.list_fuels()["results"]]
        assert len(one_by_one) > 1
