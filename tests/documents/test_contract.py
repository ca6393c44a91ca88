"""The standing cases of a catalog: what is refused of them, and where."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.packed import packed
from tests.support.catalogs import small_catalog

CASE: dict[str, Any] = {
    "id": "centre",
    "says": "A hose feeds the centre.",
    "request": {"chassis": "brook", "layout": "hose-centre"},
    "promises": {"has_bill": True, "contains": ["RAIL-S"], "price": {"at_least": 1, "at_most": 90_000}, "keyed": True},
}


def _with(case: dict[str, Any]) -> dict[str, Any]:
    return small_catalog() | {"contract_cases": [case]}


def _faults(catalog: dict[str, Any]) -> list[tuple[str, str, str]]:
    with pytest.raises(CatalogFaultsError) as raised:
        check_catalog(catalog)
    return [(fault.pointer, fault.found, fault.expected) for fault in raised.value.faults]


def test_a_case_is_taken() -> None:
    """As it is told."""
    [case] = check_catalog(_with(CASE)).contract_cases or []
    assert (case.id, case.promises.keyed, case.request.layout) == ("centre", True, "hose-centre")


def test_a_catalog_without_cases_is_as_it_was() -> None:
    """Nothing is added to the document, and its digest is that of before there were cases."""
    catalog = Catalog.model_validate(small_catalog())
    assert "contract_cases" not in catalog.model_dump(exclude_none=True)
    assert packed(catalog).digest() != packed(Catalog.model_validate(_with(CASE))).digest()
    assert catalog.model_dump(exclude_defaults=True).keys() == small_catalog().keys()


_AT = "/contract_cases/0"
_FAULTS: dict[str, tuple[dict[str, Any], str, str]] = {
    "unknown chassis": ({"request": {"chassis": "brok"}}, "request/chassis", "element of chassis; nearest: brook"),
    "unknown layout": ({"request": {"layout": "hose-center"}}, "request/layout", "element of layouts; nearest: hose-c"),
    "unknown fuel": ({"request": {"fuel": "petrl"}}, "request/fuel", "element of fuels; nearest: petrol"),
    "unknown add-on": ({"request": {"addons": ["blowr"]}}, "request/addons/0", "of addons; nearest: blower"),
    "unknown excluded": (
        {"request": {"exclude": ["RAIL-X"]}},
        "request/exclude/0",
        "element of items; nearest: RAIL-S",
    ),
    "unknown at hand": ({"request": {"have": [{"sku": "RAIL-X", "qty": 1}]}}, "request/have/0/sku", "nearest: RAIL-S"),
    "unknown own spot": (
        {"request": {"own_rail": {"left": {"standard": "bos-8", "end": "female"}}}},
        *("request/own_rail/left/standard", "element of port_standards; nearest: boss-8"),
    ),
    "unknown contained": ({"promises": {"contains": ["RAIL-X"]}}, "promises/contains/0", "nearest: RAIL-S"),
    "unknown never": ({"promises": {"never_contains": ["RAIL-X"]}}, "promises/never_contains/0", "nearest: RAIL-S"),
    "contained and never": (
        {"promises": {"never_contains": ["PLUG-B8", "RAIL-S"]}},
        *("promises/never_contains/1", "an item that contains does not name"),
    ),
    "prices turned round": (
        {"promises": {"price": {"at_least": 5, "at_most": 4}}},
        *("promises/price/at_most", "at least at_least, which is 5 minor units"),
    ),
    "a pump that falls": (
        {"request": {"pump": [{"kpa": 5, "l_h": 9}, {"kpa": 4, "l_h": 9}]}},
        *("request/pump/1/kpa", "more than the 5 kPa of the point before"),
    ),
    "a revision": ({"request": {"revision": 1}}, "request/revision", "no such field"),
    "a key": ({"promises": {"key": "1abc"}}, "promises/key", "no such field; nearest: keyed"),
    "no layout": ({"request": {"layout": None}}, "request/layout", "a text"),
}


@pytest.mark.parametrize("name", list(_FAULTS))
def test_a_fault_of_a_case(name: str) -> None:
    """Is told by its pointer, alone."""
    change, place, expected = _FAULTS[name]
    case = {**CASE, **{part: {**CASE[part], **fields} for part, fields in change.items()}}
    [(pointer, _, told)] = _faults(_with(case))
    assert pointer == f"{_AT}/{place}"
    assert expected in told


def test_promises_about_no_bill() -> None:
    """Where no bill is promised nothing can be promised of one: each such promise is a fault."""
    case = CASE | {"promises": CASE["promises"] | {"has_bill": False}}
    told = _faults(_with(case))
    assert [pointer for pointer, _, _ in told] == [f"{_AT}/promises/{name}" for name in ("contains", "price", "keyed")]
    assert {expected for _, _, expected in told} == {"nothing: has_bill is false"}


def test_a_doubled_case() -> None:
    """Ids of cases are their own."""
    assert _faults(small_catalog() | {"contract_cases": [CASE, CASE]}) == [
        ("/contract_cases/1/id", '"centre"', "an id of its own: /contract_cases/0 has this one")
    ]


def test_an_empty_section() -> None:
    """Is no section."""
    assert _faults(small_catalog() | {"contract_cases": []}) == [("/contract_cases", "[]", "at least 1 element(s)")]
