"""The check of a whole catalog: all faults at once, in document order, and never anything else."""

from contextlib import suppress
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.faults import Fault
from service.documents.pointers import segments_of
from tests.support.catalogs import GONE, changed, small_catalog

NASTY_VALUES: list[Any] = [
    *(None, True, 0, -1, 1.5, 10**40, 10**4000, float("nan"), float("inf"), 1e308),
    *(
        "",
        "left",
        "1.left",
        "own-rail",
        "rail",
        "link",
        "torque",
        "PLUG-T",
        "\ud800",
        "\x00",
        "~/",
        "x" * 9999,
    ),
    *(
        [],
        [[]],
        {},
        {"": 1},
        {"\ud800": {}},
        {"id": "petrol"},
        {"sku": 7},
        {"duty": "link", "to_spot": "top"},
    ),
]

JSON_VALUES = st.recursive(
    st.sampled_from(NASTY_VALUES),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=8,
)


def _faults(data: object) -> tuple[Fault, ...]:
    with pytest.raises(CatalogFaultsError) as caught:
        check_catalog(data)
    return caught.value.faults


def _places(value: Any, pointer: str = "") -> list[str]:
    """Return the pointers of all values within a document."""
    members = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    inner = [(f"{pointer}/{str(key).replace('/', '~1')}", member) for key, member in members]
    return [place for path, member in inner for place in (path, *_places(member, path))]


PLACES = _places(small_catalog())


def test_a_good_catalog_is_given_back() -> None:
    """A catalog without faults comes back shaped."""
    catalog = check_catalog(small_catalog())
    assert isinstance(catalog, Catalog)
    assert [item.sku for item in catalog.items][:2] == ["RAIL-S", "PLUG-B8"]


SHAPES: dict[str, tuple[dict[str, Any], str, str, str]] = {
    "section missing": ({"/joints": GONE}, "/joints", "nothing", "a value: the field is required"),
    "section unknown": ({"/itms": []}, "/itms", "[]", "no such field; nearest: items, joints"),
    "section of another kind": ({"/addons": {}}, "/addons", "{}", "a list"),
    "format of another version": (
        {"/format": "portwright-catalog/9"},
        *("/format", '"portwright-catalog/9"', "one of: portwright-catalog/1"),
    ),
    "no fuel": ({"/fuels": []}, "/fuels", "[]", "at least 1 element(s)"),
    "element of another kind": (
        {"/layouts/-": "factory"},
        *("/layouts/4", '"factory"', "an object"),
    ),
    "negative price": (
        {"/items/1/price": -1},
        *("/items/1/price", "-1", "a number of at least 0 minor units of the currency"),
    ),
    "price as text": (
        {"/items/1/price": "9"},
        *("/items/1/price", '"9"', "a whole number in minor units of the currency"),
    ),
    "length out of range": (
        {"/items/1/standout_mm": 10_001},
        *("/items/1/standout_mm", "10001", "a number of at most 10000 mm"),
    ),
    "unit in the name above": (
        {"/fuels/0/bsfc_g_kwh/na": 0},
        *("/fuels/0/bsfc_g_kwh/na", "0", "a number above 0 g/kWh"),
    ),
    "field of a joint": ({"/joints/0/min_nm": -1}, "/joints/0/min_nm", "-1", "a number of at least 0 N·m"),
    "field of a joint missing": (
        {"/joints/1/max_deg": GONE},
        *("/joints/1/max_deg", "nothing", "a value in degrees: the field is required"),
    ),
    "field of a joint of another method": (
        {"/joints/3/torque": 3},
        *("/joints/3/torque", "3", "no such field"),
    ),
    "method unknown": (
        {"/joints/3/method": "glue"},
        "/joints/3/method",
        *('"glue"', "one of: torque, past-hand-tight, flange-to-face, turns-engaged, push-to-click"),
    ),
    "method missing": (
        {"/joints/3/method": GONE},
        *("/joints/3/method", "nothing", "a value: the field is required"),
    ),
    "no id": (
        {"/materials/1/ratings/e 85": "A"},
        "/materials/1/ratings/e 85",
        *('"e 85"', "an id: letters, digits and . _ / - with a letter or digit first"),
    ),
    "no spot": (
        {"/layouts/0/placements/1": {"middle": {"duty": "feed", "hookup": {"kind": "bulkhead"}}}},
        "/layouts/0/placements/1/middle",
        *('"middle"', "a spot: left, centre, right or top, with 1. or 2. before it on two banks"),
    ),
    "dangling and no id": (
        {"/items/1/ports/0/standard": "boss 8"},
        "/items/1/ports/0/standard",
        *('"boss 8"', "an id: letters, digits and . _ / - with a letter or digit first"),
    ),
    "control character": (
        {"/maker/name": "a\x07"},
        *("/maker/name", '"a\\u0007"', "a text without control characters"),
    ),
}  # fmt: skip


@pytest.mark.parametrize(("changes", "pointer", "found", "expected"), SHAPES.values(), ids=SHAPES.keys())
def test_shape(changes: dict[str, Any], pointer: str, found: str, expected: str) -> None:
    """One part of the wrong shape is exactly one fault."""
    assert _faults(changed(small_catalog(), changes)) == (Fault(pointer, found, expected),)


@pytest.mark.parametrize("data", NASTY_VALUES, ids=lambda value: type(value).__name__)
def test_no_catalog_at_all(data: object) -> None:
    """Any other JSON value is refused with faults."""
    assert _faults(data)


def test_all_faults_are_listed_in_document_order() -> None:
    """Faults of shape and between parts, in one element and in many, are all told, as the document runs."""
    changes = {
        "/layouts/0/banks": 3,
        "/items/1/ports/0/standard": "boss-9",
        "/items/1/price": -1,
        "/items/12/wetted": ["felt"],
        "/items/4/sku": "PLUG-T",
        "/joints/0/min_nm": 43,
        "/maker/currency": GONE,
        "/maker/money": "OVC",
        "/policies": GONE,
        "/addons/0/mounting/0/qty": 0,
        "/chassis/1/clearances/0/spot": "top",
        "/chassis/0/hookups/0/id": "a b",
    }
    faults = _faults(changed(small_catalog(), changes))
    assert [fault.pointer for fault in faults] == [
        "/maker/money",
        "/maker/currency",
        "/joints/0/max_nm",
        "/items/1/price",
        "/items/1/ports/0/standard",
        "/items/4/sku",
        "/items/12/wetted/0",
        "/chassis/0/hookups/0/id",
        "/chassis/1/clearances/0/spot",
        "/addons/0/mounting/0/qty",
        "/layouts/0/banks",
        "/policies",
    ]


def test_a_part_of_the_wrong_shape_still_lends_its_id() -> None:
    """An element that is refused for something else is known to those that name it."""
    faults = _faults(changed(small_catalog(), {"/materials/0/name": 7, "/items/2/kind": "bung"}))
    assert [fault.pointer for fault in faults] == ["/materials/0/name", "/items/2/kind"]


def test_a_catalog_nested_deeper_than_python_recurses() -> None:
    """Depth is no danger to the check, wherever it stands."""
    deep: Any = {}
    for _ in range(50_000):
        deep = {"items": [deep]}
    assert [fault.pointer for fault in _faults(small_catalog() | {"maker": deep})] == [
        "/maker/items",
        "/maker/name",
        "/maker/currency",
    ]
    assert _faults(deep)


def test_a_large_catalog_with_many_faults() -> None:
    """Thousands of faults are all listed; suggestions stop, faults do not."""
    catalog = small_catalog()
    plug = catalog["items"][1]
    wrong = [plug | {"sku": f"P-{n}", "wetted": [f"felt-{n}"], "price": -1} for n in range(3000)]
    faults = _faults(catalog | {"items": [*catalog["items"], *wrong]})
    assert len(faults) == 6000
    assert faults[-1] == Fault("/items/3012/wetted/0", '"felt-2999"', "the id of an element of materials")


@given(JSON_VALUES)
def test_any_json_is_refused_with_faults_alone(data: object) -> None:
    """No JSON value makes the check fail otherwise, and every fault can be written as UTF-8."""
    _are_fit_to_send(_faults(data))


def _ring_of(*spots: str) -> dict[str, Any]:
    """A placement whose links lead from each spot to the one after it, and the last to the first."""
    return {spot: {"duty": "link", "to_spot": to} for spot, to in zip(spots, (*spots[1:], spots[0]), strict=True)}


@example([("/layouts/1/placements/0", {"\ud800": {}})])
@example([("/layouts/1/placements/0", _ring_of("\x00", "\ud800", "x" * 9999))])
@given(st.lists(st.tuples(st.sampled_from(PLACES), st.just(GONE) | JSON_VALUES), min_size=1, max_size=4))
def test_any_change_of_a_good_catalog_is_taken_or_refused_with_faults(changes: list[tuple[str, Any]]) -> None:
    """A good catalog with parts replaced at random is a catalog still, or has faults that can be sent."""
    data = small_catalog()
    for pointer, value in changes:
        with suppress(KeyError, IndexError, TypeError, ValueError):  # an earlier change took the place away
            changed(data, {pointer: value})
    try:
        check_catalog(data)
    except CatalogFaultsError as refused:
        _are_fit_to_send(refused.faults)


def _are_fit_to_send(faults: tuple[Fault, ...]) -> None:
    for fault in faults:
        assert fault.expected
        assert fault.found.isprintable()
        assert len(fault.found) < 400
        assert len(fault.expected) < 1_000
        assert all(len(segment) <= 120 for segment in segments_of(fault.pointer))
        (fault.pointer + fault.found + fault.expected).encode()
