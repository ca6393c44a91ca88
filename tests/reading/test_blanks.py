"""A place for a quantity that is left empty is no order of one piece."""

import pytest

from tests.reading.orders import doubtful, sure


@pytest.mark.parametrize(
    "row",
    [
        *("[ ] HOSE-6", "[] HOSE-6", "( ) HOSE-6", "HOSE-6 [_]", "[-] HOSE-6", "\u2610 HOSE-6", "____ HOSE-6"),
        *("- [ ] 2 HOSE-6", "\u2610 2 HOSE-6", "qty ___ HOSE-6", "qty: HOSE-6", "HOSE-6: pcs", "   x HOSE-6"),
    ],
)
def test_a_blank_is_asked_about(row: str) -> None:
    """With a filled one beside it, and without."""
    assert sure(row) == []
    assert len(doubtful(row)) == 1
    assert len(doubtful(f"[2] RAIL-S\n{row}")) == 1


@pytest.mark.parametrize("row", ["HOSE-6 ___ 2", "[2] HOSE-6", "\u2611 2 HOSE-6", "2 x HOSE-6", "qty: 2 HOSE-6"])
def test_a_filled_one_is_sure(row: str) -> None:
    assert sure(row) == [(1, "HOSE-6", 2)]
