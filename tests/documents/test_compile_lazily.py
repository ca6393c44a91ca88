"""What a question does not touch is not compiled."""

import pytest
from pydantic import ValidationError

from service.documents.catalog import Catalog
from service.documents.packed import PackedCatalog, packed
from service.domain.lazy import Lazily
from service.usecases.library import Edition, open_edition
from tests.bench_catalog import bench_catalog, car_of_family
from tests.support.catalogs import changed, small_catalog
from tests.support.engine import answer_from


def test_other_families_stay_as_they_are() -> None:
    """A car is answered for in a catalog whose other parts and cars could not even be read."""
    told = packed(Catalog.model_validate(bench_catalog(300)))
    of_others = (".1", ".2")
    texts = {
        section: {
            key: text.replace(needed, '"other":') if key.endswith(of_others) else text for key, text in objects.items()
        }
        for section, objects in told.texts.items()
        for needed in ('"price":' if section == "items" else '"name":',)
    }
    broken = open_edition(1, PackedCatalog(texts))
    question = {"chassis": car_of_family(), "layout": "factory-line"}
    found = answer_from(broken, question)
    assert found["total_valid"]
    assert found == answer_from(Edition(1, told), question)
    with pytest.raises(ValidationError):
        answer_from(broken, {**question, "chassis": car_of_family(1)})


def test_lazily() -> None:
    """Each value is worked out once, when it is asked for; what is no key is none."""
    asked: list[str] = []

    def length(key: str) -> list[int]:
        asked.append(key)
        return [len(key)]

    found = Lazily({"a": 0, "bb": 0}, length)
    assert "a" in found
    assert list(found) == ["a", "bb"]
    assert (len(found), asked) == (2, [])
    assert found["bb"] is found["bb"]
    assert found.get("c") is None
    assert asked == ["bb"]
    assert dict(found) == {"a": [1], "bb": [2]}
    assert list(found.among(["bb", "c", "a"])) == [[1], [2]]


def test_catalogs_in_memory_share_their_texts() -> None:
    """What is the same in two of them is there once."""
    small = small_catalog()
    first = packed(Catalog.model_validate(small))
    dearer = packed(Catalog.model_validate(changed(small, {"/items/0/price": 5})))
    second = dearer.sharing(first)
    assert second == dearer
    before, after = first.texts["items"], second.texts["items"]
    assert [sku for sku in after if after[sku] is not before[sku]] == [small["items"][0]["sku"]]
