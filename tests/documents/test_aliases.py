"""Aliases of a catalog: their bounds, and what `catalog check` says of those that break them."""

from typing import Any

import pytest

from service.documents.check import CatalogFaultsError, check_catalog
from tests.support.catalogs import small_catalog

SECTIONS = ("items", "chassis", "addons", "layouts", "fuels", "materials")


def with_aliases(section: str, aliases: Any) -> dict[str, Any]:
    catalog = small_catalog()
    first, *others = catalog[section]
    return catalog | {section: [first | {"aliases": aliases}, *others]}


@pytest.mark.parametrize("section", SECTIONS)
def test_each_section_takes_aliases(section: str) -> None:
    catalog = check_catalog(with_aliases(section, ["the old one", "\u2116 7"]))
    assert getattr(catalog, section)[0].aliases == ["the old one", "\u2116 7"]
    assert getattr(check_catalog(with_aliases(section, [])), section)[0].aliases is None


@pytest.mark.parametrize(
    ("aliases", "place"),
    [(["a", "a"], "/1"), ([""], "/0"), (["--"], "/0"), (["x" * 121], "/0"), ([1], "/0"), ("a", ""), (["a"] * 51, "")],
)
def test_what_is_wrong_is_told_with_its_place(aliases: Any, place: str) -> None:
    with pytest.raises(CatalogFaultsError) as refused:
        check_catalog(with_aliases("items", aliases))
    assert refused.value.faults[0].pointer == f"/items/0/aliases{place}"


def test_two_things_may_share_an_alias() -> None:
    catalog = with_aliases("items", ["stopper"])
    catalog["items"][1] = catalog["items"][1] | {"aliases": ["stopper"]}
    assert check_catalog(catalog)
