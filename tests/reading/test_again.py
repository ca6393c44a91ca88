"""Lines that say parts once more: none of them leaves the parts that it means sure."""

import pytest

from tests.reading.orders import doubtful, sure

ROWS = "2 RAIL-S\n4 HOSE-6"


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("ditto in graphite", [1, 2]),
        ("and the same for my brother", [1, 2]),
        ("for two cars", [1, 2]),
        ("actually all in graphite please", [1]),
        ("PS make that 4 hoses", [2]),
        ("I found the hose", [2]),
    ],
)
def test_a_line_below_asks_about_what_it_says_again(line: str, asked: list[int]) -> None:
    assert doubtful(f"{ROWS}\n{line}") == asked
    assert doubtful(f"{ROWS}\n\n{line}") == asked


def test_a_line_above_says_for_what_the_parts_are() -> None:
    """Only what says the same once more asks about them."""
    assert [row for row, _, _ in sure(f"For two cars:\n{ROWS}")] == [2, 3]
    assert doubtful(f"same for both banks please:\n{ROWS}") == [2, 3]


@pytest.mark.parametrize("line", ["same address as last time", "I have to go now", "Attached is all, in short"])
def test_any_other_line_leaves_them_sure(line: str) -> None:
    assert [row for row, _, _ in sure(f"{ROWS}\n{line}")] == [1, 2]
