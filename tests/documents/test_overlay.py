"""Edits laid over a catalog: what becomes of its objects, what conflicts, where faults are told."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from random import Random
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.overlay import (
    Conflict,
    Edit,
    WhatBecame,
    became,
    between,
    catalog_over,
    conflicts_of,
    faults_over,
    faults_since,
    fields_between,
    overlaid,
)
from service.documents.packed import PackedCatalog, packed
from tests.support.catalogs import small_catalog
from tests.support.effort import seeds
from tests.support.random_catalogs import random_catalog
from tests.support.random_power import with_power_facts

GTIN = "4006381333931"
"""With the right last digit, by the rule of the GS1 General Specifications."""
NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)
BASE = {"items": {"A": '{"sku":"A"}', "B": '{"sku":"B"}'}, "fuels": {"x": "{}"}}


def edit(key: str, document: str | None, section: str = "items", what: WhatBecame = "changed") -> Edit:
    return Edit(section, key, what, document, 1, None, NOON)


@pytest.mark.parametrize(
    ("before", "after", "what"),
    [(None, "{}", "added"), ("{}", None, "removed"), ("{}", "[]", "changed"), ("{}", "{}", None), (None, None, None)],
)
def test_what_became_of_an_object(before: str | None, after: str | None, what: WhatBecame | None) -> None:
    assert became(before, after) == what


def test_edits_keep_the_order_and_new_objects_come_last() -> None:
    """A section that the base has not is made; the base stays as it is; what is between is the edits."""
    edits = [
        edit("B", None),
        edit("C", '{"sku":"C"}'),
        edit("A", "{}"),
        edit("one", "{}", "addons"),
        edit("gone", None),
    ]
    found = overlaid(BASE, edits)
    assert found == {"items": {"A": "{}", "C": '{"sku":"C"}'}, "fuels": {"x": "{}"}, "addons": {"one": "{}"}}
    assert list(found["items"]) == ["A", "C"]
    assert list(BASE["items"]) == ["A", "B"]
    assert sorted(between(BASE, found)) == [
        ("addons", "one", "added"),
        ("items", "A", "changed"),
        ("items", "B", "removed"),
        ("items", "C", "added"),
    ]
    assert list(between(found, found)) == []


def test_the_fields_that_differ() -> None:
    assert fields_between('{"a":1,"b":[1],"c":2}', '{"a":1,"b":[2],"d":3}') == ("b", "c", "d")
    assert fields_between(None, '{"a":1}') == fields_between('{"a":1}', None) == ()


@pytest.mark.parametrize(
    ("newest", "draft", "conflicts"),
    [
        ('{"sku":"A"}', "{}", False),  # the draft alone changed it
        ("[]", "[]", False),  # both alike
        ("[]", "{}", True),
        (None, "{}", True),
        (None, None, False),
        ("[]", None, True),
    ],
)
def test_what_keeps_an_edit_from_moving(newest: str | None, draft: str | None, conflicts: bool) -> None:
    """The same object changed by both, and not alike."""
    later = {"items": {} if newest is None else {"A": newest}}
    expected = [Conflict("items", "A", '{"sku":"A"}', draft, newest)] if conflicts else []
    assert conflicts_of(BASE, later, [edit("A", draft)]) == expected


def test_faults_are_told_of_the_objects_that_have_them() -> None:
    """Each with its section and key, and the pointer within; a catalog without a fault is one."""
    whole = Catalog.model_validate(small_catalog())
    sections = packed(whole).texts
    assert faults_over(sections) == []
    assert catalog_over(sections) == whole
    case: dict[str, Any] = json.loads(sections["chassis"]["brook"])
    case["mounting"][0]["sku"] = "NONE"
    [fault] = faults_over(overlaid(sections, [edit("brook", json.dumps(case), "chassis")]))
    assert (fault.section, fault.key, fault.pointer, fault.found) == ("chassis", "brook", "/mounting/0/sku", '"NONE"')
    without = faults_over({**sections, "fuels": {}})
    assert ("fuels", "", "") in {(one.section, one.key, one.pointer) for one in without}


def spoilt(rng: Random, section: dict[str, str], texts: Mapping[str, Mapping[str, str]]) -> None:
    """Remove an object, write an id of the catalog over another one in it, or take one of its fields away."""
    key = rng.choice(list(section))
    ids = [x for one in texts.values() for x in one]
    told: Any = json.loads(section[key])
    named = [x for x in ids if f'"{x}"' in section[key] and x != key]
    match rng.randrange(4):
        case 0:
            del section[key]
        case 1 if named:
            section[key] = section[key].replace(f'"{rng.choice(named)}"', f'"{rng.choice([*ids, "none"])}"')
        case 2:
            told.pop(rng.choice(sorted(told.keys() - {"id", "sku"})), None)
            section[key] = json.dumps(told)
        case _:
            other = section.pop(key)
            section[f"{key}-new"] = other.replace(f'"{key}"', f'"{key}-new"')


@pytest.mark.parametrize("seed", seeds(0, 20))
def test_faults_of_edits_are_those_of_looking_at_everything(seed: int) -> None:
    """Whatever edits do, and also where the base has faults itself."""
    rng = Random(seed)
    catalog = with_power_facts(rng, random_catalog(rng))
    catalog["items"][-1] |= {"gtin": GTIN}
    base = packed(Catalog.model_validate(catalog))
    if seed % 10 == 0:
        base = PackedCatalog({**base.texts, "materials": {}})
    sections = {name: dict(texts) for name, texts in base.texts.items()}
    for _ in range(rng.randint(1, 4)):
        name = rng.choice(["items"] * 4 + ["chassis", "port_standards", "materials", "layouts", "fuels", "joints"])
        if sections[name]:
            spoilt(rng, sections[name], sections)
    circle = sorted(sections["items"])[:2]
    if seed % 5 == 0 and len(circle) == 2:
        sections["items"][circle[0]] = json.dumps(json.loads(sections["items"][circle[0]]) | {"gtin": GTIN})
    if seed % 7 == 0 and len(circle) == 2:
        for sku, other in zip(circle, circle[::-1], strict=True):
            sections["items"][sku] = json.dumps(json.loads(sections["items"][sku]) | {"superseded_by": other})
    assert faults_since(base, sections) == faults_over(sections)
