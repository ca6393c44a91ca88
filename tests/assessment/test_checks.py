"""The checks beside a bill: what each finds on a sound catalog, and what one wrong figure makes of it."""

import re
from typing import Any

import pytest

from service.documents.answer import Bill
from tests.explain.answers import answered
from tests.support.catalogs import GONE, changed, small_catalog
from tests.support.engineering_data import told_catalog

Json = dict[str, Any]

ASKED: Json = {"chassis": "brook", "layout": "through-return", "limit": 1, "gauge": "top"}
SEAL, SCREW, SPACER, RAIL = "/items/8", "/items/10/screw", "/items/12/spacer", "/items/0"
CAR = "/chassis/0"
ALL = [
    *("pump", "injectors", "vapour-inlet", "vapour-soak", "spread", "gauge-scale", "ring-fit", "ring-material"),
    *("taper-engagement", "screws", "stack", "heat"),
]


def bill_of(changes: Json, asked: Json | None = None) -> Bill:
    return answered(changed(told_catalog(), changes), ASKED | (asked or {}))["bills"][0]


def test_a_sound_catalog_has_every_check_and_no_caution() -> None:
    """Each check is there once, in order, with its source; none cautions."""
    bill = bill_of({})
    assert [check["check"] for check in bill["checks"]] == ALL
    assert {check["verdict"] for check in bill["checks"]} == {"ok"}
    assert all(check["source"] and check["text"] for check in bill["checks"])
    assert not {caution["rule"] for caution in bill["cautions"]} & set(ALL)


def test_a_catalog_that_tells_nothing_for_engineering() -> None:
    """What rings are made of and what gauges show is known all the same; that no gland is told is said."""
    for bill in answered(small_catalog(), ASKED)["bills"]:
        assert {check["check"] for check in bill["checks"]} == {"gauge-scale", "ring-fit", "ring-material"}
        [fit] = [check for check in bill["checks"] if check["check"] == "ring-fit"]
        assert fit["verdict"] == "not-judged"
        assert "no published dimensions of its seat are told" in fit["text"]
        assert bill["flow"]["operating_point"] is None


CAUTIONED: dict[str, tuple[Json, str, str]] = {
    "a weak pump": ({f"{CAR}/pump": [{"kpa": 0, "l_h": 20}]}, "pump", "are short, and it runs out at"),
    "small injectors": ({f"{CAR}/injectors/static_l_h": 5}, "injectors", "are too small"),
    "hot fuel in the tank": ({f"{CAR}/tank/fuel_c": 60}, "vapour-inlet", "boils at the pump's inlet"),
    "warm fuel in the tank": ({f"{CAR}/tank/fuel_c": 48}, "vapour-inlet", "less than the 20 kPa (2.9 psi)"),
    "a hot stop without pressure": (
        {f"{CAR}/tank/rest_kpa": 0, f"{CAR}/tank/soak_c": 90},
        "vapour-soak",
        "boils in the rail after a hot stop",
    ),
    "a narrow rail": (
        {"/policies/max_spread_percent": 0},
        "spread",
        "more than the 0 % allowed: feed the rail in its middle",
    ),
    "a thin ring": ({f"{SEAL}/ring/section_mm": 1.9}, "ring-fit", "less than the 8 % that seals"),
    "a thick ring": ({f"{SEAL}/ring/section_mm": 3.4}, "ring-fit", "more than the 40 % that a ring bears"),
    "a narrow gland": ({"/port_standards/0/gland/outside_mm": 21}, "ring-fit", "with no room to swell"),
    "a ring rated B": ({"/materials/1/ratings/petrol": "B"}, "ring-material", "The fuel swells or hardens it in time"),
    "a ring that swells": ({"/materials/1/ratings/petrol": "C"}, "ring-material", "so none is listed"),
    "a ring that stiffens": ({"/materials/1/min_c": 0}, "ring-material", "it is stiff and may weep"),
    "a ring that cooks": ({"/materials/1/max_c": 60}, "ring-material", "is too hot for it"),
    "too many turns": ({"/joints/2/turns_past_hand": 4}, "taper-engagement", "the boss may split. Stop at 6 threads."),
    "too few turns": ({"/joints/2/turns_past_hand": 0, "/joints/2/min_threads": 5}, "taper-engagement", "it may leak"),
    "a gauge near the end of its scale": ({"/chassis/0/base_kpa": 540}, "gauge-scale", "take one with a larger scale"),
    "too much torque": ({f"{SCREW}/torque_nm/max": 14}, "screws", "of proof load allowed: it may stretch for good"),
    "a screw that bottoms": ({f"{SCREW}/length_mm": 40}, "screws", "it bottoms before it clamps"),
    "a short screw": ({f"{SCREW}/length_mm": 20}, "screws", "its thread may tear out"),
    "soft metal": ({"/materials/0/shear_mpa": 5}, "screws", "before the screw is tight"),
    "a loose screw": ({f"{SCREW}/torque_nm/min": 0.1}, "screws", "the rail may lift"),
    "a low spacer": ({f"{SPACER}/height_mm": 4}, "stack", "the rail may crush the injectors"),
    "a high spacer": ({f"{SPACER}/height_mm": 9}, "stack", "a ring may leave its bore and spray fuel"),
}


@pytest.mark.parametrize(("changes", "check", "words"), CAUTIONED.values(), ids=CAUTIONED.keys())
def test_one_wrong_figure_is_cautioned_of(changes: Json, check: str, words: str) -> None:
    """The check says what is wrong, among the bill's cautions too; the bill stays valid."""
    bill = bill_of(changes)
    found = next(x for x in bill["checks"] if x["check"] == check)
    assert found["verdict"] == "caution"
    assert words in found["text"]
    assert re.fullmatch(r"[A-Z\d].*\.", found["text"])
    assert not re.search(r"None|nan|\binf\b|[{}\[\]]|  |\.\. | ,", found["text"])
    assert {"rule": check, "text": found["text"], "facts": found["facts"]} in bill["cautions"]


def test_injectors_that_the_request_tells_are_not_called_the_car_s() -> None:
    """Neither by the check nor by the limit."""
    bill = bill_of({}, {"injectors": {"static_l_h": 40, "rated_kpa": 300}})
    told = [x["text"] for x in (*bill["checks"], *bill["power"]["limits"]) if " injectors " in x["text"]]
    assert told
    assert not [text for text in told if "car" in text]


UNJUDGED = {
    "vapour": ("vapour_margin_kpa", ("vapour-inlet", "vapour-soak"), "no least margin is set"),
    "spread": ("max_spread_percent", ("spread",), "no limit is set"),
}


@pytest.mark.parametrize(("policy", "checks", "words"), UNJUDGED.values(), ids=UNJUDGED.keys())
def test_without_a_limit_figures_are_told_and_not_judged(policy: str, checks: tuple[str, ...], words: str) -> None:
    """The maker has set no limit: the number is told all the same."""
    bill = bill_of({f"/policies/{policy}": GONE})
    for found in (x for x in bill["checks"] if x["check"] in checks):
        assert found["verdict"] == "not-judged"
        assert words in found["text"]


def test_ring_limits_that_are_not_set() -> None:
    """Without squeeze and fill in the policies the ring is measured and not judged."""
    bill = bill_of({"/policies/squeeze": GONE, "/policies/max_gland_fill": GONE})
    assert {x["verdict"] for x in bill["checks"] if x["check"] == "ring-fit"} == {"not-judged"}


@pytest.mark.parametrize(
    ("changes", "gone"),
    [
        ({f"{CAR}/pump": GONE, f"{CAR}/pump_v": GONE}, {"pump"}),
        ({f"{CAR}/injectors": GONE}, {"injectors", "stack"}),
        ({f"{CAR}/tank": GONE}, {"vapour-inlet", "vapour-soak"}),
        ({"/fuels/0/vapour": GONE}, {"vapour-inlet", "vapour-soak"}),
        ({f"{RAIL}/injector_positions_mm": GONE}, {"spread"}),
        ({f"{RAIL}/seats": GONE}, {"screws", "stack", "heat"}),
        ({f"{CAR}/manifold": GONE}, {"screws", "stack", "heat"}),
        ({f"{SCREW}": GONE}, {"screws", "heat"}),
        ({f"{SPACER}": GONE}, {"heat"}),
        ({"/port_standards/2/taper": GONE}, {"taper-engagement"}),
        ({"/materials/0/conductivity_w_m_k": GONE}, {"heat"}),
    ],
)
def test_what_is_not_told_is_not_checked(changes: Json, gone: set[str]) -> None:
    """Each check needs its figures, and only those."""
    found = {check["check"] for check in bill_of(changes)["checks"]}
    assert set(ALL) - found == gone


def test_an_add_on_that_lifts_rail_and_seats_alike_keeps_the_play() -> None:
    """Its plate carries both: with the taller spacer alone a ring would leave its bore."""
    spaced = {"/addons/0/mounting/-": {"role": "rail-spacer", "sku": "SPACER-5", "qty": 2}}
    lifted = bill_of(
        {**spaced, "/addons/0/raises_seat_mm": 0}, {"addons": ["blower"], "layout": "hose-centre", "gauge": "none"}
    )
    rooms = next(x for x in lifted["checks"] if x["check"] == "stack")["facts"]["rooms"]
    plain = next(x for x in bill_of({})["checks"] if x["check"] == "stack")["facts"]["rooms"]
    assert rooms == plain
    raised = bill_of(
        {**spaced, "/addons/0/raises_seat_mm": 3}, {"addons": ["blower"], "layout": "hose-centre", "gauge": "none"}
    )
    found = next(x for x in raised["checks"] if x["check"] == "stack")
    assert found["facts"]["rooms"][1]["play_mm"]["nominal"] == pytest.approx(plain[1]["play_mm"]["nominal"] - 3)
    assert found["verdict"] == "caution"


def test_a_rail_by_somebody_else_is_not_checked_for_its_mounting() -> None:
    """Nothing is known of it."""
    own = {"own_rail": {place: {"standard": "boss-8", "end": "female"} for place in ("left", "right")}}
    bill = bill_of({}, {**own, "gauge": "none"})
    assert not {"screws", "stack", "heat", "spread"} & {check["check"] for check in bill["checks"]}


@pytest.mark.parametrize("gland", [{"/port_standards/0/gland": GONE}, {"/port_standards/0/gland/source": GONE}])
def test_a_gland_without_a_source_proves_nothing(gland: Json) -> None:
    """Whether it is not told, or nobody can look its figures up: no squeeze is told, and that is said."""
    [fit] = [check for check in bill_of(gland)["checks"] if check["check"] == "ring-fit"]
    assert fit["verdict"] == "not-judged"
    assert "squeeze" not in fit["facts"]
    assert "are not checked" in fit["text"]


@pytest.mark.parametrize(("base_kpa", "verdict"), [(525.0, "ok"), (525.1, "caution")])
def test_steady_pressure_takes_three_quarters_of_a_scale(base_kpa: float, verdict: str) -> None:
    """EN 837-2: of a scale of 700 kPa 525 are well, and no more."""
    [found] = [x for x in bill_of({"/chassis/0/base_kpa": base_kpa})["checks"] if x["check"] == "gauge-scale"]
    assert (found["verdict"], found["facts"]["scale_kpa"]) == (verdict, 700.0)
    assert "EN 837-2" in found["source"]


INSTEAD: dict[str, tuple[Json, Json, str | None]] = {
    "one at the same price": ({}, {}, "GAUGE-U"),
    "not a dearer one": ({"price": 3901}, {}, None),
    "not one that is strained as well": ({"max_kpa": 700.2}, {}, None),
    "not a longer one": ({"standout_mm": 48.5}, {}, None),
    "not a wider one": ({"across_mm": 40.5}, {}, None),
    "not one of another thread": ({"ports": [{"id": "a", "standard": "orb-8", "end": "male"}]}, {}, None),
    "not one that the fuel wears": ({"wetted": ["soft"]}, {}, None),
    "not one that is left out": ({}, {"exclude": ["GAUGE-U"]}, None),
    "not one that is gone": ({"status": "retired"}, {}, None),
    "not one of another car": ({"patterns": ["broad-six"]}, {}, None),
    "not one that is out of stock": ({"stock": 0}, {"in_stock_only": True}, None),
}


@pytest.mark.parametrize(("other", "wishes", "instead"), INSTEAD.values(), ids=INSTEAD.keys())
def test_a_strained_gauge_names_one_that_is_not(other: Json, wishes: Json, instead: str | None) -> None:
    """Among equal bills the first by SKU stands, as everywhere; beside its gauge stands the one to take."""
    document = changed(told_catalog(), {"/chassis/0/base_kpa": 600})
    gauge = next(item for item in document["items"] if item["kind"] == "gauge")
    document["items"].append({**gauge, "sku": "GAUGE-U", "name": "Large gauge", "max_kpa": 1600, **other})
    worn = dict.fromkeys(document["materials"][0]["ratings"], "C")
    document["materials"].append({**document["materials"][0], "id": "soft", "ratings": worn})
    [bill] = answered(document, ASKED | wishes)["bills"]
    [found] = [check for check in bill["checks"] if check["check"] == "gauge-scale"]
    assert (found["skus"], found["facts"]["instead"]) == (["GAUGE-T"], instead)
    assert ("take Large gauge, which costs no more" in found["text"]) == (instead is not None)


def test_cylinders_that_do_not_differ() -> None:
    """No figure stands where nobody can measure one."""
    [found] = [x for x in bill_of({"/chassis/0/stock_kw": 0.5})["checks"] if x["check"] == "spread"]
    assert "differ by less than 0.01 %" in found["text"]
