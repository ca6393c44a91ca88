"""Clauses beside a part, and lines beside rows, that tell of something else; and those that sound alike and do not."""

import pytest

from tests.reading.catalogs import READERS

READER = READERS["seed"]
ROW = "2 x hose-6-lined"
ROWS = f"{ROW}\n4 x clip-5-16"
OF_ROWS = [("hose-6-lined", 2), ("clip-5-16", 4)]


def told(text: str) -> list[tuple[str | None, int | None]]:
    return [(line.sku, line.qty) for line in READER.read(text).lines if line.sure]


@pytest.mark.parametrize(
    "text",
    [
        # a reason, a purpose, the way it was told
        *(f"{ROW}, because mine has dried up", f"{ROW}, as recommended by your technician", f"{ROW}, since ours leaks"),
        *("as mine has gone soft, " + ROW, "because the tank is out anyway we take " + ROW),
        # a thing or a person of its own does or is something
        *(f"{ROW}, the old ones had stretched", f"{ROW} - ours is leaking at the crimp", f"{ROW}, wife approved"),
        *(f"{ROW}. The car has done two hundred thousand miles", f"{ROW} (the old one cracked)"),
        # how to pack it, where it goes, for what it is
        *(f"{ROW}, please keep it dry on transport", f"{ROW}, no box needed", f"{ROW}, these are for the garage"),
        *(f"Trailer: {ROW}", f"{ROW}, charged to job 88", f"{ROW}, in a bag please"),
        # what leads to an order
        *(f"my chief says I shall order {ROW}", f"what they need is {ROW}", f"one more thing: {ROW}"),
    ],
)
def test_an_aside_leaves_its_row_sure(text: str) -> None:
    assert told(text) == OF_ROWS[:1]


@pytest.mark.parametrize(
    "text",
    [
        *(f"{ROW}, as soon as my boss agrees", f"{ROW}, I doubt it", f"{ROW}, we'd prefer braided"),
        *(f"{ROW}, they snapped", f"{ROW}, boss has to decide", f"{ROW}, he already has two"),
        *(f"{ROW}, for each of the three vans", f"{ROW}, those you sent were too short", f"it's surplus, {ROW}"),
        *(f"{ROW}, and the matching clamps", f"{ROW} as a stopgap", f"you want {ROW}, I have none"),
        *("hose-6-lined - ours is leaking at the crimp please", f"{ROW} (no vacuum port)"),
    ],
)
def test_what_may_be_of_the_part_makes_its_row_ask(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize(
    "line",
    [
        "If the parcel is over 5 kg, please send it by the carrier.",
        "We will collect on Saturday the 9th if that suits you.",
        "The weather should hold until the end of the month.",
        "Please send with the courier, not by post, last time it took 16 days.",
        "Our VAT number has not changed.",
        "We are open Monday to Friday from 8 to 17.",
        "Per Aalund",
        "no that's all, thx",
        "Nothing else needed.",
        "No signature needed, leave it at the reception.",
        "That is for the green car, registered 2009.",
    ],
)
def test_a_line_of_something_else_leaves_all_rows_sure(line: str) -> None:
    assert told(f"{ROWS}\n{line}") == OF_ROWS
    assert told(f"{ROWS}\n\n{line}") == OF_ROWS


@pytest.mark.parametrize(
    "line",
    [
        "Let me sleep on it.",
        "On second thoughts I'll pass.",
        "Just window shopping for now.",
        "The boss still has to agree.",
        "Would you have those on the shelf?",
        "All of the above twice, please, as we have two benches.",
        "Not needed any more, the car got written off last night.",
        "I'll let you know how many tomorrow.",
        "Please let me know price and availability.",
        "Unless my neighbour has some.",
        "Me too, same again for mine.",
    ],
)
def test_a_line_about_the_whole_order_makes_all_rows_ask(line: str) -> None:
    assert told(f"{ROWS}\n{line}") == []


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("ouch. forget the hoses then", OF_ROWS[1:]),
        ("Actually can you double the clips?", OF_ROWS[:1]),
        ("skip the second line, got a bag full from a mate", OF_ROWS[:1]),
        ("only one of these please", OF_ROWS[:1]),
        ("No rubber hose, thank you.", OF_ROWS),
    ],
)
def test_a_line_about_some_rows_makes_these_ask(line: str, left: list[tuple[str, int]]) -> None:
    assert told(f"{ROWS}\n{line}") == left


def test_a_heading_that_counts_each_is_asked_back_with_its_number() -> None:
    lines = READER.read("4 each of the following, please:\nhose-6-lined\nclip-5-16").lines
    assert [(line.sure, [x.qty for x in line.candidates]) for line in lines] == [(False, [4, 1])] * 2


def test_a_heading_stands_over_a_table_too() -> None:
    table = "Part;Qty\nhose-6-lined;2\nclip-5-16;4"
    assert told(f"Parts for Monday\n{table}") == OF_ROWS
    assert [told(f"{head}\n{table}") for head in ("CREDIT NOTE", "Per kit, 3 kits wanted", "DO NOT PROCESS")] == [
        []
    ] * 3


def test_boxes_are_bullets_where_none_is_ticked() -> None:
    assert told("[ ] 2 hose-6-lined\n[ ] 4 clip-5-16") == OF_ROWS
    assert told("[x] 2 hose-6-lined\n[ ] 4 clip-5-16") == OF_ROWS[:1]


def test_an_accepted_offer_is_an_order() -> None:
    offer = f"your quotation of 4 October:\n{ROWS}"
    assert told(f"{offer}\n\nPerfect, please go ahead with all of it.") == OF_ROWS
    assert told(offer) == []


def test_a_row_that_takes_the_place_of_another_makes_it_ask() -> None:
    assert told(f"{ROWS}\nsorry, make that clip-3-8") == OF_ROWS[:1]


@pytest.mark.parametrize(
    ("remark", "is_sure"),
    [("needed by Friday", True), ("the old one broke", True), ("only if in stock", False), ("or longer", False)],
)
def test_a_remark_in_a_table(remark: str, is_sure: bool) -> None:
    text = f"Part;Qty;Required;Remark\nhose-6-lined;2;01/12;{remark}"
    assert bool(told(text)) == is_sure
