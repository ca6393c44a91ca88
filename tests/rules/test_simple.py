"""`simple`: at most `max_chain` parts in a chain, and no connection twice, unless a kind in `via` leaves it."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import BOSS, HOSE, RETURN, Json, catalog, change, fitting, part
from tests.support.reading import ask, chains_at

FLARE, FLARE_IN = ("flare-6", "male"), ("flare-6", "female")
QUICK_IN = ("quick-3/8", "female")


def rejection(max_chain: int) -> str:
    return (
        f"Reaches the end of the path only through more than {max_chain} parts in a row, or through a connection that "
        "the chain has already."
    )


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "SPIGOT-B8-Q",
                "centre",
                rejection(1),
                given={"items/-": fitting("FIT-Q", QUICK_IN, FLARE), "policies/max_chain": 2},
                changes={"policies/max_chain": 1},
            ),
            id="one part too many",
        ),
        pytest.param(
            Case(
                HOSE,
                "SPIGOT-B8-Q",
                "centre",
                rejection(1),
                given={"items/-": fitting("FIT-Q", QUICK_IN, FLARE, ("taper-1/8", "female")), "policies/max_chain": 2},
                changes={"policies/max_chain": 1},
            ),
            id="side plugs not counted",
        ),
        pytest.param(
            Case(
                HOSE,
                "FIT-B",
                "centre",
                rejection(4),
                given={"items/-": fitting("FIT-B", BOSS, FLARE)},
                changes={"items/FIT-B/ports/p1": {"id": "p1", "standard": "boss-8", "end": "female"}},
            ),
            id="open port like the spot's own",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part that leads on only over too many parts, or by a needless one, is ruled out."""
    assert_ruled_out("simple", case)


@pytest.mark.parametrize(
    ("kind", "via", "chains"),
    [
        pytest.param("fitting", [], {"ADAPT-B8-F6"}, id="needless fitting"),
        pytest.param("line", [], {"ADAPT-B8-F6"}, id="needless line"),
        pytest.param("line", ["line"], {"ADAPT-B8-F6,EXT"}, id="asked for by via"),
        pytest.param("fitting", ["fitting"], {"ADAPT-B8-F6"}, id="via once for the other"),
    ],
)
def test_connection_twice(kind: str, via: list[str], chains: set[str]) -> None:
    """A part that leaves the port that it found open is needless, unless its kind is in `via`."""
    document = catalog({"items/-": part("EXT", kind, FLARE_IN, FLARE)})
    change(document, "layouts/hose-centre/placements/0/centre/via", via)
    assert chains_at(ask(document, HOSE), "centre") == chains


def test_earlier_connection_again() -> None:
    """A connection that the chain left behind may not come again, over several parts either."""
    changes: Json = {
        "items/-": fitting("FIT-Q", FLARE_IN, ("quick-3/8", "male")),
        "policies/max_chain": 6,
    }
    document = catalog(changes)
    document["items"].append(fitting("FIT-R", QUICK_IN, FLARE))
    assert chains_at(ask(document, HOSE), "centre") == {"ADAPT-B8-F6", "SPIGOT-B8-Q,FIT-R"}


@pytest.mark.parametrize(("max_chain", "total"), [(1, 0), (2, 1), (3, 1)])
def test_max_chain_with_side_plug(max_chain: int, total: int) -> None:
    """Adapter and regulator are two parts; the plug in the regulator's side port is not counted."""
    assert ask(catalog({"policies/max_chain": max_chain}), RETURN)["total_valid"] == total
