"""A catalog read an object at a time: the same catalog, refused where the checks of the whole refuse it."""

import json
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.documents.catalog import Catalog, Item, Material
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.folder import load_catalog, write_catalog
from service.documents.packed import DoubledIdError, canonical, packed
from service.documents.packing import pack_catalog
from tests.bench_catalog import SEED_CATALOG
from tests.documents import test_check, test_engineering_integrity, test_integrity, test_strict_json
from tests.storage.rich_catalog import rich_catalog
from tests.support.catalogs import changed, small_catalog
from tests.support.engineering_data import told_catalog

BETWEEN = {
    **{name: changes for name, (changes, *_) in test_integrity.DOUBLED.items()},
    **{name: changes for name, (changes, *_) in test_integrity.BETWEEN.items()},
    **{name: {pointer: wrong} for name, (pointer, wrong, *_) in test_integrity.DANGLING.items()},
    **{name: changes for name, (changes, *_) in test_check.SHAPES.items()},
}


def _in_file(folder: Path, catalog: object) -> Path:
    file = folder / "catalog.json"
    file.write_text(json.dumps(catalog))
    return file


@pytest.mark.parametrize("make", [small_catalog, told_catalog, rich_catalog])
def test_the_same_catalog(tmp_path: Path, make: Callable[[], dict[str, Any]]) -> None:
    """From a file and from a folder, object by object, and as one document."""
    catalog = check_catalog(make())
    found = pack_catalog(_in_file(tmp_path, make()))
    assert found == packed(catalog)
    assert found.whole() == catalog
    write_catalog(found, tmp_path / "folder")
    assert pack_catalog(tmp_path / "folder") == found


def test_progress_is_told(tmp_path: Path) -> None:
    """It rises to all that there is to read."""
    told: list[tuple[int, int]] = []
    pack_catalog(SEED_CATALOG, lambda done, total: told.append((done, total)))
    assert told == sorted(told)
    assert told[-1][0] <= told[-1][1] == sum(file.stat().st_size for file in SEED_CATALOG.glob("*.json"))


@pytest.mark.parametrize("name", BETWEEN)
def test_each_fault_is_told_as_ever(tmp_path: Path, name: str) -> None:
    """In the words of the checks of the whole document."""
    _refused_alike(_in_file(tmp_path, changed(small_catalog(), BETWEEN[name])))


@pytest.mark.parametrize("name", test_engineering_integrity.FAULTS)
def test_each_fault_of_engineering_too(tmp_path: Path, name: str) -> None:
    _refused_alike(_in_file(tmp_path, changed(told_catalog(), test_engineering_integrity.FAULTS[name][0])))


@pytest.mark.parametrize(
    "raw", [row[0] for row in (*test_strict_json.MALFORMED.values(), *test_strict_json.INVALID.values())]
)
def test_flaws_of_json(tmp_path: Path, raw: bytes | str) -> None:
    """Alone in a file, and in the place of an item and of a price."""
    flaw = raw if isinstance(raw, bytes) else raw.encode("utf-8", "surrogatepass")
    good = json.dumps(small_catalog()).encode()
    within = (b'[{"sku"', b"[" + flaw + b', {"sku"'), (b'"price": ', b'"price": ' + flaw)
    for content in (flaw, *(good.replace(*change) for change in within if flaw.strip())):
        file = tmp_path / "catalog.json"
        file.write_bytes(content)
        _refused_alike(file)


def _refused_alike(file: Path) -> None:
    with pytest.raises(CatalogFaultsError) as as_ever:
        load_catalog(file)
    with pytest.raises(CatalogFaultsError) as told:
        pack_catalog(file)
    assert told.value.faults == as_ever.value.faults


STRANGE = [None, "", "x", "\ud800", "petrol", "boss-8", "RAIL-S", -1, 0, 0.5, 1e12, 1e400, True, [], {}, ["x", "x"]]


def test_random_damage_is_refused_alike(tmp_path: Path) -> None:
    """Catalogs with a value or two put in the place of others: taken by both ways of reading, or by none."""
    rng, taken = Random(29), 0
    for _ in range(60):
        catalog = told_catalog()
        for _ in range(rng.choice([1, 1, 2])):
            _damage(catalog, rng)
        file = _in_file(tmp_path, catalog)
        try:
            expected = load_catalog(file)
        except CatalogFaultsError:
            _refused_alike(file)
        else:
            taken += 1
            assert pack_catalog(file) == expected
    assert 5 < taken < 50


def _damage(value: Any, rng: Random) -> None:
    """Put something strange somewhere into a value, or take something away."""
    while True:
        place = rng.choice(list(value) if isinstance(value, dict) else range(len(value)))
        if isinstance(value[place], dict | list) and value[place] and rng.random() < 0.8:
            value = value[place]
        elif rng.random() < 0.3:
            del value[place]
            return
        else:
            value[place] = rng.choice(STRANGE)
            return


NUMBERS = st.floats(0, 10_000) | st.sampled_from([0.0, -0.0, 1e-5, 1.5e-7, 5e-324, 0.0001, 0.00012, 1 / 3, 1e4])


@settings(max_examples=150, deadline=None, derandomize=True)
@given(NUMBERS, st.text(st.characters(blacklist_categories=["Cs", "Cc"]), min_size=1, max_size=20))
def test_canonical_json_is_that_of_the_standard_library(number: float, name: str) -> None:
    """Whatever the numbers and the letters are: digests of earlier versions hang on it."""
    document = Item.model_validate({**small_catalog()["items"][-1], "name": name, "standout_mm": number})
    plain = document.model_dump(exclude_defaults=True)
    plain["standout_mm"] += 0.0
    assert canonical(document) == json.dumps(plain, separators=(",", ":"))


def test_canonical_json_of_small_figures() -> None:
    """A coefficient of expansion."""
    material = Material.model_validate({**small_catalog()["materials"][0], "expansion_1_k": 2.3e-05})
    assert '"expansion_1_k":2.3e-05' in canonical(material)


def test_an_id_that_stands_twice_is_no_checked_catalog() -> None:
    catalog = small_catalog()
    catalog["fuels"].append(catalog["fuels"][0])
    with pytest.raises(DoubledIdError, match="twice in fuels"):
        packed(Catalog.model_validate(catalog))
