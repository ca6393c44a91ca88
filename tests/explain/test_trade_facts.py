"""What the trade knows, said where it is needed: sealants, seals by fuel, look-alike threads, regulators."""

from typing import Any

import pytest

from service.documents.request import BillRequest
from service.documents.sheet import Sheet, SheetStep
from service.explain.reasons import broken
from service.usecases.resolve_request import resolve_request
from tests.explain.answers import answered, best_bill
from tests.explain.sheets import BY_LINE, THROUGH_FLOW, seed, sheet_of_best, sheet_of_seed
from tests.support.builders import RETURN, catalog
from tests.support.catalogs import changed, small_catalog

Json = dict[str, Any]
FACTORY = {"chassis": "brook", "layout": "factory"}
REGULATED = {"chassis": "sedge-10", "layout": "return-6-regulator", "limit": 1}


def step_of(sheet: Sheet, title: str) -> SheetStep:
    [found] = [step for step in sheet["steps"] if step["title"] == title]
    return found


def titles(sheet: Sheet) -> list[str]:
    return [step["title"] for step in sheet["steps"]]


@pytest.mark.parametrize("asked", [THROUGH_FLOW, BY_LINE])
def test_each_joint_says_what_seals_it_and_what_must_not(asked: Json) -> None:
    """Liquid sealant and never tape on tapers, nothing on rings, cones and connectors."""
    words = {
        "orb-8": "no sealant, no tape",
        "flare-6": "no sealant, no tape",
        "quick-5-16": "no sealant",
        "taper-1-8": "never tape, its shreds reach the injectors",
    }
    made = [step for step in sheet_of_seed(asked)["steps"] if step["onto"] is not None]
    assert made
    for step in made:
        assert words[step["standard"] or ""] in step["text"]
    assert all("first thread bare" in step["text"] for step in made if step["standard"] == "taper-1-8")


SEALS: dict[str, tuple[Json, str | None, str | None]] = {
    "A goes first, wherever it stands": ({"nitrile": "B", "fluor": "A"}, "SEAL-F", None),
    "else B, with its caution": ({"nitrile": "B", "fluor": "C"}, "SEAL-B8", "look at it at every service"),
    "of two alike the first": ({"nitrile": "A", "fluor": "A"}, "SEAL-B8", None),
    "else none, which is said": ({"nitrile": "C", "fluor": "D"}, None, "so none is listed"),
}


@pytest.mark.parametrize(("ratings", "sku", "words"), SEALS.values(), ids=SEALS.keys())
def test_the_ring_is_the_one_for_the_fuel(ratings: dict[str, str], sku: str | None, words: str | None) -> None:
    """On the bill, on the sheet and in the check alike."""
    document = _two_seals(ratings)
    bill = best_bill(document, FACTORY)
    spares = [extra["sku"] for extra in bill["extras"] if "a spare for" in extra["text"]]
    assert spares == ([] if sku is None else [sku])
    [step] = [
        step for step in sheet_of_best(document, FACTORY)["steps"] if step["title"].startswith("Rings of Straight")
    ]
    assert [part["sku"] for part in step["parts"]] == spares
    assert ("from the part maker before anything goes in" in step["text"]) == (sku is None)
    cautions = [caution["text"] for caution in bill["cautions"] if caution["rule"] == "ring-material"]
    assert len(cautions) == (words is not None)
    assert words is None or words in cautions[0]


def _two_seals(ratings: dict[str, str]) -> Json:
    """The small catalog whose boss may be given a seal of either rubber; parts are of neither."""
    document = small_catalog()
    fuels = [fuel["id"] for fuel in document["fuels"]]
    document["materials"] += [
        {
            "id": name,
            "name": name,
            "ratings": dict.fromkeys(fuels, rating),
            "min_c": -40,
            "max_c": 150,
            "source": "tests",
        }
        for name, rating in ratings.items()
    ]
    seal = next(item for item in document["items"] if item["sku"] == "SEAL-B8")
    document["items"].append(seal | {"sku": "SEAL-F", "name": "Seal of the other rubber", "wetted": ["fluor"]})
    seal["wetted"] = ["nitrile"]
    return changed(document, {"/joints/0/spare_seal": ["SEAL-B8", "SEAL-F"]})


THREAD = {"diameter_mm": 19.05, "pitch_mm": 1.5875, "form": "unified"}


@pytest.mark.parametrize(
    ("other", "warned"),
    [
        pytest.param(THREAD, True, id="the same thread"),
        pytest.param(THREAD | {"pitch_mm": 1.8143}, False, id="another pitch"),
        pytest.param(THREAD | {"diameter_mm": 22.225}, False, id="another diameter"),
    ],
)
def test_threads_that_look_alike_are_named(other: Json, warned: bool) -> None:
    """A boss and a flare of one thread in one bill: by both names, with the thread and both seals."""
    threads = {"/port_standards/0/thread": THREAD, "/port_standards/1/thread": other}
    bill = best_bill(changed(small_catalog(), threads), {"chassis": "brook", "layout": "hose-centre"})
    told = [x for x in bill["cautions"] if x["facts"].get("standards") == ["boss-8", "flare-6"]]
    assert len(told) == warned
    for caution in told:
        assert "have the same thread (3/4 in, 16 threads to the inch)" in caution["text"]
        assert "sealed by an O-ring, the second by metal cones" in caution["text"]


def test_two_standards_of_one_seal_do_not_look_alike() -> None:
    """Where both seal in the same way, nothing leaks."""
    changes = {"/port_standards/0/thread": THREAD, "/port_standards/3/thread": THREAD}
    bill = best_bill(changed(small_catalog(), changes), FACTORY)
    assert not [x for x in bill["cautions"] if "same thread" in x["text"]]


def test_methanol_is_warned_of() -> None:
    """Its flame and its poison stand with every bill and sheet on it, and with no other."""
    for fuel, warned in (("m85", True), ("petrol", False)):
        sheet = sheet_of_seed(THROUGH_FLOW | {"fuel": fuel})
        told = " ".join(caution["text"] for caution in sheet["cautions"])
        assert ("cannot be seen in daylight" in told) == ("also through the skin" in told) == warned


def test_a_side_plug_loses_nothing() -> None:
    """A plug of a side port has no flow data, and no fuel runs through it: nobody is told that it loses more."""
    for bill in answered(small_catalog(), {"chassis": "brook", "layout": "through-return"})["bills"]:
        assert [path for path in bill["flow"]["paths"] if path["unrated"]]
        assert not [caution for caution in bill["cautions"] if caution["text"].startswith("No flow is rated for")]


def test_the_tightest_limit_is_a_sentence() -> None:
    bill = best_bill(small_catalog(), FACTORY)
    assert bill["margin"]["tightest"] is not None
    assert bill["margin"]["tightest"]["text"].startswith("The tightest limit is the ")


@pytest.mark.parametrize(
    ("asked", "clipped"),
    [
        pytest.param({"chassis": "fennic-16", "layout": "own-hose-6-centre"}, False, id="hoses alone"),
        pytest.param({"chassis": "fennic-16", "layout": "factory-line"}, True, id="the car's own line"),
        pytest.param(BY_LINE, True, id="the car's bulkhead"),
    ],
)
def test_the_car_s_clip_goes_on_the_car_s_line(asked: Json, clipped: bool) -> None:
    """A clip of a quick connector holds no hose: where none of the car's lines is used it is not kept either."""
    sheet = sheet_of_seed(asked)
    assert ("Clip the car's line" in titles(sheet)) == clipped
    assert ("Retaining clip" in step_of(sheet, "Take the old rail off")["text"]) == clipped
    assert not [step for step in sheet["steps"] if step["title"] == "Hold the lines" and "Retaining" in step["text"]]


def test_a_return_without_a_regulator_says_where_one_goes() -> None:
    """On the bill and on the sheet, with its pressure; under boost that it follows the manifold."""
    sheet = sheet_of_seed(THROUGH_FLOW)
    assert [caution["facts"] for caution in sheet["cautions"] if caution["rule"] == "regulator"] == [
        {"spots": ["right"], "set_kpa": 350.0}
    ]
    text = step_of(sheet, "Fit the regulator in the return line")["text"]
    assert "between the return hose at the right spot and the tank" in text
    setting, ready = step_of(sheet, "Set the regulator in the return line"), step_of(sheet, "Make ready")
    assert "set it to 350 kPa" in setting["text"]
    assert setting["number"] > ready["number"]
    assert "follow the manifold" not in text
    boosted = step_of(sheet_of_seed(THROUGH_FLOW | {"boost_kpa": 60.0}), "Fit the regulator in the return line")
    assert "Under boost it has to follow the manifold." in boosted["text"]


def test_a_regulator_on_the_rail_is_set_and_referenced() -> None:
    """Setting, range, where to read it, and the hose to the manifold, after the leak check and before idle."""
    sheet = sheet_of_seed(REGULATED)
    assert "behind the throttle" in step_of(sheet, "Reference of the regulator")["text"]
    setting = step_of(sheet, "Set the regulator")
    assert "reference hose off and closed" in setting["text"]
    assert "to 350 kPa (50.8 psi), read at a test gauge in the feed line" in setting["text"]
    assert "It sets 250 kPa (36.3 psi) to 500 kPa (72.5 psi)." in setting["text"]
    order = [
        titles(sheet).index(title) for title in ("Leak check, engine off", "Set the regulator", "Leak check at idle")
    ]
    assert order == sorted(order)
    assert not [title for title in titles(sheet) if "in the return line" in title]
    atmosphere = sheet_of_seed(REGULATED | {"regulator": {"follows": "atmosphere"}})
    assert "open to the air" in step_of(atmosphere, "Reference of the regulator")["text"]


def test_tools_have_their_sizes() -> None:
    """Wrenches by the parts, keys for plugs and screws, and what is not told is said."""
    told = "\n".join(sheet_of_seed(BY_LINE)["tools"])
    assert "Open-ended wrenches 17.5 mm (11/16 in) and 22.2 mm (7/8 in), and a second one" in told
    assert "For plugs: hex key 4.8 mm (3/16 in) and hex key 9.5 mm (3/8 in)" in told
    assert "no size is told: Low-profile plug for a size 8 boss, generic specification" in told
    assert "Key or socket for the rail's screws: hex key 5 mm" in told
    assert "Test gauge of at least 540 kPa (78.3 psi)" in told  # 405 kPa are three quarters of it
    bare = "\n".join(sheet_of_best(catalog(), RETURN)["tools"])
    assert "size not told of Screw, M6 x 25" in bare


def test_what_points_somewhere_is_turned_there() -> None:
    """The dial of a gauge, outlet and nipple of a regulator."""
    gauge = next(step for step in sheet_of_seed(THROUGH_FLOW)["steps"] if "Pressure gauge" in step["title"])
    assert "stop with the dial to where it is read" in gauge["text"]
    regulator = next(
        step for step in sheet_of_seed(REGULATED)["steps"] if step["title"].startswith("Right spot: Pressure")
    )
    assert "outlet and nipple have to point to where their hoses run free" in regulator["text"]


def test_injectors_go_into_the_rail_with_their_clips() -> None:
    text = step_of(sheet_of_seed(BY_LINE), "Injectors into the rail")["text"]
    assert "press each clip home" in text
    assert "seats in the manifold" in text


@pytest.mark.parametrize("chassis", ["sedge-10", "fennic-16"])
def test_what_stands_in_the_way_names_no_spot_that_is_none(chassis: str) -> None:
    """A rail that lacks the layout's spots is told by those, in orders and lists of layouts alike."""
    own = {"left": {"standard": "orb-8", "end": "female"}}
    asked = {"chassis": chassis, "layout": "own-hose-6-centre", "own_rail": own}
    request = resolve_request(BillRequest.model_validate(asked), seed().revision)
    found = broken(seed().engine.obstacle(request))
    assert found["rule"] == "layout"
    assert found["text"].endswith("runs fuel through centre, which this rail does not have.")
