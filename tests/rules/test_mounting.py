"""`mounting`: each role is filled once: by an add-on, else by what the rail supplies, else by what is on the car."""

import pytest

from service.rules import mounting
from tests.support.builders import GONE, HOSE, LINKED, Json, catalog
from tests.support.reading import ask, said

BLOWER = HOSE | {"addons": ["blower"]}
SECOND = {
    "id": "cooler",
    "name": "Charge cooler",
    "chassis": ["brook"],
    "boost_kpa": 0.0,
    "clearances": [],
    "mounting": [{"role": "rail-screw", "sku": "SCREW-6", "qty": 3}, {"role": "shield", "sku": "SPACER-5", "qty": 1}],
}
FROM_CAR = "It is on the car already{}: use it again after checking it."
INSTEAD = "takes the place of other parts for this role"


def mounted(catalog_: Json, asked: Json) -> set[tuple[str, int, str]]:
    """(SKU, quantity, source) of each mounting line of the only bill."""
    (bill,) = ask(catalog_, asked)["bills"]
    return {
        (line["sku"], line["qty"], line["source"])
        for line in bill["lines"]
        if any(reason["rule"] == "mounting" for reason in line["reasons"])
    }


@pytest.mark.parametrize(
    ("changes", "asked", "expected"),
    [
        pytest.param({}, HOSE, {("SCREW-6", 2, "supplied"), ("SPACER-5", 2, "on-car")}, id="rail before car"),
        pytest.param(
            {"items/RAIL-S/supplied/rail-screw": GONE},
            HOSE,
            {("SCREW-6", 2, "on-car"), ("SPACER-5", 2, "on-car")},
            id="car alone",
        ),
        pytest.param({}, BLOWER, {("SCREW-6-LONG", 2, "add-on"), ("SPACER-5", 2, "on-car")}, id="add-on before rail"),
        pytest.param(
            {"items/RAIL-S/supplied/rail-screw": GONE},
            BLOWER,
            {("SCREW-6-LONG", 2, "add-on"), ("SPACER-5", 2, "on-car")},
            id="add-on before car",
        ),
        pytest.param(
            {"addons/-": SECOND},
            HOSE | {"addons": ["blower", "cooler"]},
            {("SCREW-6-LONG", 2, "add-on"), ("SPACER-5", 1, "add-on"), ("SPACER-5", 2, "on-car")},
            id="first add-on",
        ),
        pytest.param(
            {"addons/-": SECOND},
            HOSE | {"addons": ["cooler", "blower"]},
            {("SCREW-6", 3, "add-on"), ("SPACER-5", 1, "add-on"), ("SPACER-5", 2, "on-car")},
            id="first add-on, the other way round",
        ),
        pytest.param({}, LINKED, {("SCREW-6", 4, "supplied")}, id="supplied with each of two rails"),
        pytest.param(
            {"items/RAIL-S/supplied/rail-screw": GONE},
            LINKED,
            {("SCREW-6", 4, "on-car")},
            id="car of two banks as given",
        ),
        pytest.param(
            {"items/RAIL-S/supplied/-": {"sku": "SPACER-5", "qty": 1, "role": "rail-screw"}},
            HOSE,
            {("SCREW-6", 2, "supplied"), ("SPACER-5", 1, "supplied"), ("SPACER-5", 2, "on-car")},
            id="two parts of one giver",
        ),
    ],
)
def test_who_fills(changes: Json, asked: Json, expected: set[tuple[str, int, str]]) -> None:
    """Each role is filled once, by the first that gives it."""
    assert mounted(catalog(changes), asked) == expected


@pytest.mark.parametrize(
    ("asked", "sku", "text"),
    [
        pytest.param(HOSE, "SCREW-6", "Fills the mounting role rail-screw. It comes with Fuel rail, slate.", id="rail"),
        pytest.param(
            BLOWER,
            "SCREW-6-LONG",
            f"Fills the mounting role rail-screw. It comes with Belt-driven blower and {INSTEAD}.",
            id="add-on",
        ),
        pytest.param(
            HOSE,
            "SPACER-5",
            f"Fills the mounting role rail-spacer. {FROM_CAR.format(', where the car has one')}",
            id="on the car, optional",
        ),
    ],
)
def test_kept(asked: Json, sku: str, text: str) -> None:
    """A mounting part tells its role and where it comes from."""
    assert said(ask(catalog(), asked), sku, "mounting") == {text}


def test_on_the_car() -> None:
    """What every such car has is told without a doubt."""
    found = ask(catalog({"items/RAIL-S/supplied/rail-screw": GONE}), HOSE)
    assert said(found, "SCREW-6", "mounting") == {f"Fills the mounting role rail-screw. {FROM_CAR.format('')}"}


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"items/SCREW-6/status": "retired", "items/SCREW-6/stock": 0}, id="retired, no stock"),
        pytest.param({"items/SCREW-6/patterns": ["broad-six"]}, id="other pattern"),
        pytest.param({"items/SPACER-5/sold": False}, id="unsold"),
        pytest.param({"chassis/brook/mounting": [], "items/RAIL-S/supplied/rail-screw": GONE}, id="nothing to mount"),
    ],
)
def test_never_rules_out(changes: Json) -> None:
    """Mounting parts are not bought and rule no bill out."""
    wishes = {"in_stock_only": True, "allow_unsold": False, "exclude": ["SCREW-6", "SPACER-5"]}
    found = ask(catalog(changes), HOSE | wishes)
    assert (found["total_valid"], found["bills"][0]["price"], found["bills"][0]["pieces"]) == (1, 22200, 4)


def test_words_of_the_loser() -> None:
    """What another giver takes the place of can be told, too."""
    facts = {"role": "rail-screw", "giver": "Belt-driven blower"}
    assert mounting.RULE.rejection(facts) == "Mounting role rail-screw is filled by Belt-driven blower."
