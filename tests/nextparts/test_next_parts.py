"""Which part next on the small catalog: what it unlocks, how often that was asked, what it has to be."""

from math import pi, sqrt
from typing import Any

from service.documents.next_part import NextPart
from service.documents.request import BillRequest
from service.domain.parts import Opening
from service.domain.work import Meter
from service.impact.questions import Kept, Standing
from service.nextparts.candidates import candidates
from service.usecases.next_parts import next_parts_in
from tests.support.builders import FACTORY, catalog, part
from tests.support.engine import answer_from, edition

Json = dict[str, Any]
BOSS_STUB, SPIGOT = {"standard": "boss-8", "end": "male"}, {"standard": "quick-3/8", "end": "male"}
NO_SPIGOT = {"items/SPIGOT-B8-Q/status": "retired"}


def parts(changes: Json, kept: Kept = Kept()) -> list[NextPart]:  # noqa: B008 it never changes
    return next_parts_in(edition(catalog(changes)), kept)


def with_ports(found: list[NextPart], *ports: Json) -> NextPart:
    return next(one for one in found if one["ports"] == list(ports))


def test_candidates_are_plugs_and_fittings_over_both_ends() -> None:
    """Of n openings n plugs, and a fitting for each pair, two alike among them."""
    revision = edition(catalog()).revision
    count = 2 * len(revision.standards)
    found = candidates(revision)
    assert len(found) == len(set(found)) == count + count * (count + 1) // 2
    assert found[0].kind == "plug"
    assert (found[-1].kind, len(found[-1].ports)) == ("fitting", 2)


def test_nothing_is_lacking() -> None:
    """Where every question has a bill no part unlocks one."""
    assert parts({}) == []


def test_what_a_spigot_has_to_be() -> None:
    """Both cars need one: within their windows, for the greater pressure and power, as wide as its fuel is fast."""
    found = with_ports(parts(NO_SPIGOT), BOSS_STUB, SPIGOT)
    assert (found["kind"], found["unlocks"], found["asked"]) == ("fitting", 2, 0)
    assert [one["request"]["chassis"] for one in found["questions"]] == ["brook", "heron"]
    assert {one["origin"] for one in found["questions"]} == {"grid"}
    needs = found["needs"]
    flows = [
        path["flow_l_h"]
        for layout, chassis in (("factory", "brook"), ("linked-banks", "heron"))
        for path in answer_from(edition(catalog()), {"layout": layout, "chassis": chassis})["bills"][0]["flow"]["paths"]
        if path["duty"] == "feed"
    ]
    fastest = catalog()["policies"]["max_velocity_m_s"]
    bore_mm = 1e3 * sqrt(4 * max(flows) / 3.6e6 / fastest / pi)
    assert abs(needs.pop("bore_mm_at_least") - bore_mm) < 0.002
    assert needs == {
        "standout_mm_at_least": 20.0,
        "standout_mm_at_most": 40.0,
        "across_mm_at_most": None,
        "kpa_at_least": 350.0,
        "fuels": ["petrol"],
        "power_kw_at_least": 170.0,
    }


def test_questions_of_inquiries_count_and_are_counted() -> None:
    """What was asked seven times goes before what unlocks as much; what it wishes is asked of the part."""
    room = [{"spot": "left", "axial_mm": 33.0, "across_mm": 21.0}]
    asked = Standing("asked", BillRequest.model_validate(FACTORY | {"clearances": room, "boost_kpa": 90.0}), times=7)
    found = with_ports(parts(NO_SPIGOT, Kept(asked=[asked])), BOSS_STUB, SPIGOT)
    assert (found["unlocks"], found["asked"]) == (3, 7)
    assert (found["needs"]["standout_mm_at_least"], found["needs"]["standout_mm_at_most"]) == (20.0, 33.0)
    assert found["needs"]["across_mm_at_most"] == 21.0
    assert found["needs"]["kpa_at_least"] == 390.0
    assert found["questions"][-1]["request"]["boost_kpa"] == 90.0


def test_a_plug_closes_spots_and_side_ports() -> None:
    """A plug whose side port nothing closes may be made whole by another one."""
    changes = {
        "items/PLUG-B8/status": "retired",
        "items/-": part("PLUG-SIDE", "plug", ("boss-8", "male"), ("flare-6", "male")),
    }
    found = [one["ports"] for one in parts(changes) if one["kind"] == "plug"]
    assert found == [[BOSS_STUB], [{"standard": "flare-6", "end": "female"}]]


def test_parts_that_unlock_as_much_are_ranked() -> None:
    """Most unlocked, then most asked, then fewest pieces, fewest ports, names."""
    found = parts(NO_SPIGOT)
    assert [one["unlocks"] for one in found] == sorted((one["unlocks"] for one in found), reverse=True)
    ports = [Opening(port["standard"], port["end"]) for port in found[0]["ports"]]
    assert ports == [Opening("boss-8", "male"), Opening("quick-3/8", "male")]


def test_what_takes_too_much_work_is_not_unlocked() -> None:
    """A meter that ends every question leaves none that a part unlocks."""
    assert next_parts_in(edition(catalog(NO_SPIGOT)), new_meter=lambda: Meter(0)) == []


def test_a_question_that_no_part_can_answer_unlocks_nothing() -> None:
    """The car has no such hookup."""
    car = catalog()["chassis"][0] | {"hookups": []}
    alone = catalog() | {"layouts": [catalog()["layouts"][0]], "chassis": [car], "addons": []}
    assert next_parts_in(edition(alone)) == []
