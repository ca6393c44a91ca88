"""`supplied`: the plug that comes with the rail closes its spot, unless it breaks a rule at that spot."""

import pytest

from service.rules import supplied
from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import GONE, HOSE, LINKED, RETURN, Json, catalog, room, twin
from tests.support.reading import ask, chains_at, line_of, said

SECOND = {"items/-": twin("PLUG-T", "PLUG-U", standout_mm=2.0, across_mm=10.0)}
NO_PLUG = {"items/RAIL-S/supplied/top": GONE}


def test_ruled_out() -> None:
    """Another plug is ruled out at a spot that the rail's own plug closes."""
    case = Case(
        HOSE,
        "PLUG-U",
        "top",
        "The rail comes with its own plug for the top spot: PLUG-T.",
        given={**SECOND, **NO_PLUG},
        changes={"items/RAIL-S/supplied/-": {"sku": "PLUG-T", "qty": 1, "spot": "top"}},
    )
    assert_ruled_out("supplied", case)


@pytest.mark.parametrize(
    ("changes", "wishes", "plug"),
    [
        pytest.param({}, {}, "PLUG-T", id="nothing broken"),
        pytest.param({}, {"clearances": [room("top", axial_mm=3.0)]}, "PLUG-T", id="just fits"),
        pytest.param({}, {"clearances": [room("top", axial_mm=2.9)]}, "PLUG-U", id="stands too far"),
        pytest.param({}, {"clearances": [room("top", across_mm=11.0)]}, "PLUG-U", id="too wide"),
        pytest.param({"items/PLUG-T/max_kpa": 299.0}, {}, "PLUG-U", id="pressure"),
        pytest.param({"items/PLUG-T/patterns": ["broad-six"]}, {}, "PLUG-U", id="pattern"),
        pytest.param({}, {"exclude": ["PLUG-T"]}, "PLUG-U", id="excluded"),
        pytest.param({"items/PLUG-T/ports/a/standard": "flare-6"}, {}, "PLUG-U", id="does not mate"),
        pytest.param({"items/PLUG-T/status": "retired"}, {}, "PLUG-T", id="retired does not matter"),
        pytest.param({"items/PLUG-T/sold": False}, {"allow_unsold": False}, "PLUG-T", id="unsold does not matter"),
        pytest.param({"items/PLUG-T/stock": 0}, {"in_stock_only": True}, "PLUG-T", id="stock does not matter"),
        pytest.param(
            {
                "items/PLUG-T/family": "taper-plug",
                "items/PLUG-T/finish": "black",
                "items/PLUG-U/family": "taper-plug",
                "items/PLUG-U/finish": "slate",
            },
            {"finish": "slate"},
            "PLUG-T",
            id="finish does not matter",
        ),
    ],
)
def test_which_plug(changes: Json, wishes: Json, plug: str) -> None:
    """The supplied plug is used unless it breaks a rule that looks at its spot alone; then only another one."""
    found = ask(catalog(SECOND, changes), HOSE | wishes)
    assert chains_at(found, "top") == {plug}
    (bill,) = found["bills"]
    line = line_of(bill, plug)
    assert (line["source"], line["price"]) == (("supplied", 0) if plug == "PLUG-T" else ("buy", 400))
    assert bill["price"] == 22200 + line["price"]
    assert bill["pieces"] == 4 + (plug == "PLUG-U")


def test_spot_that_is_not_closed() -> None:
    """A plug supplied for a spot that is not closed is left over, and used nowhere else."""
    found = ask(catalog(), RETURN | {"gauge": "top"})
    (bill,) = found["bills"]
    assert line_of(bill, "PLUG-T")["source"] == "buy"
    assert said(found, "RAIL-S", "supplied") == {
        "Plug for a 1/8 taper thread, which comes for the top spot, is left over: that spot is a gauge."
    }


def test_two_banks() -> None:
    """Each bank's rail comes with its own plug."""
    (bill,) = ask(catalog(), LINKED)["bills"]
    line = line_of(bill, "PLUG-T")
    assert (line["source"], line["qty"], line["spots"]) == ("supplied", 2, ["1.top", "2.top"])


def test_plug_supplied_with_another_part() -> None:
    """What comes with another part than the rail stands in the bill as such, and closes nothing."""
    box = [{"sku": "PLUG-B8", "qty": 3}, {"sku": "SEAL-B8", "qty": 1, "role": "seal"}]
    found = ask(catalog({"items/ADAPT-B8-F6/supplied": box}), HOSE)
    (bill,) = found["bills"]
    plugs = {line["source"]: line for line in bill["lines"] if line["sku"] == "PLUG-B8"}
    assert (plugs["buy"]["qty"], plugs["buy"]["spots"]) == (2, ["left", "right"])
    assert (plugs["supplied"]["qty"], plugs["supplied"]["spots"]) == (3, [])
    text = "Comes in the box with Adapter, size-8 boss to size-6 flare."
    assert [reason["text"] for reason in plugs["supplied"]["reasons"]] == [text]
    assert line_of(bill, "SEAL-B8")["source"] == "supplied"


def test_side_plug_of_a_supplied_plug() -> None:
    """A supplied plug with a side port of its own is closed by a plug that is bought."""
    ports = [{"id": "a", "standard": "taper-1/8", "end": "male"}, {"id": "b", "standard": "boss-8", "end": "female"}]
    (bill,) = ask(catalog({"items/PLUG-T/ports": ports}), HOSE)["bills"]
    assert bill["chains"]["top"] == ["PLUG-T", "PLUG-B8"]
    assert line_of(bill, "PLUG-T")["source"] == "supplied"
    assert (line_of(bill, "PLUG-B8")["source"], line_of(bill, "PLUG-B8")["qty"]) == ("buy", 3)


@pytest.mark.parametrize(
    ("facts", "text"),
    [
        pytest.param(supplied.facts("PLUG-T", "top"), "Comes with the rail for the top spot.", id="plug"),
        pytest.param(supplied.box_facts("Rail", 2), "Comes in the box with Rail.", id="box"),
    ],
)
def test_words(facts: Json, text: str) -> None:
    """What is supplied says where it comes from."""
    assert supplied.RULE.reason(facts) == text


def test_kept() -> None:
    """The supplied plug says so on its line."""
    assert said(ask(catalog(), HOSE), "PLUG-T", "supplied") == {"Comes with the rail for the top spot."}


@pytest.mark.parametrize(("asked", "qty"), [pytest.param(HOSE, 3, id="one"), pytest.param(LINKED, 6, id="two")])
def test_box_of_each_rail(asked: Json, qty: int) -> None:
    """What comes in the rail's box for no spot and no role comes once with the rail of each bank."""
    (bill,) = ask(catalog({"items/RAIL-S/supplied/-": {"sku": "SEAL-B8", "qty": 3}}), asked)["bills"]
    line = line_of(bill, "SEAL-B8")
    assert (line["source"], line["qty"], line["price"]) == ("supplied", qty, 0)
