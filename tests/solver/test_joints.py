"""Whether two sides meet, what stands between them, and the bridge: cases worked out by hand, and every chain tried."""

from random import Random
from typing import Any

import pytest
from hypothesis import event, given, note, settings
from hypothesis import strategies as st

from service.documents.catalog import Catalog
from service.documents.compile import compile_revision
from service.domain.joints import Join, JointEnd
from service.solver.joints import find_join
from tests.support import slow_joints
from tests.support.builders import catalog, fitting, part, twin
from tests.support.catalogs import GONE
from tests.support.random_catalogs import STANDARDS, often, random_catalog
from tests.support.slow_joints import ends

Json = dict[str, Any]

BOSS, BOSS_STUB = ("boss-8", "female"), ("boss-8", "male")
FLARE, FLARE_NUT = ("flare-6", "male"), ("flare-6", "female")
TAPER, TAPER_STUB = ("taper-1/8", "female"), ("taper-1/8", "male")
SPIGOT = ("quick-3/8", "male")
BOSS_ON_FLARE = fitting("BOSS-ON-FLARE", FLARE_NUT, BOSS)
NUT_ON_BOSS = fitting("NUT-ON-BOSS", BOSS_STUB, FLARE_NUT)


def added(*items: Json) -> list[Json]:
    """The changes that add items to a catalog."""
    return [{"items/-": item} for item in items]


def joined(document: Json, one: str, other: str) -> Join:
    revision = compile_revision(Catalog.model_validate(document), 1)
    return find_join(ends(revision, one), ends(revision, other), revision)


def told(end: JointEnd) -> str:
    """An end as a side is told."""
    if end.item is None or end.port is None:
        return " ".join(end.opening)
    return f"{end.item.sku}:{end.port.id}"


MEETING: dict[str, tuple[list[Json], str, str, list[tuple[str, str]]]] = {
    "two ports": ([], "RAIL-S:l", "ADAPT-B8-F6:a", [("RAIL-S:l", "ADAPT-B8-F6:a")]),
    "two bare ports": ([], "boss-8 male", "boss-8 female", [("boss-8 male", "boss-8 female")]),
    "a bare port and whichever meets it": ([], "REG-F6", "flare-6 male", [("REG-F6:in", "flare-6 male")]),
    "every spot that takes a plug": (
        [],
        "RAIL-S",
        "PLUG-B8",
        [("RAIL-S:l", "PLUG-B8:a"), ("RAIL-S:c", "PLUG-B8:a"), ("RAIL-S:r", "PLUG-B8:a")],
    ),
    "two ways at once": (
        [],
        "REG-F6",
        "LINE-F6",
        [("REG-F6:out", "LINE-F6:a"), ("REG-F6:out", "LINE-F6:b")],
    ),
    "two pieces of one part": (
        added(fitting("LONGER", BOSS_STUB, BOSS)),
        "LONGER",
        "LONGER",
        [("LONGER:p0", "LONGER:p1"), ("LONGER:p1", "LONGER:p0")],
    ),
    "a retired part that is at hand": (
        [{"items/PLUG-T/status": "retired"}],
        "PLUG-T",
        "RAIL-S",
        [("PLUG-T:a", "RAIL-S:t")],
    ),
}


@pytest.mark.parametrize(("changes", "one", "other", "expected"), MEETING.values(), ids=MEETING.keys())
def test_sides_that_meet(changes: list[Json], one: str, other: str, expected: list[tuple[str, str]]) -> None:
    """Every pair of ports that mate, by the ports of the one side, then of the other; no gap, no bridge."""
    found = joined(catalog(*changes), one, other)
    assert [(told(end), told(facing)) for end, facing in found.joints] == expected
    assert (found.gaps, found.bridge) == ((), None)


SIZE_6: Json = {
    "id": "boss-6",
    "name": "Straight-thread O-ring boss, size 6",
    "family": "boss",
    "size": "6",
    "seal": "o-ring",
    "published": "SAE J1926-1",
    "joint": "boss-8-torque",
}
METRIC = SIZE_6 | {"id": "boss-8-m", "size": "8", "published": "ISO 6149"}

BETWEEN: dict[str, tuple[str, str, list[tuple[str, ...]]]] = {
    "both male": ("boss-8 male", "boss-8 male", [("end",)]),
    "another size": ("boss-8 male", "boss-6 female", [("standard", "size")]),
    "another size, both female": ("RAIL-S:l", "boss-6 female", [("standard", "size", "end")]),
    "another standard of the same size": ("boss-8 male", "boss-8-m female", [("standard",)]),
    "another family with the same seal": ("boss-8 male", "quick-3/8 female", [("standard", "family")]),
    "another kind of joint": ("taper-1/8 male", "flare-6 female", [("standard", "family", "seal")]),
    "another kind, both male": ("taper-1/8 male", "flare-6 male", [("standard", "family", "seal", "end")]),
    "nearest first, each pair of openings once": (
        "boss-6 male",
        "RAIL-S",
        [("standard", "size"), ("standard", "family", "seal")],
    ),
    "of each part every port": (
        "ADAPT-B8-F6",
        "ADAPT-B8-F6",
        [("end",), ("end",), ("standard", "family", "seal", "end"), ("standard", "family", "seal", "end")],
    ),
}


@pytest.mark.parametrize(("one", "other", "expected"), BETWEEN.values(), ids=BETWEEN.keys())
def test_what_stands_between(one: str, other: str, expected: list[tuple[str, ...]]) -> None:
    """Standard, family or size, seal, end: each that differs where it should not."""
    found = joined(catalog({"port_standards/-": SIZE_6}, {"port_standards/-": METRIC}), one, other)
    assert found.joints == ()
    assert [gap.differs for gap in found.gaps] == expected


BRIDGED: dict[str, tuple[list[Json], str, str, list[str] | None]] = {
    "one fitting": ([], "RAIL-S:l", "flare-6 female", ["ADAPT-B8-F6"]),
    "a line where fittings do not join": ([], "flare-6 male", "flare-6 male", ["LINE-F6"]),
    "two fittings before one line": (
        added(BOSS_ON_FLARE, NUT_ON_BOSS),
        "flare-6 male",
        "flare-6 male",
        ["BOSS-ON-FLARE", "NUT-ON-BOSS"],
    ),
    "a line and fittings together": ([], "RAIL-S:l", "RAIL-S:r", ["ADAPT-B8-F6", "LINE-F6", "ADAPT-B8-F6"]),
    "no regulator, though its ports would do": ([], "flare-6 male", "taper-1/8 male", None),
    "no plug or gauge with a second port": (
        added(part("DEAD-END", "plug", TAPER_STUB, BOSS_STUB), part("DIAL", "gauge", TAPER_STUB, BOSS_STUB)),
        "taper-1/8 female",
        "boss-8 female",
        None,
    ),
    "a double nipple by its two like ports": (
        added(fitting("NIPPLE", BOSS_STUB, BOSS_STUB)),
        "RAIL-S:l",
        "RAIL-S:r",
        ["NIPPLE"],
    ),
    "one port of a part is not enough": (added(fitting("STUB", BOSS_STUB)), "RAIL-S:l", "RAIL-S:t", None),
    "as long as a chain may be": (
        [{"policies/max_chain": 3}],
        "RAIL-S:l",
        "RAIL-S:r",
        ["ADAPT-B8-F6", "LINE-F6", "ADAPT-B8-F6"],
    ),
    "longer than a chain may be": ([{"policies/max_chain": 2}], "RAIL-S:l", "RAIL-S:r", None),
    "fittings too long, a line is not": (
        [{"policies/max_chain": 1}, *added(BOSS_ON_FLARE, NUT_ON_BOSS)],
        "flare-6 male",
        "flare-6 male",
        ["LINE-F6"],
    ),
    "no retired part": ([{"items/ADAPT-B8-F6/status": "retired"}], "RAIL-S:l", "flare-6 female", None),
    "a cheaper part": (added(twin("ADAPT-B8-F6", "Z", price=1499)), "RAIL-S:l", "flare-6 female", ["Z"]),
    "of parts at one price the first by name": (
        added(twin("ADAPT-B8-F6", "AAA")),
        "RAIL-S:l",
        "flare-6 female",
        ["AAA"],
    ),
    "a dearer part before one from elsewhere": (
        added(twin("ADAPT-B8-F6", "AAA", price=1, sold=False)),
        "RAIL-S:l",
        "flare-6 female",
        ["ADAPT-B8-F6"],
    ),
    "of parts from elsewhere the cheaper estimate": (
        [{"items/ADAPT-B8-F6/sold": False}, *added(twin("ADAPT-B8-F6", "Z", price=1499, sold=False))],
        "RAIL-S:l",
        "flare-6 female",
        ["Z"],
    ),
    "one part from elsewhere before two that we sell": (
        [
            {"items/SPIGOT-B8-Q": GONE},
            *added(fitting("DIRECT", BOSS_STUB, SPIGOT, sold=False, price=9000)),
            *added(fitting("HALF", BOSS_STUB, TAPER, price=1), fitting("OTHER-HALF", TAPER_STUB, SPIGOT, price=1)),
        ],
        "RAIL-S:l",
        "quick-3/8 female",
        ["DIRECT"],
    ),
    "from the port that is best": (
        added(fitting("FROM-TOP", TAPER_STUB, FLARE, price=10)),
        "RAIL-S",
        "flare-6 female",
        ["FROM-TOP"],
    ),
    "to the port that is best": (
        added(fitting("UP", FLARE_NUT, TAPER_STUB, price=10)),
        "flare-6 male",
        "RAIL-S",
        ["UP"],
    ),
    "only from the port that is named": (
        added(fitting("FROM-TOP", TAPER_STUB, FLARE, price=10)),
        "RAIL-S:c",
        "flare-6 female",
        ["ADAPT-B8-F6"],
    ),
}


@pytest.mark.parametrize(("changes", "one", "other", "expected"), BRIDGED.values(), ids=BRIDGED.keys())
def test_the_bridge(changes: list[Json], one: str, other: str, expected: list[str] | None) -> None:
    """The shortest chain of fittings, else with lines; then bought from us, cheapest, first by name."""
    document = catalog(*changes)
    assert skus(joined(document, one, other)) == expected
    assert slow_joints.best_bridge(document, one, other) == expected


def skus(found: Join) -> list[str] | None:
    return None if found.bridge is None else [step.item.sku for step in found.bridge.steps]


def test_the_bridge_tells_its_ports() -> None:
    """Where it begins and ends, by which ports each part stands in it, and which of them stay open."""
    tee = fitting("TEE", FLARE, BOSS_STUB, TAPER, TAPER)
    found = joined(catalog({"items/-": tee}, {"items/ADAPT-B8-F6": GONE}), "RAIL-S", "LINE-F6")
    assert found.bridge is not None
    [step] = found.bridge.steps
    assert (told(found.bridge.one), told(found.bridge.other)) == ("RAIL-S:l", "LINE-F6:a")
    assert (step.enters.id, step.leaves.id) == ("p1", "p0")
    assert [port.id for port in step.open_ports] == ["p2", "p3"]
    assert [(told(a), told(b)) for a, b in found.bridge.joints] == [("RAIL-S:l", "TEE:p1"), ("TEE:p0", "LINE-F6:a")]


def _more_parts(rng: Random) -> list[Json]:
    """Fittings and lines of any ports, so that one thing leads to another."""
    ends = [(standard, end) for standard in STANDARDS for end in ("male", "female")]
    return [
        fitting(f"X{n}", *rng.choices(ends, k=rng.choice([2, 2, 2, 3])), price=rng.choice([5, 10, 10, 15]))
        | {"kind": rng.choice(["fitting", "fitting", "line"])}
        | ({"sold": False} if often(rng, 20) else {"status": "retired"} if often(rng, 10) else {})
        for n in range(rng.randint(2, 9))
    ]


def _side(rng: Random, document: Json) -> str:
    """A part, a port of a part, or a bare port."""
    item = rng.choice([item for item in document["items"] if item["ports"]])
    port = rng.choice(item["ports"])
    bare = f"{port['standard']} {rng.choice(['male', 'female'])}"
    return rng.choice([item["sku"], f"{item['sku']}:{port['id']}", bare, bare])


def random_question(seed: int) -> tuple[Json, list[tuple[str, str]]]:
    """A random catalog and pairs of sides."""
    rng = Random(seed)
    document = random_catalog(rng)
    document["items"] += _more_parts(rng)
    return document, [(_side(rng, document), _side(rng, document)) for _ in range(12)]


@given(st.integers(0, 2**32))
@settings(max_examples=60, deadline=None)
def test_as_by_trying_every_chain(seed: int) -> None:
    """Meeting and bridge are those that are found by trying all; each joint of a bridge mates."""
    document, pairs = random_question(seed)
    for one, other in pairs:
        note(f"{one} and {other}")
        found = joined(document, one, other)
        assert bool(found.joints) is slow_joints.meets(document, one, other)
        if not found.joints:
            expected = slow_joints.best_bridge(document, one, other)
            event("no bridge" if expected is None else f"bridge of {len(expected)}")
            assert skus(found) == expected
        for end, facing in found.bridge.joints if found.bridge else ():
            assert end.opening == facing.opening.mate
        for step in found.bridge.steps if found.bridge else ():
            assert step.enters is not step.leaves


def test_random_questions_are_bridged_in_every_length() -> None:
    """The property above is not true for want of bridges."""
    lengths = {
        len(skus(joined(document, one, other)) or [])
        for document, pairs in map(random_question, range(40))
        for one, other in pairs
    }
    assert lengths == {0, 1, 2, 3, 4}


@given(st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_neither_order_nor_direction_matters(seed: int) -> None:
    """With the items in another order the answer is the same; asked the other way round the same parts join."""
    document, pairs = random_question(seed)
    shuffled = document | {"items": Random(seed).sample(document["items"], len(document["items"]))}
    for one, other in pairs:
        found, again, reverse = (
            joined(document, one, other),
            joined(shuffled, one, other),
            joined(shuffled, other, one),
        )
        assert [(told(a), told(b)) for a, b in again.joints] == [(told(a), told(b)) for a, b in found.joints]
        assert skus(again) == skus(found)
        assert sorted(skus(reverse) or []) == sorted(skus(found) or [])
        assert len(reverse.joints) == len(found.joints)
