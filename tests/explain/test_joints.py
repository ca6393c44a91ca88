"""Whether two sides meet, in words that can be read aloud: joints, gaps, bridges."""

import json
import re

import pytest
from pydantic import TypeAdapter

from service.documents.joint import JointAnswer
from service.domain import units
from service.explain.safety import SAFETY
from tests.explain.answers import texts
from tests.explain.joints import BOSS_8, FLARE_6, Json, told
from tests.support.builders import catalog, fitting

ADAPTER = "Adapter, size-8 boss to size-6 flare"
SIZE_6: Json = {
    "id": "boss-6",
    "name": "Straight-thread O-ring boss, size 6",
    "family": "boss",
    "size": "6",
    "seal": "o-ring",
    "published": "SAE J1926-1",
    "joint": "boss-8-torque",
}
BEADED: Json = {"port_standards/quick-3~18/seal": "bead"}


GOES_INTO: dict[str, tuple[str, str, list[Json], str]] = {
    "the male one first, whichever side it is": (
        "RAIL-S:l",
        "ADAPT-B8-F6:a",
        [],
        f"The male a port of {ADAPTER} goes into the female left spot of Fuel rail, slate; both are {BOSS_8}.",
    ),
    "a part with one port": (
        "PLUG-B8",
        "RAIL-S:c",
        [],
        (
            "The male end of Plug for a size-8 boss goes into the female centre spot of Fuel rail, slate; both are "
            f"{BOSS_8}."
        ),
    ),
    "bare ends": (
        "flare-6 female",
        "flare-6 male",
        [],
        f"The bare male end goes into the bare female end; both are {FLARE_6}.",
    ),
    "two pieces of a part": (
        "LONGER:p0",
        "LONGER:p1",
        [{"items/-": fitting("LONGER", ("boss-8", "male"), ("boss-8", "female"))}],
        (
            "The male p0 port of one piece of Part LONGER goes into the female p1 port of the other piece of Part "
            f"LONGER; both are {BOSS_8}."
        ),
    ),
}


@pytest.mark.parametrize(("one", "other", "changes", "expected"), GOES_INTO.values(), ids=GOES_INTO.keys())
def test_what_goes_into_what(one: str, other: str, changes: list[Json], expected: str) -> None:
    """Each port by its end, its name and its part."""
    answer = told(one, other, *changes)
    assert (answer["meets"], answer["text"]) == (True, "Yes, they meet.")
    assert [meeting["text"] for meeting in answer["joints"]] == [expected]


BETWEEN: dict[str, tuple[str, str, str]] = {
    "both male": (
        "boss-8 male",
        "ADAPT-B8-F6:a",
        (
            f"The bare male end and the male a port of {ADAPTER} are both {BOSS_8}, and both male: a male end meets a "
            "female one."
        ),
    ),
    "two bare ends alike": (
        "boss-8 female",
        "boss-8 female",
        (
            f"One bare female end and the other bare female end are both {BOSS_8}, and both female: a male end meets a "
            "female one."
        ),
    ),
    "another size": (
        "RAIL-S:l",
        "boss-6 male",
        (
            f"The female left spot of Fuel rail, slate is {BOSS_8}; the bare male end is {SIZE_6['name']}: the same "
            "kind of joint in another size."
        ),
    ),
    "another size, and both female": (
        "RAIL-S:l",
        "boss-6 female",
        (
            f"The female left spot of Fuel rail, slate is {BOSS_8}; the bare female end is {SIZE_6['name']}: the same "
            "kind of joint in another size. Besides, both are female."
        ),
    ),
    "another standard": (
        "boss-8 male",
        "boss-8-m female",
        (
            f"The bare male end is {BOSS_8}; the bare female end is Metric boss: the same kind of joint to another "
            "standard."
        ),
    ),
    "another family with the same seal": (
        "boss-8 male",
        "quick-3/8 female",
        (
            f"The bare male end is {BOSS_8}; the bare female end is Quick connector, 3/8: another kind of joint, "
            "though both are sealed by an O-ring."
        ),
    ),
    "another kind of joint": (
        "taper-1/8 male",
        "flare-6 male",
        (
            f"One bare male end is Taper pipe thread, 1/8, sealed by the taper of its threads; the other bare male end "
            f"is {FLARE_6}, sealed by metal cones: another kind of joint altogether. Besides, both are male."
        ),
    ),
}


@pytest.mark.parametrize(("one", "other", "expected"), BETWEEN.values(), ids=BETWEEN.keys())
def test_what_stands_between(one: str, other: str, expected: str) -> None:
    """Ends, size, standard, kind: in plain words."""
    metric = SIZE_6 | {"id": "boss-8-m", "name": "Metric boss", "size": "8", "published": "ISO 6149"}
    answer = told(one, other, {"port_standards/-": SIZE_6}, {"port_standards/-": metric})
    assert answer["meets"] is False
    assert [gap["text"] for gap in answer["gap"]] == [expected]


def test_no_bridge_in_words() -> None:
    """Where nothing joins them, it is said how far was looked."""
    answer = told("flare-6 male", "taper-1/8 male")
    assert (answer["meets"], answer["bridge"]) == (False, None)
    assert answer["text"] == (
        "No, they do not meet, and no chain of at most 4 fittings and lines of this catalog joins them."
    )


def test_a_bridge_with_a_line_in_words() -> None:
    """Its parts in order; what is bought elsewhere is not in the price, and is told so."""
    answer = told("RAIL-S:l", "RAIL-S:r", {"items/LINE-F6/sold": False})
    assert answer["text"] == "No, they do not meet; 3 parts join them."
    bridge = answer["bridge"]
    assert bridge is not None
    assert (bridge["items"], bridge["price"]) == (["ADAPT-B8-F6", "LINE-F6", "ADAPT-B8-F6"], 3000)
    assert [link["sold"] for link in bridge["chain"]] == [True, False, True]
    assert bridge["text"] == (
        "From the female left spot of one piece of Fuel rail, slate to the female right spot of the other piece of "
        f"Fuel rail, slate: {ADAPTER}; then Link line, size-6 flare, 400 mm; then {ADAPTER}. Fittings alone do not "
        "join them."
    )
    assert [caution["text"] for caution in answer["cautions"] if caution["rule"] == "elsewhere"] == [
        (
            "Link line, size-6 flare, 400 mm: Buy a part of this specification elsewhere; its price is an estimate and "
            "not in the total."
        )
    ]


def test_open_ports_in_words() -> None:
    """A port that the bridge leaves open is told with the plug that it needs."""
    tee = fitting("TEE", ("boss-8", "male"), ("flare-6", "male"), ("taper-1/8", "female"), price=700)
    answer = told("RAIL-S:l", "LINE-F6:b", {"items/-": tee})
    assert answer["text"] == "No, they do not meet; 1 part joins them."
    bridge = answer["bridge"]
    assert bridge is not None
    assert (bridge["items"], bridge["price"]) == (["TEE"], 700)
    assert bridge["text"] == (
        "From the female left spot of Fuel rail, slate to the female b port of Link line, size-6 flare, 400 mm: "
        "Part TEE."
    )
    assert bridge["chain"] == [
        {
            "sku": "TEE",
            "name": "Part TEE",
            "sold": True,
            "price": 700,
            "enters": {"port": "p0", "standard": "boss-8", "end": "male"},
            "leaves": {"port": "p1", "standard": "flare-6", "end": "male"},
            "open_ports": [
                {
                    "port": "p2",
                    "standard": "taper-1/8",
                    "end": "female",
                    "text": "The female p2 port of Part TEE stays open and needs a plug: male Taper pipe thread, 1/8.",
                }
            ],
        }
    ]
    assert [meeting["text"] for meeting in bridge["joints"]] == [
        f"The male p0 port of Part TEE goes into the female left spot of Fuel rail, slate; both are {BOSS_8}.",
        (
            "The male p1 port of Part TEE goes into the female b port of Link line, size-6 flare, 400 mm; both are "
            f"{FLARE_6}."
        ),
    ]


TEE = fitting("TEE", name="Tee", price=700) | {
    "ports": [
        {"id": "boss", "standard": "boss-8", "end": "male"},
        {"id": "flare", "standard": "flare-6", "end": "male"},
        {"id": "gauge", "standard": "taper-1/8", "end": "female"},
    ]
}
ASKED: dict[str, tuple[str, str, list[Json]]] = {
    "rail and adapter": ("RAIL-S", "ADAPT-B8-F6", []),
    "taper": ("RAIL-S", "GAUGE-T", []),
    "flares": ("LINE-F6", "REG-F6", []),
    "quick connector": ("SPIGOT-B8-Q", "quick-3/8 female", [BEADED]),
    "flange to face": (
        "RAIL-S",
        "PLUG-B8",
        [
            {"joints/-": {"id": "flange", "method": "flange-to-face", "min_nm": 14, "cautions": [], "source": "tests"}},
            {"port_standards/boss-8/joint": "flange"},
        ],
    ),
    "two rails": ("RAIL-S", "RAIL-S", [{"items/LINE-F6/sold": False}]),
    "a tee with an open port": ("RAIL-S:l", "LINE-F6", [{"items/-": TEE}]),
    "no bridge": ("GAUGE-T", "PLUG-T", []),
    "another size": ("RAIL-S", "boss-6 male", [{"port_standards/-": SIZE_6}]),
    "retired": ("RAIL-S", "PLUG-T", [{"items/PLUG-T/status": "retired"}]),
}
PER_NM = 1 / units.NM_PER_LBF_FT
QUANTITY = re.compile(r"([\d.]+) N·m \(([\d.]+) lbf·ft\)")
COUNTED = re.compile(
    r"(?:[\d.]+ to )?[\d.]+ (?:degrees?|flats?|threads?|turns?|pairs of ports|parts? joins?|fittings and lines)(?!\w)"
)


def nameless(*changes: Json) -> list[Json]:
    """Changes that take every number out of the names, so that each number in a text is the service's own."""
    document = catalog(*changes)
    found = [*changes]
    for section, key in (("items", "sku"), ("port_standards", "id")):
        for thing in document[section]:
            path = f"{section}/{thing[key].replace('/', '~1')}/name"
            found.append({path: re.sub(r"[\d/]+", "N", thing["name"])})
    return found


@pytest.mark.parametrize(("one", "other", "changes"), ASKED.values(), ids=ASKED.keys())
def test_texts_are_sentences(one: str, other: str, changes: list[Json]) -> None:
    """Whole sentences, torques in both systems, every other number a count of something, no id and no field name."""
    answer = told(one, other, *nameless(*changes))
    found = list(texts(answer))
    assert found
    for text in found:
        assert re.fullmatch(r"[A-Z\d].*\.", text), text
        assert not re.search(r"None|True|False|nan|\binf\b|[{}\[\]_]|  |\.\.| ,|'", text), text
        for metric, customary in QUANTITY.findall(text):
            assert float(customary) / float(metric) == pytest.approx(PER_NM, rel=0.02), text
        assert not re.search(r"\d", COUNTED.sub("", QUANTITY.sub("", text))), text
        words = set(re.findall(r"[\w/-]+", text))
        assert not words & {"mates", "simple", "closed", "sku", "open_ports", "differs", "standout_mm"}, text
        assert not words & {"boss-8", "flare-6", "taper-1/8", "quick-3/8", "boss-8-torque", "flare-turn"}, text


@pytest.mark.parametrize(("one", "other", "changes"), ASKED.values(), ids=ASKED.keys())
def test_is_an_answer_document(one: str, other: str, changes: list[Json]) -> None:
    """The fields and types that its schema says, through JSON and back, with all safety texts."""
    answer = told(one, other, *changes)
    adapter = TypeAdapter(JointAnswer)
    assert adapter.validate_python(answer, strict=True) == answer
    assert adapter.validate_json(json.dumps(answer), strict=True) == answer
    assert answer["safety"] == list(SAFETY)
    assert answer["meets"] is not bool(answer["gap"])
    assert answer["meets"] is bool(answer["joints"])


def test_ends_are_told_as_they_were_asked() -> None:
    """A part by SKU and port, a bare port by neither."""
    [meeting] = told("PLUG-T", "taper-1/8 female")["joints"]
    assert meeting["one"] == {"sku": "PLUG-T", "port": "a", "standard": "taper-1/8", "end": "male"}
    assert meeting["other"] == {"sku": None, "port": None, "standard": "taper-1/8", "end": "female"}
    [gap] = told("PLUG-T", "taper-1/8 male")["gap"]
    assert (gap["one"]["sku"], gap["other"]["sku"], gap["differs"]) == ("PLUG-T", None, ["end"])
