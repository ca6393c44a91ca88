"""`portwright ask "..."`: a question in the customer's words."""

import json

import pytest

from tests.cli.commands import run

pytestmark = pytest.mark.usefixtures("imported")


def test_what_is_whole_is_answered() -> None:
    """Nothing is open: what is understood stands above the bills."""
    result = run("ask", "Brook hatchback on the factory line, without a gauge")
    assert result.exit_code == 0, result.output
    assert "chassis: Brook hatchback" in result.stdout
    assert '("without a gauge")' in result.stdout
    assert "1 valid bill (catalog revision 1):" in result.stdout


def test_what_is_open_is_asked() -> None:
    """The choices stand below their question, and the command leaves with 1."""
    result = run("ask", "Brook hatchback with a turbo, flange wobbling\x1b")
    assert result.exit_code == 1
    assert "To be asked" in result.stdout
    assert "factory: Factory line" in result.stdout
    assert "flange wobbling" in result.stdout
    assert "\x1b" not in result.stdout
    assert "valid bill" not in result.stdout


def test_an_option_settles_what_is_open() -> None:
    result = run("ask", "Brook hatchback, factory line, turbo", "--addon", "blower", "--power-kw", "80")
    assert result.exit_code == 0, result.output
    assert "To be asked" not in result.stdout
    assert "valid bill" in result.stdout


def test_json_is_what_was_read() -> None:
    """With --json standard output is one JSON object, as the API gives it."""
    result = run("ask", "Brook, factory line, 30 mm of room at the left", "--json")
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert told["request"]["clearances"] == [{"spot": "left", "axial_mm": 30.0}]
    assert told["open"] == []


def test_room_in_words_reaches_the_answer() -> None:
    result = run("ask", "Brook, factory line, 29.9 mm of room at the left")
    assert result.exit_code == 1
    assert "No valid bill" in result.stdout


@pytest.mark.parametrize(
    ("arguments", "told"), [(["x" * 10_001], "CHASSIS: found"), (["Brook", "--revision", "7"], "revision")]
)
def test_bad_input_is_told(arguments: list[str], told: str) -> None:
    result = run("ask", *arguments)
    assert result.exit_code == 2
    assert told in result.stderr
