"""`via`: exactly one part of each kind that the path runs through, and no regulator unasked."""

import pytest

from service.rules import via
from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import BOSS, HOSE, LINKED, RETURN, Json, catalog, change, part
from tests.support.reading import ask, chains_at, said

FLARE, FLARE_IN = ("flare-6", "male"), ("flare-6", "female")
VIA = "layouts/hose-centre/placements/0/centre/via"
REG_B = {"items/-": part("REG-B", "regulator", BOSS, FLARE)}


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "REG-B",
                "centre",
                "This path runs through no regulator.",
                given={**REG_B, VIA: ["regulator"]},
                changes={VIA: []},
            ),
            id="regulator unasked",
        ),
        pytest.param(
            Case(
                HOSE,
                "ADAPT-B8-F6",
                "centre",
                "This path has to run through exactly one regulator: no way on from it does.",
                given={**REG_B, "items/REG-F6/ports/in/standard": "quick-3/8"},
                changes={VIA: ["regulator"]},
            ),
            id="regulator missing",
        ),
        pytest.param(
            Case(
                HOSE,
                "ADAPT-B8-F6",
                "centre",
                "This path has to run through exactly one line and one regulator: no way on from it does.",
                given={**REG_B},
                changes={VIA: ["line", "regulator"]},
            ),
            id="one of two missing",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part is ruled out where its chains lack what the path runs through, or have an unasked regulator."""
    assert_ruled_out("via", case)


@pytest.mark.parametrize(
    ("kinds", "asked", "expected"),
    [
        pytest.param([], (), True, id="empty, nothing asked"),
        pytest.param([], ("regulator",), False, id="empty, one asked"),
        pytest.param(["fitting", "regulator"], ("regulator",), True, id="once"),
        pytest.param(["regulator", "regulator"], ("regulator",), False, id="twice"),
        pytest.param(["fitting", "regulator"], (), False, id="regulator unasked"),
        pytest.param(["fitting", "regulator"], ("fitting",), False, id="regulator not among those asked"),
        pytest.param(["line", "line", "fitting"], (), True, id="others unasked"),
        pytest.param(["line", "regulator"], ("regulator", "line"), True, id="each of two"),
        pytest.param(["line"], ("regulator", "line"), False, id="one of two"),
    ],
)
def test_each_once(kinds: list[str], asked: tuple[str, ...], expected: bool) -> None:
    """Each kind asked for stands exactly once; a regulator only where it is asked for."""
    assert via.has_each_once(kinds, asked) is expected


@pytest.mark.parametrize(
    ("kinds", "chains"),
    [
        pytest.param([], {"ADAPT-B8-F6"}, id="nothing"),
        pytest.param(["regulator"], {"ADAPT-B8-F6,REG-F6,PLUG-T", "REG-B"}, id="one regulator, never both"),
        pytest.param(["line"], {"ADAPT-B8-F6,EXT"}, id="line"),
        pytest.param(
            ["regulator", "line"],
            {"ADAPT-B8-F6,EXT,REG-F6,PLUG-T", "ADAPT-B8-F6,REG-F6,PLUG-T,EXT", "REG-B,EXT"},
            id="each once, in either order",
        ),
        pytest.param(["fitting"], {"ADAPT-B8-F6"}, id="fitting"),
    ],
)
def test_chains(kinds: list[str], chains: set[str]) -> None:
    """All chains with exactly what is asked for."""
    document = catalog({**REG_B, VIA: kinds})
    change(document, "items/-", part("EXT", "line", FLARE_IN, FLARE))
    assert chains_at(ask(document, HOSE), "centre") == chains


@pytest.mark.parametrize(
    ("path", "kind", "sku"),
    [
        pytest.param("layouts/through-return/placements/0/right/via", "regulator", "REG-F6", id="regulator"),
        pytest.param("layouts/through-return/placements/0/left/via", "fitting", "ADAPT-B8-F6", id="fitting"),
    ],
)
def test_kept(path: str, kind: str, sku: str) -> None:
    """The part that the path is to run through says so."""
    changes: Json = {path: [kind]}
    text = f"This path has to run through exactly one {kind}."
    assert said(ask(catalog(changes), RETURN), sku, "via") == {text}


@pytest.mark.parametrize("spot", ["1.right", "2.right"])
@pytest.mark.parametrize(("kind", "total"), [("line", 1), ("fitting", 0)])
def test_either_end_of_a_link(spot: str, kind: str, total: int) -> None:
    """What either end of a link names holds for the chain between them, which has two fittings and one line."""
    document = catalog({f"layouts/linked-banks/placements/0/{spot}/via": [kind]})
    assert ask(document, LINKED)["total_valid"] == total
