"""What is told of the fields of a catalog: of each, and which of them name other objects."""

from collections.abc import Mapping
from json import loads
from typing import Any

import pytest
from pydantic import TypeAdapter

from service.documents.arriving import Part
from service.documents.catalog import Catalog
from service.documents.meanings import REFERENCES, is_told, meaning_of
from service.documents.references import named_in
from tests.support.engineering_data import told_catalog

ALL = TypeAdapter(Catalog).json_schema()["$defs"]


@pytest.mark.parametrize("document", sorted(name for name, schema in ALL.items() if "properties" in schema))
def test_every_field_is_told_of(document: str) -> None:
    for field in ALL[document]["properties"]:
        assert is_told(document, field), (document, field)
        assert meaning_of(document, field).title


def test_a_field_that_nobody_told_of_has_its_own_name() -> None:
    assert meaning_of("Item", "left_over_mm") == ("Left over mm", "")


def test_fields_that_name_objects_are_those_that_are_held_to_them() -> None:
    """As the check of a catalog reads it: wherever an id has to be known, the form offers those that are."""
    document: Mapping[str, Any] = loads(Catalog.model_validate(told_catalog()).model_dump_json())
    found = {(name_of(path), section) for path, value, section in named_in(Part((), dict(document))) if value}
    assert found
    assert {(name, REFERENCES.get(name)) for name, _ in found} == found


def name_of(path: tuple[str | int, ...]) -> str:
    return next(str(step) for step in reversed(path) if isinstance(step, str))
