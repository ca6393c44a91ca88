"""Answers typed by hand, as a person reads them."""

from io import StringIO
from typing import Any

import pytest
from rich.console import Console

from service.cli.answer_table import answer_table
from service.documents.answer import Answer, Bill, Line, Power


def _line(sku: str, **more: Any) -> Line:
    line: dict[str, Any] = {
        "sku": sku,
        "name": f"Part {sku}",
        "qty": 1,
        "source": "buy",
        "price": 1_234_56,
        "spots": ["1.left"],
        "choices": [],
        "reasons": [{"rule": "mates", "text": "It meets the spot.", "facts": {}}],
    }
    return Line(**(line | more))


def _bill(*lines: Line, **more: Any) -> Bill:
    bill: dict[str, Any] = {
        "key": "k" * 200,
        "power": _power(),
        "price": 1_234_56,
        "pieces": 1,
        "lead_days": 1,
        "duties": {"1.left": "feed", "2.left": "closed"},
        "lines": list(lines),
        "chains": {},
        "flow": {"demand_l_h": 60.0, "paths": [], "operating_point": None},
        "margin": {"tightest": None, "clearance_mm": None, "pressure_kpa": None, "drop_percent": None},
        "sizing": {"largest_power_kw": None, "largest_demand_l_h": None, "limited_by": None, "text": "Sized so."},
        "checks": [],
        "extras": [],
        "cautions": [],
    }
    return Bill(**(bill | more))


def _power(**more: Any) -> Power:
    limit: dict[str, Any] = {"what": "pump", "kw": 120.0, "text": "The pump is enough.", "facts": {}, "source": "S"}
    power: dict[str, Any] = {
        "asked_kw": 90.0,
        "assumed": True,
        "carries_kw": 120.0,
        "verdict": "ok",
        "limited_by": "pump",
        "not_told": ["plumbing", "injectors"],
        "limits": [limit],
        "reserve": 0.2,
        "follows": "not told",
        "text": "This set-up carries so much.",
    }
    return Power(**(power | more))


def _caution(text: str) -> dict[str, Any]:
    return {"rule": "fuel", "text": text, "facts": {}}


def _shown(*bills: Bill, **more: Any) -> list[str]:
    answer: dict[str, Any] = {
        "revision": 4,
        "currency": "EUR",
        "total_valid": len(bills),
        "bills": list(bills),
        "ruled_out": [],
        "conflicts": [],
        "stories": [],
        "repairs": [],
        "alternatives": [],
        "more": {"conflicts": False, "repairs": False, "alternatives": False},
        "safety": ["Fuel burns."],
    }
    file = StringIO()
    console = Console(file=file, width=80, markup=False, highlight=False, emoji=False)
    console.print(answer_table(Answer(**(answer | more))))
    lines = [line.rstrip() for line in file.getvalue().splitlines()]
    assert max(map(len, lines)) <= 80
    return lines


@pytest.mark.parametrize(
    ("bills", "total", "words"),
    [
        (0, 0, "No valid bill (catalog revision 4)."),
        (1, 1, "1 valid bill (catalog revision 4):"),
        (2, 2, "2 valid bills (catalog revision 4):"),
        (1, 12_345, "12,345 valid bills, the first 1 of them (catalog revision 4):"),
    ],
)
def test_the_headline_counts(bills: int, total: int, words: str) -> None:
    """How many there are, and how many of them are shown."""
    assert _shown(*[_bill(_line("A"))] * bills, total_valid=total)[0] == words


@pytest.mark.parametrize(
    ("line", "row"),
    [
        (_line("A", qty=2), "2 A buy 1.left EUR 1,234.56"),
        (_line("A", source="elsewhere", price=0), "1 A elsewhere 1.left"),
        (_line("A", source="supplied", price=0, spots=["1.top", "2.top"]), "1 A in the box 1.top, 2.top"),
        (_line("A", source="on-car", price=0, spots=[]), "1 A on the car"),
        (_line("A", source="add-on", price=0, spots=[]), "1 A add-on"),
        (_line("A", price=0), "1 A buy 1.left EUR 0.00"),
    ],
    ids=["bought", "elsewhere", "supplied", "on the car", "add-on", "bought for nothing"],
)
def test_a_line_has_quantity_source_place_and_price(line: Line, row: str) -> None:
    """Only what is bought has a price."""
    assert row in [" ".join(shown.split()) for shown in _shown(_bill(line))]


def test_a_line_tells_what_else_would_do_and_why() -> None:
    """Name and choices stand below the line, and each reason by its rule."""
    lines = _shown(_bill(_line("A", choices=["A", "B", "C"])))
    place = lines.index("    Part A (or B, C)")
    assert lines[place + 1] == "    mates     It meets the spot."


def test_long_names_and_keys_are_folded_not_cut() -> None:
    """Nothing is lost to the width, however long it is."""
    sku = "".join(chr(ord("a") + number % 26) for number in range(120))
    shown = "".join("".join(_shown(_bill(_line(sku)))).split())
    assert all(shown.count(letter) >= sku.count(letter) for letter in set(sku))
    assert "k" * 200 in shown


def test_a_path_tells_flow_drop_speed_and_what_is_not_rated() -> None:
    """What was left out of the sum is named."""
    path = {
        "duty": "feed",
        "spots": ["1.left"],
        "flow_l_h": 75.0,
        "drop_kpa": 12.5,
        "peak_m_s": 2.0,
        "limit_kpa": 40.0,
        "limit_m_s": 6.0,
        "unrated": ["A"],
        "hose_rated": False,
    }
    lines = _shown(_bill(_line("A"), flow={"demand_l_h": 60.0, "paths": [path], "operating_point": None}))
    told = " ".join(" ".join(lines).split())
    assert "Flow, for a demand of 60 L/h (15.9 US gal/h): - feed 1.left: 75 L/h (19.8 US gal/h), drop 12.5 kPa" in told
    assert "of at most 40 kPa (5.8 psi), peak 2 m/s (6.56 ft/s) of at most 6 m/s (19.7 ft/s)" in told
    assert "; not rated: A, the hose" in told


def test_cautions_are_told_once_with_the_bills_that_they_are_about() -> None:
    """A caution of every bill has no number, one of some bills has theirs."""
    lines = _shown(
        _bill(_line("A"), cautions=[_caution("Mind this."), _caution("And that."), _caution("Mind this.")]),
        _bill(_line("B"), cautions=[_caution("Mind this.")]),
    )
    place = lines.index("Cautions:")
    assert lines[place + 1 : place + 4] == [" - Mind this.", " - Bill 1: And that.", "Before you begin:"]


def test_what_looks_like_markup_is_shown_as_it_is() -> None:
    """Brackets and colons in names are no markup and no emoji."""
    assert "    [red]:fuelpump:[/red]" in _shown(_bill(_line("A", name="[red]:fuelpump:[/red]")))


def test_without_a_bill_it_tells_why_and_what_would_help() -> None:
    """The story of each conflict, then each repair as a thing to do."""
    lines = _shown(
        stories=[{"wishes": ["gauge"], "text": "With a gauge, nothing fits.", "causes": []}],
        repairs=[{"change": {"gauge": "none"}, "text": "Do without the gauge.", "total_valid": 1}],
    )
    why = lines.index("Why:")
    assert lines[why : why + 4] == [
        "Why:",
        " - With a gauge, nothing fits.",
        "What would help:",
        " - Do without the gauge.",
    ]


def test_what_was_ruled_out_is_told_with_its_place() -> None:
    """Part, spot, rule and words."""
    lines = _shown(
        ruled_out=[
            {"sku": "A", "spot": "left", "rule": "clearance", "text": "Too long.", "facts": {}},
            {"sku": "RAIL", "spot": None, "rule": "pattern", "text": "Of another engine.", "facts": {}},
        ]
    )
    place = lines.index("A at left")
    assert lines[place + 1 : place + 4] == [
        "    clearance Too long.",
        "RAIL",
        "    pattern   Of another engine.",
    ]


def test_the_tightest_limit_is_told_where_there_is_one() -> None:
    """In the words of the answer, after the flow."""
    assert not any("limit" in line for line in _shown(_bill()))
    text = "Least is left of the room along the axis at the 1.left spot: 2 mm of 30 mm."
    tightest = {"what": "clearance", "spot": "1.left", "part": None, "left": 2.0, "unit": "mm", "relative": 0.066667}
    shown = _shown(_bill(margin=_bill()["margin"] | {"tightest": tightest | {"text": text}}))
    where = shown.index("How close to a limit:")
    assert " ".join(shown[where + 1].split()) == f"- {text}"
