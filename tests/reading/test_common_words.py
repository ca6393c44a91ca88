"""Common words beside a part: harmless, unless their meaning or their place casts doubt. A row for each rule."""

import pytest

from service.reading.common import is_common
from tests.reading.orders import READER, doubtful, sure


@pytest.mark.parametrize(
    ("text", "qty"),
    [
        # anywhere but in the phrase of the part
        ("Further we are needing HOSE-6 (4)", 4),
        ("we kindly ask to deliver to us 4 pcs. HOSE-6 at the soonest", 4),
        ("One more thing: please put a HOSE-6 in the parcel.", 1),
        ("Then comes HOSE-6, of this two.", 2),
        ("please put aside one HOSE-6", 1),
        ("And one HOSE-6 for the long way round.", 1),
        ("3 HOSE-6 for the old lady with the red car", 3),
        ("Please enter 3 HOSE-6 into your system", 3),
        ("We would take 3 HOSE-6 with great pleasure", 3),
        # a word that praises, a remark that says how urgent it is
        ("so one proper HOSE-6 please", 1),
        ("First of all one piece HOSE-6, this is most important.", 1),
        ("3 HOSE-6 would be great", 3),
        # what leads to an order
        ("The colour of the hoses does not matter to him, so take HOSE-6, six.", 6),
        ("We have a big project ahead and need 3 HOSE-6", 3),
        # what counts no part
        ("for the two Brooks please put aside one HOSE-6", 1),
        ("quick one before I forget - 3 HOSE-6", 3),
    ],
)
def test_a_common_word_is_harmless(text: str, qty: int) -> None:
    assert sure(text) == [(1, "HOSE-6", qty)]
    assert doubtful(text) == []


@pytest.mark.parametrize(
    "text",
    [
        # denies, cancels, suspends, gives back
        *("please bin the 2 {s}", "ditch 2 {s} from the parcel", "nobody here wants 2 {s}", "2 {s} mustn't go out"),
        *("park 2 {s} for a while please", "please halt the 2 {s}", "2 {s} on ice until further word"),
        *("2 {s} on their way to you", "the courier brings you 2 {s}", "please compensate 2 {s}", "make good 2 {s}"),
        # reports: irregular pasts, pasts in "ed", what it does or looks like
        *("2 {s} broke last week", "he took 2 {s}", "2 {s} snapped", "the sheet lists 2 {s}", "2 {s} give trouble"),
        *("my neighbour runs 2 {s} on his car", "the photo shows 2 {s}", "he swears by 2 {s}", "recipe: add 2 {s}"),
        *("skipping 2 {s}", "2 {s} from the lad who arrives on Monday", "hoping for 2 {s}"),
        # asks, leaves open, conditions
        *("I wonder about 2 {s}", "please explain 2 {s} to me", "where do 2 {s} go", "name your best for 2 {s}"),
        *("I am toying with 2 {s}", "2 {s}, will come back on this", "normally we order 2 {s}", "2 {s} sometime"),
        *(
            "send 2 {s} as soon as I pay",
            "please send 2 {s} on his word",
            "2 {s} for want of better",
            "2 {s} on demand",
        ),
        *(
            "2 {s} on demand",
            "the moment he says so please send 2 {s}",
            "provided he pays, please send 2 {s}",
            "were he to pay: 2 {s}",
        ),
        # hedges, shares out
        *("over 2 {s}", "a good 2 {s}", "2 {s} or thereabouts", "in the region of 2 {s}", "2 {s} for starters"),
        *(
            "2 {s} a side",
            "2 {s} the car",
            "2 {s} to a car",
            "2 {s} for any car",
            "2 {s} apiece",
            "2 {s} for them both",
        ),
        *("2 {s} for the pair of cars", "2 {s} to both shops", "all boys need 2 {s}", "2 {s} for them both"),
        # compares, leaves a choice
        *("2 {s} softer than mine", "2 {s} lookalikes", "2 {s} of softer rubber", "2 {s} in another length"),
        *("2 {s} failing that 3", "2 {s} else nothing", "2 {s} as a stopgap", "2 {s}, any make", "the equal of 2 {s}"),
        # another thing, or another variant: before, behind, joined, alone, led to
        *("2 {s} keys", "2 velvet {s}", "2 chain {s}", "2 {s} new wall key", "tool for 2 {s}", "the key to {s}, 2"),
        *(
            "send 2 {s} and a key",
            "send 2 {s} with tape",
            "send tape, 2 {s}",
            "2 {s}, tape",
            "2 {s} (wood)",
        ),
        *(
            "2 {s} in wood",
            "2 {s} from soft stuff",
            "2 {s} to shorten",
            "2 {s} for painting",
            "2 {s}, the long kind",
        ),
        # no common word, or no number
        *("please send 2 {s} with love from Xyrkon viton", "2 {s} tomorrow, nitrl", "lovely {s} from the attic"),
    ],
)
def test_a_meaning_or_a_place_casts_doubt(text: str) -> None:
    for called in ("HOSE-6", "4711"):
        assert sure(text.format(s=called)) == [], called


def test_what_is_counted_beside_the_parts_is_a_line_of_its_own() -> None:
    hose, gauge, other = READER.read("2 HOSE-6, 3 GAUGE/T and 4 tool kits for them").lines
    assert [(line.sku, line.qty, line.sure) for line in (hose, gauge)] == [("HOSE-6", 2, True), ("GAUGE/T", 3, True)]
    assert (other.sku, other.qty, other.sure) == (None, 4, False)


def test_none_of_one_part_says_nothing_of_the_other() -> None:
    hose, gauge = READER.read("HOSE-6 one, GAUGE/T zero.").lines
    assert (hose.sure, hose.qty, gauge.sure) == (True, 1, False)


def test_a_plural_without_a_number_is_no_single_piece() -> None:
    assert doubtful("rubber stoppers for it") == [1]


def test_the_words_known_as_common_are_those_of_any_letter() -> None:
    assert all(map(is_common, ("parcel", "aside", "friend's", "kindly")))
    assert not any(map(is_common, ("viton", "nitrile", "anodised", "hp8", "")))
