"""What a catalog may tell of items for trade: optional, held to its form, and without a trace where it is not told."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.folder import load_catalog, seed_folder
from service.documents.packed import packed
from service.domain.gtin import check_digit, is_gtin
from tests.support.catalogs import changed, small_catalog

BEFORE = "203a567b1b5ac24ebbfdd41dd66e647b9c4398f8b438ea611b78ddf9df935979"
"""The digest of the small catalog as it was before there were these fields."""
RAIL, PLUG = "/items/0", "/items/1"


def test_what_is_not_told_leaves_no_trace() -> None:
    """An old revision keeps the hash of its content."""
    assert packed(Catalog.model_validate(small_catalog())).digest() == BEFORE


@pytest.mark.parametrize(
    ("field", "value", "expected"),
    [
        ("gtin", "201234567890", "9 as the last digit, which checks the others: 201234567899"),
        ("gtin", "1234567", "a GTIN: 8, 12, 13 or 14 digits"),
        ("gtin", 2000000000015, "a text"),
        ("mpn", "", "a text of at least 1 character(s)"),
        ("country", "no", "a country by ISO 3166-1 alpha-2: two capital letters"),
        ("url", "ftp://shop.example", "an address that begins with https:// or http://, without spaces"),
        ("image", "javascript:alert(1)", "an address that begins with https:// or http://, without spaces"),
    ],
)
def test_forms(field: str, value: Any, expected: str) -> None:
    """Each fault by its place, with what would be right."""
    with pytest.raises(CatalogFaultsError) as caught:
        check_catalog(changed(small_catalog(), {f"{PLUG}/{field}": value}))
    assert [(fault.pointer, fault.expected) for fault in caught.value.faults] == [(f"{PLUG}/{field}", expected)]


def test_a_gtin_names_one_item() -> None:
    """With zeros before it it is the same number."""
    told = {f"{RAIL}/gtin": "2000000000015", f"{PLUG}/gtin": "02000000000015"}
    with pytest.raises(CatalogFaultsError) as caught:
        check_catalog(changed(small_catalog(), told))
    assert [fault.pointer for fault in caught.value.faults] == [f"{PLUG}/gtin"]
    assert caught.value.faults[0].expected == f"a GTIN of its own: {small_catalog()['items'][0]['sku']} has this one"


def test_the_tax_of_the_maker() -> None:
    """Net or gross, or nothing."""
    with pytest.raises(CatalogFaultsError) as caught:
        check_catalog(changed(small_catalog(), {"/maker/tax": "vat"}))
    assert [fault.expected for fault in caught.value.faults] == ["one of: net or gross"]


def test_the_seed_s_numbers_are_nobody_s() -> None:
    """Valid ones of the prefixes that GS1 keeps for restricted circulation (02, 04, 20 to 29), General Specifications,
    section 1.4: so no number of a real article is taken."""
    told = [item.gtin for item in load_catalog(seed_folder()).items if item.gtin is not None]
    assert len(told) >= 5
    for gtin in told:
        assert is_gtin(gtin)
        assert check_digit(gtin[:-1]) == int(gtin[-1])
        assert gtin.startswith(("02", "04", *(str(prefix) for prefix in range(20, 30))))
