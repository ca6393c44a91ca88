"""`portwright demo`: from nothing to an answer and a server, twice over."""

import json
import re
import shlex
import signal
import socket
import subprocess
from pathlib import Path

import httpx

from service.documents.folder import seed_folder
from tests.cli.commands import PATIENCE_S, PORTWRIGHT, installed, run, started


def test_demo_once_answers_in_an_empty_home(home: Path) -> None:
    """One question in words with its bills and reasons, a database of its own, nothing on standard error."""
    result = installed("demo", "--once")
    assert (result.returncode, result.stderr) == (0, "")
    question, _, answer = result.stdout.partition("\n\n")
    assert " ".join(question.split()).endswith("What does it need?")
    assert re.match(r"[\d,]+ valid bills?", answer)
    assert "Bill 1: " in answer
    assert "Before you begin:" in answer
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert [file.name for file in home.rglob("*.sqlite3")] == ["demo.sqlite3"]


def test_demo_again_answers_alike_from_the_same_revision() -> None:
    """The seed catalog is imported once; the second answer is the first, key and revision included."""
    first = run("demo", "--once")
    assert first.exit_code == 0, first.output
    assert "(catalog revision 1)" in first.stdout
    assert run("demo", "--once").stdout == first.stdout


def test_demo_leaves_the_user_s_own_catalog_alone(home: Path) -> None:
    """What is asked outside the demo knows nothing of it."""
    assert run("demo", "--once").exit_code == 0
    result = run("ask", "any", "any")
    assert result.exit_code == 3
    assert "portwright catalog import PATH" in result.stderr


def test_the_seed_catalog_has_no_fault() -> None:
    """What ships passes the check."""
    result = run("catalog", "check", seed_folder())
    assert result.exit_code == 0, result.output


def test_demo_serves_the_question_that_it_showed() -> None:
    """The printed curl command asks the printed question; Ctrl-C ends the server cleanly."""
    with started("demo", "--port", "0") as process:
        assert process.stdout is not None
        printed = ""
        for line in process.stdout:
            printed += line
            if "Uvicorn running" in line:
                break
        [command] = re.findall(r"^curl .*$", printed, flags=re.MULTILINE)
        url, body = (shlex.split(command)[place] for place in (2, -1))
        answer = httpx.post(url, json=json.loads(body), timeout=PATIENCE_S).json()
        assert f"{answer['total_valid']} valid bill" in printed
        assert all(bill["key"] in printed.replace("\n", "") for bill in answer["bills"])
        process.send_signal(signal.SIGINT)
        rest, _ = process.communicate(timeout=PATIENCE_S)
        assert process.returncode == 0, rest
        assert "Traceback" not in rest


def test_demo_says_when_its_port_is_taken() -> None:
    """A port in use is told before anything is imported or printed."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        result = installed("demo", "--port", port)
        assert (result.returncode, result.stdout) == (3, "")
        assert result.stderr == f"portwright: cannot listen on 127.0.0.1:{port}: Address already in use\n"


def test_demo_output_is_cut_short_without_complaint() -> None:
    """A reader that leaves early, as `head` does, causes no traceback."""
    command = f"{shlex.quote(PORTWRIGHT)} demo --once | head -n 1"
    result = subprocess.run(["bash", "-c", command], capture_output=True, text=True, timeout=PATIENCE_S, check=True)
    assert result.stdout.count("\n") == 1
    assert result.stderr == ""
