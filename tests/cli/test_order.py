"""`portwright order check`: a file of orders in, a file of results out, faults told where they stand."""

import csv
import os
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.usecases.check_sheet import COLUMNS
from service.usecases.library import Edition
from tests.cli.commands import PATIENCE_S, PORTWRIGHT, installed, run
from tests.support.orders import three_plugs

pytestmark = pytest.mark.usefixtures("imported")

HEADER = "order,chassis,layout,sku,qty"
MANY, FEW = "PLUG-B8: Three are enough.", "PLUG-B8: Three are needed."


@pytest.fixture(name="asked", autouse=True)
def _asked(monkeypatch: pytest.MonkeyPatch) -> list[OrderRequest]:
    """Orders are judged by how many plugs they have; what was asked is noted."""
    asked: list[OrderRequest] = []

    def judge(edition: Edition, order: OrderRequest) -> OrderResult:
        asked.append(order)
        return three_plugs(edition, order)

    monkeypatch.setattr("service.usecases.check_sheet.check_order", judge)
    return asked


@pytest.fixture(name="sheet")
def _sheet(tmp_path: Path) -> Path:
    return tmp_path / "orders.csv"


def results(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def written(sheet: Path, *lines: str, header: str = HEADER) -> Path:
    sheet.write_text("".join(f"{line}\n" for line in (header, *lines)), encoding="utf-8")
    return sheet


def only(**cells: str) -> dict[str, str]:
    """A row of results with these cells, the others blank."""
    money = {"currency": "OVC"} if cells.get("verdict") != "refused" else {}
    return dict.fromkeys(COLUMNS, "") | money | cells


def test_each_order_has_its_row(sheet: Path) -> None:
    """Rows with one name are one order, wherever they stand; the results stand beside the file."""
    written(
        sheet,
        *("A-1,brook,factory,RAIL-S,1", "A-2,brook,factory,PLUG-B8,5", "A-1,brook,factory,PLUG-B8,3"),
        *("A-3,brook,,RAIL-S,1", "A-3,,,PLUG-B8,1", "A-3,,,PLUG-B8,1.0"),
    )
    result = run("order", "check", sheet)
    assert (result.exit_code, result.stderr) == (1, "")
    target = sheet.with_name("orders.checked.csv")
    assert result.stdout == f"3 orders checked: 1 complete, 1 surplus, 1 short; see {target}\n"
    assert results(target) == [
        only(order="A-1", verdict="complete", layout="factory", price_change="0.00"),
        only(
            order="A-2", verdict="surplus", layout="factory", remove="2 x PLUG-B8", price_change="-18.00", reasons=MANY
        ),
        only(order="A-3", verdict="short", add="1 x PLUG-B8", price_change="9.00", reasons=FEW),
    ]


def test_all_complete_leaves_with_0(sheet: Path) -> None:
    """So does a file without an order."""
    written(sheet, "A,brook,factory,PLUG-B8,3")
    assert run("order", "check", sheet).exit_code == 0
    written(sheet)
    result = run("order", "check", sheet)
    assert (result.exit_code, results(sheet.with_name("orders.checked.csv"))) == (0, [])
    assert result.stdout.startswith("0 orders checked; ")


def test_swaps_are_told(sheet: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the spot where they have one."""

    def judge(edition: Edition, order: OrderRequest) -> OrderResult:
        swaps: Any = [
            {"out": "RAIL-X", "in": "RAIL-S", "qty": 2, "spot": None, "why": "It does not fit."},
            {"out": "PLUG-X", "in": "PLUG-B8", "qty": 1, "spot": "top", "why": "It does not mate."},
        ]
        return {**three_plugs(edition, order), "verdict": "wrong", "swap": swaps, "price_change": None}

    monkeypatch.setattr("service.usecases.check_sheet.check_order", judge)
    assert run("order", "check", written(sheet, "A,brook,,PLUG-B8,3")).exit_code == 1
    [row] = results(sheet.with_name("orders.checked.csv"))
    swaps = "2 x RAIL-X -> RAIL-S; 1 x PLUG-X -> PLUG-B8 at top"
    reasons = "RAIL-X: It does not fit. PLUG-X: It does not mate."
    assert row == only(order="A", verdict="wrong", swap=swaps, reasons=reasons)


def test_wishes_are_taken(sheet: Path, asked: list[OrderRequest]) -> None:
    """Each has a column, and may stand in one row of an order or in all; columns come in any order and case."""
    header = "QTY, Sku ,order,chassis,fuel,gauge,finish,sets,"
    written(
        sheet, "3,PLUG-B8,A,brook,e85,top,slate,2", " 1 , RAIL-S ,A,brook,e85,,,2", "1,RAIL-S,B,brook", header=header
    )
    run("order", "check", sheet)
    wishes = {"fuel": "e85", "gauge": "top", "finish": "slate", "sets": 2}
    lines = [{"sku": "PLUG-B8", "qty": 3}, {"sku": "RAIL-S", "qty": 1}]
    assert asked == [
        OrderRequest.model_validate({"chassis": "brook", "lines": lines, **wishes}),
        OrderRequest.model_validate({"chassis": "brook", "lines": [{"sku": "RAIL-S", "qty": 1}]}),
    ]


@pytest.mark.parametrize("start", ["\ufeff", ""], ids=["mark", "none"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["LF", "CRLF", "CR"])
@pytest.mark.parametrize("apart", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
def test_files_of_spreadsheets_are_taken(sheet: Path, start: str, end: str, apart: str) -> None:
    """With a byte order mark, any line ends, quotes, blank lines and empty cells at the ends."""
    lines = ['"order"|"chassis"|"sku"|"qty"||', '"A, ""1"""|brook|PLUG-B8|3||', "|||||", ""]
    lines = [line.replace("|", apart) for line in lines]
    sheet.write_bytes((start + end.join(lines)).encode())
    assert run("order", "check", sheet).exit_code == 0
    assert [row["order"] for row in results(sheet.with_name("orders.checked.csv"))] == ['A, "1"']


_BAD_ROWS = {
    "no chassis": ("X,,factory,PLUG-B8,3", "chassis: found nothing, expected a value: the field is required"),
    "unknown chassis": (
        "X,brok,,PLUG-B8,3",
        "chassis: found brok, expected the id of a chassis of this revision (nearest: brook)",
    ),
    "unknown item": ("X,brook,,PLUG-B9,3", "(nearest: PLUG-B8"),
    "no item": ("X,brook,,,3", "line 3, sku: found nothing, expected a value: the field is required"),
    "no number": ("X,brook,,PLUG-B8,", "line 3, qty: found nothing, expected a value: the field is required"),
    "a word for a number": ("X,brook,,PLUG-B8,three", 'line 3, qty: found "three", expected a whole number'),
    "a half": ("X,brook,,PLUG-B8,1.5", "line 3, qty: found 1.5, expected a whole number"),
    "none": ("X,brook,,PLUG-B8,0", "line 3, qty: found 0, expected a number of at least 1"),
    "fewer": ("X,brook,,PLUG-B8,-2", "line 3, qty: found -2, expected a number of at least 1"),
    "too many": ("X,brook,,PLUG-B8,10001", "line 3, qty: found 10001, expected a number of at most 10000"),
    "beyond counting": ("X,brook,,PLUG-B8," + "9" * 5_000, "expected a whole number"),
    "a name of nothing": ("X,brook,,glow plug,3", 'line 3, sku: found "glow plug", expected the SKU, the name or an'),
    "thousands or decimals": (
        'X,brook,,PLUG-B8,"1,000"',
        "expected a whole number; a number that is one thing only: 1000",
    ),
    "control character": ("X,br\x1book,,PLUG-B8,3", 'chassis: found "br\\u001book", expected an id'),
    "cells without a column": ("X,brook,,PLUG-B8,3,0", "line 3: found 6 cells, expected 5 as in the first line"),
}


@pytest.mark.parametrize("name", list(_BAD_ROWS))
def test_a_bad_row_spoils_no_other_order(sheet: Path, name: str) -> None:
    """Its order is refused with the place, what was found and what would be right; those round it are judged."""
    row, fault = _BAD_ROWS[name]
    written(sheet, "A,brook,,PLUG-B8,3", row, "B,brook,,PLUG-B8,3")
    result = run("order", "check", sheet)
    assert (result.exit_code, result.stderr) == (1, "")
    assert result.stdout.startswith("3 orders checked: 2 complete, 1 refused; ")
    first, bad, last = results(sheet.with_name("orders.checked.csv"))
    assert (first["verdict"], last["verdict"]) == ("complete", "complete")
    assert fault in bad["fault"]
    assert bad == only(order="X", verdict="refused", fault=bad["fault"])
    assert len(bad["fault"]) < 300


def test_no_spreadsheet_takes_a_result_for_a_formula(sheet: Path) -> None:
    """A name that begins like one is written with a mark before it; a change of price is a number."""
    written(sheet, "=1+1,brook,,PLUG-B8,5", "@x,brok,,PLUG-B8,3")
    run("order", "check", sheet)
    first, second = results(sheet.with_name("orders.checked.csv"))
    assert (first["order"], first["price_change"], second["order"]) == ("'=1+1", "-18.00", "'@x")


def test_one_bad_row_refuses_its_whole_order(sheet: Path, asked: list[OrderRequest]) -> None:
    """Half an order is not judged; every fault of it is told."""
    written(sheet, "A,brook,,PLUG-B8,3", "A,,,RAIL-S,x", "A,,,,1", "A,brook,,PLUG-B8,2,more")
    run("order", "check", sheet)
    assert asked == []
    [row] = results(sheet.with_name("orders.checked.csv"))
    assert row["fault"] == "line 5: found 6 cells, expected 5 as in the first line"
    written(sheet, "A,brook,,PLUG-B8,3", "A,,,RAIL-S,x", "A,,,,1")
    run("order", "check", sheet)
    [row] = results(sheet.with_name("orders.checked.csv"))
    assert [fault.partition(":")[0] for fault in row["fault"].split("; ")] == ["line 3, qty", "line 4, sku"]


def test_an_order_is_for_one_car(sheet: Path) -> None:
    """Two rows of one order that contradict each other refuse it."""
    written(sheet, "A,brook,factory,PLUG-B8,3", "A,heron,factory,RAIL-S,1")
    assert run("order", "check", sheet).exit_code == 1
    [row] = results(sheet.with_name("orders.checked.csv"))
    assert row["fault"] == 'line 3, chassis: found "heron", expected "brook" as before in this order'


def test_rows_without_a_name_are_told_one_by_one(sheet: Path) -> None:
    """They are no order together."""
    written(sheet, ",brook,,PLUG-B8,3", "A,brook,,PLUG-B8,3", ",brook,,PLUG-B8,3")
    assert run("order", "check", sheet).exit_code == 1
    rows = results(sheet.with_name("orders.checked.csv"))
    fault = "order: found nothing, expected the name of the order"
    assert [row["fault"] for row in rows] == [f"line 2: {fault}", "", f"line 4: {fault}"]


def test_a_row_that_cannot_be_read_is_told(sheet: Path) -> None:
    """A quote in the wrong place ends neither the reading nor the other orders."""
    written(sheet, 'A,brook,,"PLUG"-B8,3', "B,brook,,PLUG-B8,3", 'C,brook,,PLUG-B8,"3')
    assert run("order", "check", sheet).exit_code == 1
    broken, good, cut = results(sheet.with_name("orders.checked.csv"))
    assert broken["fault"].startswith("line 2: found ',' expected after '\"', expected ")
    assert (good["order"], good["verdict"]) == ("B", "complete")
    assert cut["fault"].startswith("line 4: found unexpected end of data, expected ")


_BAD_HEADERS: dict[str, tuple[bytes, str]] = {
    "nothing": (b"", "the first line lacks order, chassis, sku, qty: found nothing; known columns are order, chassis"),
    "a column missing": (b"order,chassis,sku\n", "the first line lacks qty: "),
    "a column twice": (b"order,chassis,sku,qty,sku\n", "the first line has sku more than once"),
    "a column in two words": (
        b"order,chassis,sku,Menge,pieces\n",
        'qty more than once: "Menge" in column 4 and "pieces"',
    ),
    "an extra column twice": (b"order,chassis,sku,qty,a,a\n", 'the first line has "a" more than once'),
    "no header": (b"A,brook,PLUG-B8,3\n", "the first line lacks order, chassis, sku, qty: found"),
    "spaces": (b"order chassis sku qty\n", 'found "order chassis sku qty"'),
    "control character": (b"order,chassis,sku,\x1b[31m\n", '"\\u001b[31m"'),
    "no text": (b"order,chassis,sku,qty\nA,br\x81ok,X,1\n", "found bytes that are no text"),
    "no workbook": (b"PK\x03\x04 and nothing", "found what is no workbook"),
}


@pytest.mark.parametrize("name", list(_BAD_HEADERS))
def test_a_file_of_another_kind_is_refused(sheet: Path, name: str) -> None:
    """In one message, with 2; nothing is written."""
    content, told = _BAD_HEADERS[name]
    sheet.write_bytes(content)
    result = run("order", "check", sheet)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(f"portwright: FILE: {sheet}: ")
    assert told in result.stderr
    assert "\x1b" not in result.stderr
    assert not sheet.with_name("orders.checked.csv").exists()


def test_a_missing_file_is_refused(sheet: Path) -> None:
    """A path that leads nowhere is bad input."""
    result = run("order", "check", sheet)
    assert (result.exit_code, result.stderr) == (2, f"portwright: FILE: {sheet}: No such file or directory\n")


def test_out_names_the_results(sheet: Path, tmp_path: Path) -> None:
    """Anywhere but over the orders themselves."""
    written(sheet, "A,brook,,PLUG-B8,3")
    assert run("order", "check", sheet, "--out", tmp_path / "results.csv").exit_code == 0
    assert [row["order"] for row in results(tmp_path / "results.csv")] == ["A"]
    before = sheet.read_bytes()
    result = run("order", "check", sheet, "--out", sheet)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == "portwright: --out: found FILE itself, expected another file\n"
    assert sheet.read_bytes() == before


def test_results_that_cannot_be_written_are_told(sheet: Path, tmp_path: Path) -> None:
    """Before the work, not after it."""
    written(sheet, "A,brook,,PLUG-B8,3")
    result = run("order", "check", sheet, "--out", tmp_path / "nowhere" / "results.csv")
    assert (result.exit_code, result.stdout) == (3, "")
    assert "No such file or directory" in result.stderr


@pytest.mark.parametrize("name", ["orders", "orders.txt", "orders.v2.csv", "ORDERS.CSV"])
def test_results_stand_beside_the_orders(tmp_path: Path, name: str) -> None:
    """Under a name that tells what they are."""
    file = written(tmp_path / name, "A,brook,,PLUG-B8,3")
    assert run("order", "check", file).exit_code == 0
    stem = {"ORDERS.CSV": "ORDERS", "orders.v2.csv": "orders.v2"}.get(name, name)
    assert (tmp_path / f"{stem}.checked.csv").exists()


def test_without_a_catalog_nothing_is_checked(sheet: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Import one first; no results are written."""
    monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", f"sqlite:///{tmp_path / 'empty.sqlite3'}")
    result = run("order", "check", written(sheet, "A,brook,,PLUG-B8,3"))
    assert result.exit_code == 3
    assert "portwright catalog import PATH" in result.stderr
    assert not sheet.with_name("orders.checked.csv").exists()


@pytest.mark.parametrize("arguments", [[], ["check"], ["check", "a", "b"], ["chek"]], ids=" ".join)
def test_usage_faults_leave_with_2(arguments: list[str]) -> None:
    """As everywhere."""
    assert run("order", *arguments).exit_code == 2


def test_in_a_pipe_there_is_no_bar(sheet: Path) -> None:
    """The installed command says one line on standard output and nothing beside it."""
    result = installed("order", "check", written(sheet, "A,brook,,PLUG-B8,some"))
    assert (result.returncode, result.stderr) == (1, "")
    assert result.stdout.count("\n") == 1


def test_on_a_terminal_there_is_a_bar(sheet: Path) -> None:
    """It stands on standard error and tells how many orders are done."""
    written(sheet, *(f"{number},brook,,PLUG-B8,some" for number in range(7)))
    terminal, end = os.openpty()
    command = [PORTWRIGHT, "order", "check", str(sheet)]
    result = subprocess.run(command, stdout=subprocess.PIPE, stderr=end, timeout=PATIENCE_S, check=False)
    os.close(end)
    shown = os.read(terminal, 65_536).decode()
    os.close(terminal)
    assert result.returncode == 1
    assert "Checking" in shown
    assert "7/7" in shown


ENCODINGS = {"utf-8": "", "utf-8-sig": "", "utf-16": "", "utf-16-le": "", "utf-16-be": "", "cp1252": "Windows-1252"}


@pytest.mark.parametrize("encoding", list(ENCODINGS))
def test_files_in_the_encodings_of_spreadsheets_are_taken(sheet: Path, encoding: str) -> None:
    """What was guessed is said aloud."""
    sheet.write_bytes(f"{HEADER}\nGr\u00fcn,brook,,PLUG-B8,3\n".encode(encoding))
    assert run("order", "check", sheet).exit_code == 0
    [row] = results(sheet.with_name("orders.checked.csv"))
    assert row["order"] == "Gr\u00fcn"
    assert ENCODINGS[encoding] in row["notes"]


def test_columns_are_read_by_other_words_and_extra_ones_given_back(sheet: Path, asked: list[OrderRequest]) -> None:
    header = "Bestellung;Car;Part number;Quantitiy;Power;Boost;Room;At most;Desk"
    written(
        sheet,
        "sep=;",
        header,
        "A;Brook;plug b8;3 pcs;120 hp;0,5 bar;top:axial_mm:80;1.234,50;north",
        "A;;Rail S;1;;;;;south",
        header="",
    )
    sheet.write_text(sheet.read_text().lstrip("\n"))
    run("order", "check", sheet)
    [order] = asked
    [row] = results(sheet.with_name("orders.checked.csv"))
    assert row["verdict"] == "complete", row
    assert (order.chassis, [line.sku for line in order.lines]) == ("brook", ["PLUG-B8", "RAIL-S"])
    assert (order.boost_kpa, order.max_price, round(order.power_kw or 0, 2)) == (50.0, 123_450, 89.48)
    assert (order.clearances[0].spot, order.clearances[0].axial_mm) == ("top", 80.0)
    assert row["Desk"] == "north; south"
    for told in ('"Quantitiy" is read as qty', '"Desk" is not known', '"plug b8" is read as PLUG-B8'):
        assert told in row["notes"]


def test_a_workbook_is_taken_and_given_back(tmp_path: Path) -> None:
    """Amounts are numbers in it, and no text is a formula."""
    book = Workbook()
    assert book.active is not None
    for row in (["order", "chassis", "sku", "qty", "when"], ["=A", "brook", "PLUG-B8", 5, date(2026, 3, 1)]):
        book.active.append(row)
    book.active["A2"].data_type = "s"
    book.save(tmp_path / "orders.xlsx")
    assert run("order", "check", tmp_path / "orders.xlsx").exit_code == 1
    sheet = load_workbook(tmp_path / "orders.checked.xlsx").active
    assert sheet is not None
    header, told = ([cell.value for cell in row] for row in sheet.iter_rows())
    answer = dict(zip(header, told, strict=True))
    assert (answer["order"], answer["verdict"], answer["price_change"]) == ("=A", "surplus", -18)
    assert str(answer["when"]).startswith("2026-03-01")
    assert sheet["A2"].data_type == "s"
