"""Pydantic's errors in our own words: where, what was found, what would be right."""

from typing import Annotated, Any, Literal

import pytest
from pydantic import BaseModel, Field, TypeAdapter, ValidationError, field_validator

from service.documents.catalog import Catalog, Item
from service.documents.faults import Fault, faults_of, faults_of_details, unit_of
from service.documents.fields import ID_PATTERN
from service.documents.rendering import printable, rendered


def _faults(kind: Any, value: object, prefix: str = "") -> list[Fault]:
    with pytest.raises(ValidationError) as caught:
        TypeAdapter(kind).validate_python(value, strict=True)
    return faults_of(caught.value, prefix)


@pytest.mark.parametrize(
    ("kind", "value", "found", "expected"),
    [
        pytest.param(int, "7", '"7"', "a whole number", id="text for an integer"),
        pytest.param(int, True, "true", "a whole number", id="true for an integer"),
        pytest.param(int, 1.5, "1.5", "a whole number", id="fraction for an integer"),
        pytest.param(float, None, "null", "a number", id="null for a number"),
        pytest.param(bool, 1, "1", "true or false", id="1 for true"),
        pytest.param(str, 7, "7", "a text", id="number for a text"),
        pytest.param(
            *(
                Annotated[str, Field(pattern="a")],
                "a\ud800",
                '"a\\ud800"',
                "text of whole Unicode characters",
            ),
            id="lone surrogate",
        ),
        pytest.param(Annotated[float, Field(gt=0)], 0.0, "0.0", "a number above 0", id="not above"),
        pytest.param(Annotated[float, Field(lt=2.5)], 3.0, "3.0", "a number below 2.5", id="not below"),
        pytest.param(Annotated[int, Field(ge=1)], 0, "0", "a number of at least 1", id="too small"),
        pytest.param(Annotated[int, Field(le=9)], 10**50, str(10**50), "a number of at most 9", id="too large"),
        pytest.param(
            *(Annotated[int, Field(le=9)], 10**5000),
            *("an integer of about 5000 digits", "a number of at most 9"),
            id="too large to write",
        ),
        pytest.param(*(Annotated[float, Field(allow_inf_nan=False)], float("nan"), "NaN", "a finite number"), id="NaN"),
        pytest.param(
            *(Annotated[str, Field(min_length=1)], "", '""', "a text of at least 1 character(s)"),
            id="empty text",
        ),
        pytest.param(
            *(Annotated[str, Field(max_length=3)], "abcd", '"abcd"', "a text of at most 3 characters"),
            id="long text",
        ),
        pytest.param(
            *(Annotated[str, Field(pattern=ID_PATTERN)], "a\nb", '"a\\u000ab"'),
            "an id: letters, digits and . _ / - with a letter or digit first",
            id="no id",
        ),
        pytest.param(Literal["a", "b"], "c", '"c"', "one of: a or b", id="none of the words"),
        pytest.param(list[int], {"a": 1}, '{"a": 1}', "a list", id="object for a list"),
        pytest.param(dict[str, int], [1, 2, 3, 4], "[1, 2, 3, …]", "an object", id="list for an object"),
        pytest.param(Item, "x", '"x"', "an object", id="text for an object"),
        pytest.param(*(Annotated[list[int], Field(min_length=1)], [], "[]", "at least 1 element(s)"), id="empty list"),
        pytest.param(
            *(Annotated[list[int], Field(max_length=1)], [1, 2], "[1, 2]", "at most 1 element(s)"),
            id="long list",
        ),
        pytest.param(bytes, 7, "7", "Input should be a valid bytes", id="a kind that has no words of ours"),
    ],
)
def test_words(kind: Any, value: object, found: str, expected: str) -> None:
    """Each kind of error is told with the value found and what would be right."""
    assert _faults(kind, value) == [Fault("", found, expected)]


@pytest.mark.parametrize(
    ("field", "unit"),
    [
        ("standout_mm", "mm"),
        ("max_kpa", "kPa"),
        ("pump_l_h", "l/h"),
        ("max_velocity_m_s", "m/s"),
        ("density_kg_m3", "kg/m³"),
        ("viscosity_mpa_s", "mPa·s"),
        ("mass_g", "g"),
        ("feed_hose_m", "m"),
        ("max_c", "°C"),
        ("max_price", "minor units of the currency"),
        ("lead_days", "days"),
        ("cylinders", ""),
    ],
)
def test_units(field: str, unit: str) -> None:
    """A field's name tells its unit."""
    assert unit_of(field) == unit


def test_unit_in_words_and_place_below_prefix() -> None:
    """The unit of the field stands in the words; the pointer goes on from the prefix, escaped."""

    class Room(BaseModel):
        axial_mm: Annotated[float, Field(ge=0)]

    assert _faults(dict[str, Room], {"a/b": {"axial_mm": -1.0}}, "/clearances") == [
        Fault("/clearances/a~1b/axial_mm", "-1.0", "a number of at least 0 mm")
    ]
    assert _faults(Room, {}, "/rooms/0") == [
        Fault("/rooms/0/axial_mm", "nothing", "a value in mm: the field is required")
    ]


def test_unknown_field_tells_the_nearest_of_its_own_object() -> None:
    """An unknown field is told the nearest fields that its object may have, and only those."""
    with pytest.raises(ValidationError) as caught:
        Catalog.model_validate({"items": [{"flow": {"bore": 7.5, "prise": 1}}]})
    faults = {fault.pointer: fault.expected for fault in faults_of(caught.value, model=Catalog)}
    assert faults["/items/0/flow/bore"] == "no such field; nearest: bore_mm"
    assert faults["/items/0/flow/prise"] == "no such field"


def test_a_foreign_message_is_cut_and_cleaned() -> None:
    """The message of an error without words of ours is shown without controls, at limited length."""

    class Picky(BaseModel):
        word: str

        @field_validator("word")
        @classmethod
        def _refuse(cls, word: str) -> str:
            raise ValueError("\x07" + word * 1000)

    (fault,) = _faults(Picky, {"word": "no "})
    assert fault.expected.startswith("Value error, \\u0007no no")
    assert len(fault.expected) < 210


def test_details_without_context_are_told_too() -> None:
    """Error details as a web framework gives them need not have a context."""
    detail = {"type": "less_than_equal", "loc": ("body", "limit"), "msg": "Too large", "input": 101}
    assert faults_of_details([detail]) == [Fault("/body/limit", "101", "Too large")]


def _nested(depth: int) -> list[Any]:
    value: list[Any] = []
    for _ in range(depth):
        value = [value]
    return value


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        pytest.param(None, "null", id="null"),
        pytest.param(False, "false", id="false"),
        pytest.param(-3, "-3", id="integer"),
        pytest.param(3.0, "3.0", id="float"),
        pytest.param(float("-inf"), "-Infinity", id="infinity"),
        pytest.param('a"b\\', '"a\\"b\\\\"', id="quotes"),
        pytest.param("x" * 100, '"' + "x" * 57 + '…"', id="long text"),
        pytest.param("\ud800\x00\u202e", '"\\ud800\\u0000\\u202e"', id="unprintable"),
        pytest.param({"a": [1, {"b": [2]}]}, '{"a": [1, {…}]}', id="nested"),
        pytest.param({"a": {}, "b": [], "c": 1, "d": 2}, '{"a": {}, "b": [], "c": 1, …}', id="wide"),
        pytest.param(_nested(100_000), "[[[…]]]", id="deep"),
        pytest.param(10**300, "an integer of about 300 digits", id="huge integer"),
    ],
)
def test_rendered(value: object, shown: str) -> None:
    """A value is shown short, in JSON's notation, printable throughout."""
    assert rendered(value) == shown


def test_printable_is_cut_before_it_is_escaped() -> None:
    """A text full of controls stays short enough to read."""
    assert printable("\x00" * 1000, 3) == "\\u0000\\u0000…"
