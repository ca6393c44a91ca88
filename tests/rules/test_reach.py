"""`reach`: a hookup with windows is reached from its spots alone, within the standout that it allows."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import FACTORY, GONE, HOSE, Json, catalog, fitting, part
from tests.support.reading import ask, chains_at, said, stands

SPIGOT = "items/SPIGOT-B8-Q/standout_mm"
WINDOW = "chassis/brook/hookups/0/spots"
FLARE, FLARE_IN = ("flare-6", "male"), ("flare-6", "female")
QUICK = ("quick-3/8", "male")


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                FACTORY,
                "SPIGOT-B8-Q",
                "left",
                "Stands 19.999 mm (0.79 in) proud of the left spot, "
                "but the factory line is reached only at 20 mm (0.79 in) to 40 mm (1.57 in).",
                given={SPIGOT: 20.0},
                changes={SPIGOT: 19.999},
            ),
            id="just below",
        ),
        pytest.param(
            Case(
                FACTORY,
                "SPIGOT-B8-Q",
                "left",
                "Stands 40.001 mm (1.57 in) proud of the left spot, "
                "but the factory line is reached only at 20 mm (0.79 in) to 40 mm (1.57 in).",
                given={SPIGOT: 40.0},
                changes={SPIGOT: 40.001},
            ),
            id="just above",
        ),
        pytest.param(
            Case(
                FACTORY,
                "SPIGOT-B8-Q",
                "right",
                "The factory line of this car does not reach the right spot.",
                given={f"{WINDOW}/right": {"min_mm": 20.0, "max_mm": 40.0}},
                changes={f"{WINDOW}/right": GONE},
            ),
            id="spot not among them",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A chain too short, too long, or at a spot that the hookup does not reach, is ruled out."""
    assert_ruled_out("reach", case)


@pytest.mark.parametrize(
    ("standout_mm", "window", "expected"),
    [
        (20.0, (20.0, 40.0), True),
        (19.9996, (20.0, 40.0), True),
        (19.9994, (20.0, 40.0), False),
        (40.0004, (20.0, 40.0), True),
        (40.0006, (20.0, 40.0), False),
        (30.0, (30.0, 30.0), True),
        (30.0, (30.0004, 40.0), True),
        (30.0, (30.0006, 40.0), False),
        (30.0, (20.0, 29.9996), True),
        (30.0, (20.0, 29.9994), False),
    ],
)
def test_to_a_micrometre(standout_mm: float, window: tuple[float, float], expected: bool) -> None:
    """Standout and window are compared rounded to 0.001 mm."""
    changes: Json = {SPIGOT: standout_mm, f"{WINDOW}/left": dict(zip(("min_mm", "max_mm"), window, strict=True))}
    assert stands(ask(catalog(changes), FACTORY), "SPIGOT-B8-Q", "left") is expected


@pytest.mark.parametrize(
    ("items", "chain"),
    [
        pytest.param(
            [part("LINE-Q", "line", FLARE_IN, QUICK, standout_mm=50.0)], "ADAPT-B8-F6,LINE-Q", id="lines left out"
        ),
        pytest.param(
            [fitting("FIT-S", FLARE_IN, QUICK, ("boss-8", "female"), standout_mm=14.0)],
            "ADAPT-B8-F6,FIT-S,PLUG-B8",
            id="side plugs left out",
        ),
        pytest.param([fitting("FIT-N", FLARE_IN, QUICK, standout_mm=14.0)], "ADAPT-B8-F6,FIT-N", id="sum at the limit"),
        pytest.param([fitting("FIT-N", FLARE_IN, QUICK, standout_mm=14.001)], None, id="sum just above"),
    ],
)
def test_what_counts(items: list[Json], chain: str | None) -> None:
    """The whole chain's standout counts, 26 mm of it the adapter's, but for lines and side plugs."""
    document = catalog({f"{WINDOW}/left/min_mm": 26.0})
    document["items"] += items
    assert chains_at(ask(document, FACTORY), "left") == {"SPIGOT-B8-Q"} | ({chain} if chain else set())


def test_counts_behind_a_line() -> None:
    """Fittings behind a line count as well."""
    document = catalog({f"{WINDOW}/left": {"min_mm": 31.0, "max_mm": 31.0}})
    document["port_standards"].append(document["port_standards"][1] | {"id": "flare-8"})
    document["items"] += [
        part("LINE-8", "line", FLARE_IN, ("flare-8", "male"), standout_mm=50.0),
        fitting("FIT-8", ("flare-8", "female"), QUICK),
    ]
    assert chains_at(ask(document, FACTORY), "left") == {"ADAPT-B8-F6,LINE-8,FIT-8"}


@pytest.mark.parametrize(
    ("asked", "sku", "texts"),
    [
        pytest.param(
            FACTORY,
            "SPIGOT-B8-Q",
            {
                (
                    "Stands 30 mm (1.18 in) proud of the left spot: "
                    "the factory line is reached at 20 mm (0.79 in) to 40 mm (1.57 in)."
                )
            },
            id="window",
        ),
        pytest.param(HOSE, "ADAPT-B8-F6", set(), id="no window"),
    ],
)
def test_kept(asked: Json, sku: str, texts: set[str]) -> None:
    """Where there is a window, the chain's first part tells how it is met."""
    assert said(ask(catalog(), asked), sku, "reach") == texts


def test_no_windows() -> None:
    """A hookup without windows is reached from every spot."""
    found = ask(catalog({WINDOW: GONE}), FACTORY)
    assert [bill["chains"]["right"] for bill in found["bills"]] == [["SPIGOT-B8-Q"], ["PLUG-B8"]]
