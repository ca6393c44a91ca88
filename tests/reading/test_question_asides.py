"""What is said beside the question: another's car, an earlier one, what nobody made anything of."""

from dataclasses import replace

import pytest

from tests.reading.question_catalogs import editions
from tests.reading.questions import judged, questions

BEHIND = [
    ". My mate's has 222 kW, 1.7 bar boost and runs on E85.",
    ", while a friend of mine has 222 kW and a gauge at the top",
    ". My last car had a copper rail, a gauge on top and 222 kW.",
    ". Your colleague offered me one for 999 euros.",
    ". The pump makes 5.5 bar, I'm at home from 6 pm, number 0171 234567.",
]
BEFORE = ["My mate's car makes 222 kW with 1.7 bar boost. ", "Hello, this is Tom, order 4711 from last week. "]
_SEED = [x for x in questions() if x.catalog == "seed"]


@pytest.mark.parametrize("aside", BEHIND)
def test_nothing_is_asserted_of_what_is_told_behind(aside: str) -> None:
    reader = editions()["seed"].question_reader
    told = [replace(x, text=x.text.rstrip(".!? ") + aside) for x in _SEED[::9]]
    assert [(x.text, wrong) for x in told if (wrong := judged(x, reader.read(x.text)).wrong)] == []


@pytest.mark.parametrize("aside", BEFORE)
def test_nothing_is_asserted_of_what_is_told_before(aside: str) -> None:
    reader = editions()["seed"].question_reader
    told = [replace(x, text=aside + x.text) for x in _SEED[::9]]
    assert [(x.text, wrong) for x in told if (wrong := judged(x, reader.read(x.text)).wrong)] == []


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("My mate's Brae 2.0 wagon has 200 kW, mine is a Fennic 1.6 and stock", "power_kw"),
        ("Fennic 1.6. A mate of mine runs 1.2 bar boost on his.", "boost_kpa"),
        ("Fennic 1.6, the previous one had its gauge on the left", "gauge"),
        ("Fennic 1.6. Our other car has a graphite rail.", "finish"),
        ("Fennic 1.6, previously on E10", "fuel"),
    ],
)
def test_what_may_be_of_another_car_is_asked(text: str, field: str) -> None:
    reading = editions()["seed"].question_reader.read(text)
    assert field not in reading.request
    assert field in {one.field for one in reading.open}


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("My sister's Fennic 1.6 makes 110 kW", "power_kw", 110),
        ("For my wife's Fennic 1.6: 110 kW", "power_kw", 110),
        ("Alright mate, Fennic 1.6 with 110 kW", "power_kw", 110),
        ("My brother told me to ask you: Fennic 1.6, 110 kW", "power_kw", 110),
    ],
)
def test_somebody_elses_car_may_be_the_one_in_question(text: str, field: str, value: float) -> None:
    request = editions()["seed"].question_reader.read(text).request
    assert (request["chassis"], request[field]) == ("fennic-16", value)


@pytest.mark.parametrize(
    ("text", "unread"),
    [
        ("Fennic 2.0, starter battery 12 volt", "starter battery 12 volt"),
        ("Fennic 2.0, no magnesium", "no magnesium"),
        ("Fennic 2.0, no welding", "no welding"),
    ],
)
def test_what_may_matter_is_shown_unread(text: str, unread: str) -> None:
    assert unread in editions()["seed"].question_reader.read(text).unread


def test_a_line_that_is_denied_is_offered_last() -> None:
    reading = editions()["seed"].question_reader.read("Fennic 1.6, centre feed, not the factory line")
    layouts = [choice.value for one in reading.open if one.field == "layout" for choice in one.choices]
    fed_at_centre = {"own-hose-6-centre", "own-hose-8-centre", "bulkhead-centre", "large-bore-centre"}
    assert set(layouts[:4]) == fed_at_centre
    assert layouts.index("factory-line") >= len(fed_at_centre)
