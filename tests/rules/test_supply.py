"""`supply`: what is bought is active and, where asked, in stock in the quantity bought."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import FACTORY, HOSE, LINKED, RETURN, Json, catalog, twin
from tests.support.reading import ask, chains_at, rails, said

SECOND_PLUG = {"items/-": twin("PLUG-B8", "PLUG-N")}
SECOND_RAIL = {"items/-": twin("RAIL-S", "RAIL-N")}
IN_STOCK = {"in_stock_only": True}


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "No longer made.",
                given=SECOND_PLUG,
                changes={"items/PLUG-N/status": "retired"},
            ),
            id="retired part",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "No longer made; PLUG-B8 takes its place.",
                given=SECOND_PLUG,
                changes={"items/PLUG-N/status": "retired", "items/PLUG-N/superseded_by": "PLUG-B8"},
            ),
            id="superseded part",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "No longer made.",
                given={**SECOND_PLUG, "items/PLUG-B8/sold": False, "items/PLUG-N/sold": False},
                changes={"items/PLUG-N/status": "retired"},
            ),
            id="unsold retired part",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "No longer made; RAIL-S takes its place.",
                given=SECOND_RAIL,
                changes={"items/RAIL-N/status": "retired", "items/RAIL-N/superseded_by": "RAIL-S"},
            ),
            id="superseded rail",
        ),
        pytest.param(
            Case(
                HOSE | IN_STOCK,
                "PLUG-N",
                "left",
                "Out of stock, 1 needed.",
                given=SECOND_PLUG | {"items/PLUG-N/stock": 1},
                changes={"items/PLUG-N/stock": 0},
            ),
            id="stock",
        ),
        pytest.param(
            Case(
                LINKED | IN_STOCK,
                "RAIL-N",
                None,
                "Only 1 in stock, 2 needed.",
                given=SECOND_RAIL | {"items/RAIL-N/stock": 2},
                changes={"items/RAIL-N/stock": 1},
            ),
            id="stock of a rail on each bank",
        ),
        pytest.param(
            Case(
                LINKED | IN_STOCK,
                "ADAPT-B8-F6",
                "1.right",
                "Only 1 in stock, 2 needed.",
                given={"items/ADAPT-B8-F6/stock": 2},
                changes={"items/ADAPT-B8-F6/stock": 1},
            ),
            id="stock of a part twice in a chain",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Out of stock, 1 needed.",
                given=SECOND_PLUG | {"items/PLUG-N/stock": 0},
                wishes=IN_STOCK,
            ),
            id="in_stock_only",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A retired part, and where asked one without the stock that it takes, is ruled out."""
    assert_ruled_out("supply", case)


@pytest.mark.parametrize(
    ("stock", "second_stock", "pairs"),
    [
        pytest.param(2, 2, {("B8", "B8"), ("B8", "N"), ("N", "B8"), ("N", "N")}, id="two of each"),
        pytest.param(1, 1, {("B8", "N"), ("N", "B8")}, id="one of each"),
        pytest.param(2, 0, {("B8", "B8")}, id="two and none"),
        pytest.param(1, 0, set(), id="one for two spots"),
        pytest.param(1, 2, {("B8", "N"), ("N", "B8"), ("N", "N")}, id="one and two"),
    ],
)
def test_one_stock_for_all_spots(stock: int, second_stock: int, pairs: set[tuple[str, str]]) -> None:
    """Two spots that use the same SKU draw on the same stock."""
    changes: Json = {**SECOND_PLUG, "items/PLUG-B8/stock": stock, "items/PLUG-N/stock": second_stock}
    found = ask(catalog(changes), HOSE | IN_STOCK)
    expected = {(f"PLUG-{left}", f"PLUG-{right}") for left, right in pairs}
    assert {(bill["chains"]["left"][0], bill["chains"]["right"][0]) for bill in found["bills"]} == expected
    assert found["total_valid"] == len(expected)


@pytest.mark.parametrize(
    ("changes", "asked", "total"),
    [
        pytest.param({"items/PLUG-T/stock": 0}, HOSE, 1, id="supplied plug needs none"),
        pytest.param({"items/PLUG-T/stock": 0}, RETURN, 0, id="side plug does"),
        pytest.param({"items/PLUG-T/stock": 1}, RETURN, 1, id="side plug has"),
        pytest.param({"items/PLUG-B8/sold": False, "items/PLUG-B8/stock": 0}, HOSE, 1, id="unsold parts need none"),
        pytest.param({"items/RAIL-S/stock": 0}, FACTORY, 0, id="rail"),
        pytest.param({"items/SPACER-5/stock": 0, "items/SCREW-6/stock": 0}, HOSE, 1, id="mounting parts need none"),
    ],
)
def test_stock_of_what_is_bought(changes: Json, asked: Json, total: int) -> None:
    """Only what is bought here has to be in stock, and only where that is asked."""
    document = catalog(changes)
    assert ask(document, asked | IN_STOCK)["total_valid"] == total
    assert ask(document, asked)["total_valid"] == 1


def test_retired_where_supplied() -> None:
    """A supplied plug may be retired; as a side plug it has to be bought, and may not."""
    document = catalog({"items/PLUG-T/status": "retired", "items/-": twin("PLUG-T", "PLUG-U")})
    found = ask(document, RETURN)
    assert chains_at(found, "top") == {"PLUG-T"}
    assert chains_at(found, "right") == {"ADAPT-B8-F6,REG-F6,PLUG-U"}


def test_retired_rail_alone() -> None:
    """Where the only rail is retired there is no bill."""
    found = ask(catalog({"items/RAIL-S/status": "retired"}), HOSE)
    assert (found["total_valid"], rails(found)) == (0, set())


@pytest.mark.parametrize(
    ("changes", "texts"),
    [
        pytest.param({}, {"In the range, 25 in stock."}, id="in stock"),
        pytest.param(
            {"items/PLUG-B8/stock": 0}, {"In the range, none in stock: it takes 3 days to get."}, id="none in stock"
        ),
        pytest.param({"items/PLUG-B8/sold": False}, set(), id="unsold"),
    ],
)
def test_kept(changes: Json, texts: set[str]) -> None:
    """A part that is bought tells its stock, or how long it takes."""
    assert said(ask(catalog(changes), HOSE), "PLUG-B8", "supply") == texts


def test_supplied_says_nothing_of_stock() -> None:
    """A supplied plug is not bought."""
    assert said(ask(catalog(), HOSE), "PLUG-T", "supply") == set()


@pytest.mark.parametrize(("sold", "total"), [pytest.param(True, 0, id="sold"), pytest.param(False, 1, id="unsold")])
def test_stock_of_the_rail(sold: bool, total: int) -> None:
    """A rail that is bought elsewhere needs no stock."""
    document = catalog({"items/RAIL-S/sold": sold, "items/RAIL-S/stock": 0})
    assert ask(document, HOSE | {"in_stock_only": True})["total_valid"] == total
