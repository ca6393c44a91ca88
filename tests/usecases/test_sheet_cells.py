"""Cells of a file of orders as values: by the kind of their column, by either habit, never by a guess."""

from typing import Any

import pytest

from service.documents.amounts import AmountError, money_in
from service.usecases.sheet_cells import CellError, value_of
from service.usecases.sheet_columns import columns_of


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("qty", "3 pcs", 3),
        ("qty", "2,0", 2),
        ("power_kw", "1.234,5", 1234.5),
        ("power_kw", "1,234.5", 1234.5),
        ("power_kw", "110 kW", 110.0),
        ("power_kw", "100 PS", 73.549875),
        ("boost_kpa", "0,5 bar", 50.0),
        ("boost_kpa", "10 psi", 68.94757),
        ("addons", "a; b", ["a", "b"]),
        ("clearances", "top:axial_mm:2 in", [{"spot": "top", "axial_mm": 50.8}]),
        ("have", "PLUG-8:2, HOSE:1", [{"sku": "PLUG-8", "qty": 2}, {"sku": "HOSE", "qty": 1}]),
        ("own_rail", "left:boss-8:female", {"left": {"standard": "boss-8", "end": "female"}}),
        ("pump", "0:180, 400:120", [{"kpa": 0.0, "l_h": 180.0}, {"kpa": 400.0, "l_h": 120.0}]),
        ("pump_v", "12:13,5", {"rated": 12.0, "fed": 13.5}),
        ("in_stock_only", "Ja", True),
        ("allow_unsold", "no", False),
        ("sets", "20", 20),
        ("finish", "satin", "satin"),
    ],
)
def test_a_cell_is_read(name: str, text: str, value: Any) -> None:
    assert value_of(name, text) == value


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("qty", "1,000", "1000, or 1.0"),
        ("power_kw", "1.234", "1234, or 1.234"),
        ("power_kw", "1.2.3,4,5", "one habit"),
        ("power_kw", "120 bar", "kw, hp"),
        ("boost_kpa", "much", "a number"),
        ("in_stock_only", "maybe", "yes or no"),
        ("clearances", "top:80", "SPOT:axial_mm:N"),
        ("own_rail", "left:a:b,left:a:b", "each spot once"),
        ("have", "PLUG-8", "sku:qty"),
    ],
)
def test_what_is_no_value_or_could_be_two_is_told(name: str, text: str, expected: str) -> None:
    with pytest.raises(CellError, match=expected):
        value_of(name, text)


@pytest.mark.parametrize("text", ["1.234,50", "EUR 1,234.50", "1234.5 \u20ac", "1'234,50", "1 234,50"])
def test_money_by_either_habit(text: str) -> None:
    assert float(money_in(text, "EUR")) == 1234.5


@pytest.mark.parametrize("text", ["1.234", "USD 5", "free", "1,2,3"])
def test_money_that_could_be_two_things_is_told(text: str) -> None:
    with pytest.raises(AmountError, match="an amount of EUR"):
        money_in(text, "EUR")


def test_columns_are_told_by_other_words_and_near_ones() -> None:
    columns = columns_of(["Order No", "Fahrzeug", "Artikel", "Menge", "gage", "Desk", ""])
    assert columns.names == ("order", "chassis", "sku", "qty", "gauge", "Desk")
    assert columns.extra == (5,)
    assert any('"gage" is read as gauge' in note for note in columns.notes)
