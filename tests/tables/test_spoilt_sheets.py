"""Spoilt sheets: each is refused with its sheet, row and column, what stood there and what would be right."""

import io
import zipfile
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from service.documents.packed import PackedCatalog
from service.tables.faults import TableFaultsError
from service.tables.opening import Bounds, open_file
from tests.support.catalogs import small_catalog
from tests.support.growth import assert_linear
from tests.tables.tabled import Rows, book, in_each_form, packed_of, rows_in, taken, zipped

Sheets = dict[str, Rows]


@pytest.fixture(name="catalog", scope="module")
def _catalog() -> PackedCatalog:
    return packed_of(small_catalog())


@pytest.fixture(name="told", scope="module")
def _told(catalog: PackedCatalog, tmp_path_factory: pytest.TempPathFactory) -> Sheets:
    return rows_in(in_each_form(catalog, tmp_path_factory.mktemp("tables"))[1])


def _put(title: str, row: int, head: str, value: Any) -> Callable[[Sheets], None]:
    """Puts something in a cell; rows count as a spreadsheet counts them, from 1 for the heads."""

    def spoil(sheets: Sheets) -> None:
        sheets[title][row - 1][sheets[title][0].index(head)] = value

    return spoil


def _head(title: str, head: str, value: str) -> Callable[[Sheets], None]:
    return _put(title, 1, head, value)


def _without(title: str, head: str) -> Callable[[Sheets], None]:
    def spoil(sheets: Sheets) -> None:
        place = sheets[title][0].index(head)
        for row in sheets[title]:
            del row[place]

    return spoil


def _twice(title: str, row: int) -> Callable[[Sheets], None]:
    return lambda sheets: sheets[title].append(list(sheets[title][row - 1]))


def _beside(sheets: Sheets) -> None:
    sheets["items"][3].append("a note")


def _named(sheets: Sheets) -> None:
    sheets["itmes"] = sheets.pop("items")


def _empty_row_of_policies(sheets: Sheets) -> None:
    del sheets["policies"][1:]


def _two_makers(sheets: Sheets) -> None:
    sheets["maker"].append(["Another", "EUR"])


SPOILT: list[tuple[str, Callable[[Sheets], None], str, str, str]] = [
    ("a word for a number", _put("items", 4, "mass (g)", "heavy"), "items, row 4, column mass (g)", "heavy", "in g"),
    ("an unknown unit", _put("items", 4, "standout (mm)", "3 furlong"), "row 4, column standout", "furlong", "cm"),
    ("two numbers at once", _put("items", 4, "mass (g)", "1.234,5.6"), "row 4, column mass", "1.234", "one habit"),
    (
        "too large",
        _put("items", 5, "mass (g)", 1e9),
        "items, row 5, column mass (g)",
        "1000000000",
        "at most 1000000 g",
    ),
    ("below nothing", _put("items", 5, "stock", -3), "items, row 5, column stock", "-3", "at least 0"),
    ("half a piece", _put("items", 5, "stock", 2.5), "items, row 5, column stock", "2.5", "a whole number"),
    ("an unknown choice", _put("items", 3, "kind", "fiting"), "items, row 3, column kind", "fiting", "fitting"),
    ("no choice at all", _put("chassis", 2, "banks", 3), "chassis, row 2, column banks", "3", "one of: 1, 2"),
    ("neither yes nor no", _put("items", 3, "sold", "maybe"), "items, row 3, column sold", "maybe", "TRUE or FALSE"),
    ("a date for a number", _put("items", 3, "mass (g)", date(2026, 5, 3)), "row 3, column mass", "date", "in g"),
    ("a date for a text", _put("items", 3, "sku", date(2026, 8, 6)), "row 3, column sku", "2026-08-06", "text"),
    (
        "an error of a formula",
        _put("items", 3, "price (minor units of the currency)", "#REF!"),
        "row 3",
        "#REF!",
        "error",
    ),
    ("a formula", _put("items", 3, "mass (g)", "=1+1"), "items, row 3, column mass (g)", "a formula", "worked"),
    ("a key twice", _twice("items", 3), "column sku", "once more", "row 3 has it"),
    ("no key", _put("items", 3, "sku", ""), "items, row 3, column sku", "nothing", "the sku"),
    ("a key that is none", _put("items", 3, "sku", "a b!"), "items, row 3, column sku", "a b!", "an id"),
    (
        "an unknown parent",
        _put("items.ports", 3, "item sku", "RAIL-X"),
        "items.ports, row 3, column item sku",
        "RAIL-X",
        "RAIL-S",
    ),
    (
        "no parent",
        _put("items.ports", 3, "item sku", ""),
        "items.ports, row 3, column item sku",
        "nothing",
        "items has",
    ),
    (
        "a bad place",
        _put("items.ports", 3, "port no.", "first"),
        "items.ports, row 3, column port no.",
        "first",
        "whole",
    ),
    ("a key of a map twice", _twice("layouts.placements", 2), "column spot", "once more", "row 2 has it"),
    ("no place in a map", _put("layouts.placements", 2, "spot", ""), "row 2, column spot", "nothing", "its place"),
    ("an unknown head", _head("items", "sku", "skuu"), "items, row 1, column A", "skuu", "sku"),
    ("a head in another unit", _head("items", "mass (g)", "mass (kg)"), "items, row 1", "mass (kg)", "mass (g)"),
    ("a head twice", _head("items", "stock", "sku"), "items, row 1", "once more", "column A has it"),
    (
        "a missing column",
        _without("items", "mass (g)"),
        "items, row 1, column mass (g)",
        "no such column",
        "its column",
    ),
    ("a cell beside the table", _beside, "items, row 4", "a note", "no head"),
    (
        "a field of another kind",
        _put("joints", 2, "turns past hand", 2),
        "joints, row 2, column turns past hand",
        "2",
        "no such",
    ),
    (
        "a needed value missing",
        _put("fuels", 2, "density (kg/m³)", ""),
        "fuels, row 2, column density",
        "nothing",
        "kg/m³",
    ),
    (
        "half an object",
        _put("items", 3, "ring inside (mm)", 3),
        "items, row 3, column ring section (mm)",
        "nothing",
        "mm",
    ),
    ("an unknown table", _named, "itmes", "itmes", "items"),
    ("a map without names", _put("materials", 2, "ratings", "A; B"), "row 2, column ratings", "A; B", "left = 12.5"),
    ("a choice in a map", _put("materials", 2, "ratings", "petrol = E"), "row 2, column ratings", "petrol = E", "A, B"),
    ("no row of what is there once", _empty_row_of_policies, "policies", "no row", "one row"),
    ("two rows of what is there once", _two_makers, "maker, row 3", "another row", "one row"),
]


@pytest.mark.parametrize(("spoil", "place", "found", "expected"), [x[1:] for x in SPOILT], ids=[x[0] for x in SPOILT])
def test_each_is_refused_with_its_place(
    catalog: PackedCatalog, told: Sheets, spoil: Callable[[Sheets], None], place: str, found: str, expected: str
) -> None:
    """One fault among good rows, told so that it can be put right."""
    sheets = {title: [list(row) for row in rows] for title, rows in told.items()}
    spoil(sheets)
    changed = {title: rows for title, rows in sheets.items() if rows != told.get(title)}
    with pytest.raises(TableFaultsError) as refused:
        taken(book(changed), catalog)
    [fault] = refused.value.faults.told[:1]
    assert place in str(fault.place)
    assert found in fault.found
    assert expected in f"{fault.expected}; nearest: {', '.join(fault.nearest)}"


def test_the_first_twenty_are_told_and_the_others_counted(catalog: PackedCatalog, told: Sheets) -> None:
    """A column of nonsense is no long answer."""
    rows = [
        told["items"][0],
        *([f"s{n}", *row[1:11], "heavy", *row[12:]] for n, row in enumerate(told["items"][1:] * 3)),
    ]
    with pytest.raises(TableFaultsError) as refused:
        taken(zipped({"items": rows}), catalog)
    faults = refused.value.faults
    assert len(faults.told) == 20
    assert faults.more == len(rows) - 1 - 20


def _bomb(name: str) -> bytes:
    """A small zip that is unpacked to more than is taken."""
    told = io.BytesIO()
    with zipfile.ZipFile(told, "w", zipfile.ZIP_DEFLATED) as file:
        for part in ("xl/workbook.xml", name):
            with file.open(part, "w", force_zip64=True) as stream:
                for _ in range(33):
                    stream.write(b" " * 1024 * 1024)
    return told.getvalue()


def _zip_of(**parts: str) -> bytes:
    told = io.BytesIO()
    with zipfile.ZipFile(told, "w") as file:
        for name, text in parts.items():
            file.writestr(name.replace("__", "."), text)
    return told.getvalue()


@pytest.mark.parametrize(
    ("file", "expected"),
    [
        (_bomb("xl/worksheets/sheet1.xml"), "at most 500 parts"),
        (b"PK\x03\x04 and nothing", "a workbook (XLSX)"),
        (_zip_of(xl="", xl__workbook__xml=""), "CSV files"),
        (_zip_of(notes__txt="hello"), "CSV files"),
        (_zip_of(), "such as items.csv"),
        (b"\x00\x01\x02\xff\xfe", "CSV"),
        (b"", "the heads of a table"),
        (b"one,two\n1,2\n", "the heads of a table"),
        (b'sku,name\n"open', "quotes closed"),
        (zipped({"items": [["sku"], *([["x"]] * 3)]}), "its column"),
    ],
    ids=["a bomb", "no zip", "no workbook", "a text", "an empty zip", "bytes", "nothing", "else", "open", "one column"],
)
def test_what_is_no_table_is_refused(file: bytes, expected: str, catalog: PackedCatalog) -> None:
    """Told in a sentence, whatever it is."""
    with pytest.raises(TableFaultsError) as refused:
        taken(file, catalog)
    assert expected in f"{refused.value.faults.told[0].found}: {refused.value.faults.told[0].expected}"


def test_a_workbook_that_tells_less_than_it_has_is_read_whole(catalog: PackedCatalog, told: Sheets) -> None:
    """Some programs write any size into a sheet; its rows would count as removed."""
    small = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book({"items": told["items"]}))) as file, zipfile.ZipFile(small, "w") as other:
        for name in file.namelist():
            content = file.read(name)
            if name == "xl/worksheets/sheet1.xml":
                before, _, rest = content.partition(b'<dimension ref="')
                content = before + b'<dimension ref="A1' + rest[rest.index(b'"') :]
            other.writestr(name, content)
    assert taken(small.getvalue(), catalog).texts == {"items": catalog.texts["items"]}


def test_rows_have_an_end() -> None:
    """More rows than are taken, of a file or of all its tables."""
    rows = [["item sku", "port no.", "id", "standard", "end", "spot"], *([["x"]] * 30)]
    for file in (zipped({"items.ports": rows}), book({"items.ports": rows})):
        with pytest.raises(TableFaultsError, match="at most 20 rows"):
            open_file(io.BytesIO(file), Bounds(rows=20))


def test_reading_takes_time_in_proportion(catalog: PackedCatalog) -> None:
    """Rows without a parent, rows of one list, entries of one cell: none is looked at again for each of the others."""
    heads = ["layout id", "placement no.", "spot", "duty", "hookup kind", "hookup standard", "hookup end"]
    heads += ["hookup flow bore (mm)", "hookup flow length (mm)", "hookup flow loss k", "hookup flow roughness (mm)"]
    heads += ["to spot", "via"]

    def made(size: int, parent: str) -> bytes:
        places = ["", "", "", "", "", "", "", ""]
        return zipped(
            {"layouts.placements": [heads, *([parent, n, "top", "f", *places, "a ;" * 9] for n in range(size))]}
        )

    assert_linear(lambda file: taken(file, catalog), lambda size: made(size, "factory"), 300)
    assert_linear(lambda file: taken(file, catalog), lambda size: made(size, "none"), 300)
