"""`portwright ask`: a table to read, JSON to use, and bad wishes told by their options."""

import json

import pytest

from tests.cli.commands import installed, run

pytestmark = pytest.mark.usefixtures("imported")


def test_the_table_shows_the_bill_with_its_reasons() -> None:
    """Every part stands in at most 80 columns with quantity, source, place and price, and why it is there."""
    result = run("ask", "brook", "factory")
    assert (result.exit_code, result.stderr) == (0, "")
    lines = [line.rstrip() for line in result.stdout.splitlines()]
    assert lines[0] == "1 valid bill (catalog revision 1):"
    assert max(map(len, lines)) <= 80
    assert any(line.split() == ["2", "PLUG-B8", "buy", "centre,", "right", "OVC", "18.00"] for line in lines)
    assert any(line.split() == ["1", "PLUG-T", "in", "the", "box", "top"] for line in lines)
    assert any(line.startswith("    clearance ") for line in lines)
    assert "Before you begin:" in lines


def test_json_is_the_whole_answer() -> None:
    """With --json standard output is one JSON object, nothing else."""
    result = installed("ask", "brook", "factory", "--json", "--limit", "1")
    assert result.returncode == 0, result.stderr
    answer = json.loads(result.stdout)
    assert answer["revision"] == 1
    assert answer["total_valid"] == 1
    assert answer["bills"][0]["duties"] == {
        "left": "feed",
        "centre": "closed",
        "right": "closed",
        "top": "closed",
    }


@pytest.mark.parametrize(
    ("wishes", "changed"),
    [
        (["--fuel", "e85"], lambda bill: bill["flow"]["demand_l_h"] > 40),
        (["--power-kw", "100"], lambda bill: 40 < bill["flow"]["demand_l_h"] < 41),
        (["--gauge", "top"], lambda bill: bill["duties"]["top"] == "gauge"),
        (["--gauge", "any"], lambda bill: list(bill["duties"].values()).count("gauge") == 1),
        (["--addon", "blower"], lambda bill: any(line["source"] == "add-on" for line in bill["lines"])),
        (["--finish", "slate"], lambda bill: any(line["sku"] == "RAIL-S" for line in bill["lines"])),
        (["--boost-kpa", "50"], lambda bill: bill["flow"]["demand_l_h"] > 42),
        (["--feed-hose-m", "3"], lambda bill: bill["pieces"] == 4),
        (["--in-stock-only", "--no-unsold", "--no-group-variants"], lambda bill: bill["pieces"] == 4),
        (["--order-by", "lead", "--revision", "1", "--max-price", "99999"], lambda bill: bill["pieces"] == 4),
        (["--clearance", "left:axial_mm=30", "--clearance", "left:across_mm=25.0"], lambda bill: bill["pieces"] == 4),
    ],
    ids=["fuel", "power", "gauge", "any gauge", "add-on", "finish", "boost", "hose", "flags", "order", "room"],
)
def test_wishes_reach_the_answer(wishes: list[str], changed: object) -> None:
    """Each option is the request's field of the same name."""
    result = run("ask", "brook", "factory", "--json", *wishes)
    assert result.exit_code == 0, result.stderr
    assert callable(changed)
    assert changed(json.loads(result.stdout)["bills"][0])


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        (["--max-price", "1"], "RAIL-S"),
        (["--clearance", "left:axial_mm=29.9"], "SPIGOT-B8-Q"),
        (["--clearance", "left:across_mm=24.9"], "SPIGOT-B8-Q"),
        (["--exclude", "SPIGOT-B8-Q"], "SPIGOT-B8-Q"),
    ],
    ids=["price", "axial", "across", "excluded"],
)
def test_without_a_bill_it_says_what_was_ruled_out(wishes: list[str], told: str) -> None:
    """No valid bill is told with the parts ruled out and why, and leaves with 1."""
    result = run("ask", "brook", "factory", *wishes)
    assert result.exit_code == 1
    assert result.stdout.startswith("No valid bill (catalog revision 1).")
    assert told in result.stdout
    assert json.loads(run("ask", "brook", "factory", "--json", *wishes).stdout)["bills"] == []


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["brok", "factory"], "CHASSIS: found brok, expected the id of a chassis of this revision; nearest: brook"),
        (["brook", "factry"], "LAYOUT: found factry, "),
        (["brook", "factory", "--fuel", "e8"], "--fuel: found e8, "),
        (["brook", "factory", "--addon", "blowr"], "--addon (0): found blowr, "),
        (["brook", "factory", "--exclude", "PLUG-B9"], "--exclude (0): found PLUG-B9, "),
        (["brook", "factory", "--gauge", "1.top"], "--gauge: found 1.top, "),
        (["brook", "factory", "--gauge", "under"], '--gauge: found "under", expected '),
        (["brook", "factory", "--power-kw", "-1"], "--power-kw: found -1.0, expected a number above 0 kW"),
        (["brook", "factory", "--power-kw", "nan"], "--power-kw: found NaN, expected "),
        (["brook", "factory", "--limit", "101"], "--limit: found 101, expected a number of at most 100"),
        (["brook", "factory", "--clearance", "left"], '--clearance: found "left", expected SPOT:axial_mm=NUMBER or '),
        (["brook", "factory", "--clearance", "left:axial_mm=-1"], "--clearance (0/axial_mm): found -1.0, expected "),
        (["brook", "factory", "--clearance", "1.left:axial_mm=1"], "--clearance (0/spot): found 1.left, expected "),
        (["br\x1book", "factory"], "\\u001b"),
        (["brook", "factory", "--revision", "2"], "revision '2'"),
    ],
    ids=lambda value: " ".join(value[2:] or value).replace("\x1b", "ESC") if isinstance(value, list) else "",
)
def test_bad_input_is_told_by_its_option(arguments: list[str], told: str) -> None:
    """Each fault names option, value and what would be right, and leaves with 2."""
    result = run("ask", *arguments)
    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr
    assert "\x1b" not in result.stderr


def test_all_faults_are_told_at_once() -> None:
    """A clearance that cannot be read does not hide a number out of range."""
    result = run("ask", "brook", "factory", "--clearance", "x", "--power-kw", "0", "--limit", "0")
    assert result.exit_code == 2
    assert result.stderr.startswith("portwright: the question has 3 faults\n")


@pytest.mark.parametrize("option", [["--power-kw", "much"], ["--order-by", "colour"], ["--wings"]], ids=" ".join)
def test_options_of_the_wrong_kind_are_usage_errors(option: list[str]) -> None:
    """What the command line itself can refuse leaves with 2 as well."""
    assert run("ask", "brook", "factory", *option).exit_code == 2


def test_a_finish_that_no_part_has_is_told_with_the_nearest() -> None:
    result = run("ask", "brook", "factory", "--finish", "slat")
    assert "no part comes in slat; nearest: slate" in " ".join(result.stdout.split())
