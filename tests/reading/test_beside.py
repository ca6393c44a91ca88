"""What rows tell of each other: headings and closing lines by classes of meaning, positions, columns."""

from collections.abc import Iterable

import pytest

from tests.reading.catalogs import READERS

READER = READERS["seed"]
ROWS = "2 x hose-6-lined\n4 x clip-5-16"
OF_ROWS = [("hose-6-lined", 2), ("clip-5-16", 4)]

DOUBTING = {
    "denies": (
        "NOT NEEDED ANY MORE|No longer required|Cancelled|Struck from the order|Please leave out|Do not send|"
        "Not to be shipped|Withdrawn|Off the list|Scrap these|We changed our mind about these|Not wanted|Entfällt|"
        "Dropped|Void|Rejected|Crossed out|Too many, take back|Surplus to requirements|Annulled|"
        "Not part of this order|obsolete|Please disregard the following|Ordered by mistake|Redundant|"
        "Wird nicht gebraucht"
    ),
    "reports": (
        "Already on the shelf|In stock with us|Returned goods|Sent last week|Received on Monday|Delivery note 22|"
        "From my last order|Fitted so far|We have these|Back from the customer|What you sent|On order|"
        "Warranty claims|Your delivery note shows|These came yesterday|Left over|Previous order|"
        "We found these in the drawer|Here since May|Contents of the parcel|Customer owns|Schon da|"
        "Goods in transit|Stored in bay 2"
    ),
    "suspends": (
        "On hold until spring|Later|Wait with these|Postponed|To be confirmed|Pending|Not yet|For later|Parked|"
        "Still open|We will order these later|Not before spring|Put on ice|Phase two|Until further notice|"
        "Noch offen|Shelved|Call-off order, wait|After the holidays|Tentative|Pre-order|In abeyance|To be released"
    ),
    "sets a condition": (
        "Only if in stock|If cheaper|Unless cheaper elsewhere|In case the car comes|Provided they fit|"
        "Subject to approval|When available|Depending on price|As long as they fit|Should the customer agree|"
        "Otherwise|Once the customer pays|Nur wenn lieferbar|Whatever is cheaper|Failing that|"
        "in the event of a crash|Where possible|Only together with the rail|"
        "On condition that it is here by Friday|Contingent on price"
    ),
    "shares out": (
        "Per car|For each engine|Every van gets|Each side|Per set|Je Motor|One set is|Contents of one kit|Twice|"
        "Two of each|Quantity for one engine|Times three|Double of this|Each|A car needs|For one of the cars|"
        "Apiece|2x everything below|for both cars each|Multiply by three|For each of the cars"
    ),
    "asks": (
        "For information only|Quotation 118 (not an order)|Please quote|Prices wanted|Enquiry|How much for these|"
        "Offers|Options|Draft|Just asking|For comparison|Zur Info|To discuss|What about|Lead time please|RFQ|"
        "Proforma|Could also be|Ideas|Similar to|Would these fit|Tell me about|Devis"
    ),
}
PLAIN = (
    "FOR THE FENNIC ENGINES|For the shelf|C) For the shelf|Workshop|Engine 1|Left bank|Stock order, week 21|For Monday|"
    "Mr Pascoe's car|Please deliver with the next truck|Our order for the van (already here: see below)|Job 118|"
    "Rail kit for the Fennic|Second car|Order 5532 / weekly stock|To be picked up on Friday|As per your quotation|"
    "Hello again, one more order|The customer has decided on|To go with the rail I bought last year|Small parts|"
    "To replace the worn ones|Red car, return system|The usual|I take from the quote Q-2207 only these positions|"
    "We accept your offer 118|Not per car but for the stock|apart from this, without sets|Good day, our order follows|"
    "Additional parts|By parcel service|Für den Fennic|The parts are for Jo"
)
CHANGING = (
    "please double the quantities|On second thought, only half of that.|same again for the second car|Cancel.|On hold.|"
    "This order is cancelled.|Make that double|triple it|everything x2|Please wait with the whole order.|Not now.|"
    "Do not ship yet.|Not an order, just asking.|Only if it can be here by Friday.|Quantities are per car.|Scrap that.|"
    "Please quote first.|All cancelled|(for one car, we build three)|Two of everything, we have two cars.|never mind|"
    "Likewise for the other engine.|Subject to approval by the boss.|This came on Monday.|We already have all this.|"
    "I have to cancel the whole order because my customer sold the car and bought another one."
)
CHANGING_NOTHING = (
    "Sorry for the capital letters, the old printer does this.|If the clip is not on stock please to inform us before.|"
    "Everything else remains as it is.|rest is ok, go ahead|Not urgent, take your time|Partial delivery is not wished.|"
    "Positions 1, 4 and 6 to 8 I do not need any more.|Delivery as last time please|Line 7 and 8 are not needed.|"
    "Everything in one box please|Please confirm the order|Send all to the usual address|Thanks for all your help|"
    "We await your confirmation with the prices, thanks in advance."
)

OF_SOMETHING_ELSE = (
    "The kettle here has broken again.|The forklift is out of service on Friday.|No pallets, the yard is narrow.|"
    "Please to send by post, not by truck.|Pack it in paper, not in foam.|We never got the Christmas card.|"
    "Can you bring a brochure for the visitor room?|Do you still have the calendar with the tractors?|"
    "The meeting on Wednesday is cancelled, my wife is ill.|Tor 2.0, no roof rack|Fennic 1.6, no gauge|"
    "No need to phone, just leave it with the neighbour.|The customer was delighted with the service.|"
    "Tomorrow I am not in the workshop.|Half of the village came to see the car.|Please cancel my newsletter.|"
    "Otherwise nothing new here, see you Saturday|If it rains, put the box under the roof.|"
    "Maybe we meet at the hill climb."
)
OF_THE_ROWS = (
    "Rescinded by the buyer|In the cupboard already|Depends on the weather|Once the baker pays|Lying here unopened|"
    "These were for the baker, not needed|Kindly omit these|My wife is ill, so cancel|"
    "Not for the baker any more|The museum has cancelled|Boat cancelled"
)


def told(text: str) -> list[tuple[str | None, int | None]]:
    return [(line.sku, line.qty) for line in READER.read(text).lines if line.sure]


def each(lines: str) -> Iterable[str]:
    return lines.split("|")


@pytest.mark.parametrize("meaning", DOUBTING)
def test_a_heading_that_is_no_order_makes_its_rows_ask(meaning: str) -> None:
    for line in each(DOUBTING[meaning]):
        assert (line, told(f"{line}\n{ROWS}"), told(f"{line}:\n{ROWS}")) == (line, [], [])
        assert (line, told(f"1 x spacer-14\n\n{line}\n{ROWS}")) == (line, [("spacer-14", 1)])


def test_any_other_heading_leaves_its_rows_sure() -> None:
    for line in each(PLAIN):
        assert (line, told(f"{line}\n{ROWS}")) == (line, OF_ROWS)
        assert (line, told(f"{line}:\n{ROWS}")) == (line, OF_ROWS)


def test_a_line_that_changes_the_whole_order_makes_all_rows_ask() -> None:
    for line in each(CHANGING):
        assert (line, told(f"{ROWS}\n{line}"), told(f"{ROWS}\n\n{line}")) == (line, [], [])


def test_any_other_line_leaves_the_rows_above_sure() -> None:
    for line in each(CHANGING_NOTHING):
        rows = "Pos 2: 2 x hose-6-lined\nPos 3: 4 x clip-5-16"
        assert (line, told(f"{rows}\n{line}")) == (line, OF_ROWS)


def test_a_line_about_something_else_leaves_all_rows_sure() -> None:
    for line in each(OF_SOMETHING_ELSE):
        texts = (f"{line}\n{ROWS}", f"{ROWS}\n{line}", f"2 x hose-6-lined\n{line}\n4 x clip-5-16")
        assert (line, *map(told, texts)) == (line, OF_ROWS, OF_ROWS, OF_ROWS)
    for line in each(OF_THE_ROWS):
        assert (line, told(f"{line}\n{ROWS}")) == (line, [])
    assert told(f"no clips on this car\n{ROWS}") == OF_ROWS[:1]


def test_a_row_that_counts_a_part_anew_asks_about_the_other() -> None:
    assert told(f"> 2 x spacer-10\n{ROWS}\nAs above please, but only 1 of the spacer-10.") == OF_ROWS


def test_a_word_for_a_kind_heads_its_rows() -> None:
    read = READER.read("1 x spacer-14\nCLIPS\n4 x clip-5-16\nHoses:\n2 x hose-6-lined")
    assert [(line.row, line.sure) for line in read.lines] == [(1, True), (3, True), (5, True)]


def test_a_line_that_may_look_up_or_down_does_both() -> None:
    assert told(f"1 x spacer-14\n3 x spacer-10\nCancelled\n{ROWS}") == [("spacer-14", 1)]


def test_a_line_points_at_rows_by_their_positions() -> None:
    rows = "Pos 2: 2 x hose-6-lined\nPos 3: 4 x clip-5-16"
    assert told(f"{rows}\nPositions 1 and 3 to 5 are not needed.") == OF_ROWS[:1]
    assert told(f"{ROWS}\nPosition 2 is not needed.") == []


def test_a_row_that_orders_answers_a_heading_of_changes() -> None:
    text = f"thanks. Some changes please:\nInstead send 2 hose-6-lined\nadd 4 clip-5-16\n{ROWS}"
    assert told(text) == OF_ROWS


AMOUNTS = (
    "Half a dozen {}|a few {}|twenty {}|zwei {}|0 {}|-1 {}|2x3 {}|5000 {}|{} x 1.000|{} 1,000 pcs|2.5 {}|half {}|"
    "some {}|{} - twenty pcs|2 dozen {}|1/2 {}|3 boxes {}|2-3 {}|about 3 {}|{}?|"
    "{} few|2 or 3 {}|no {}|double {}|{} ~4|{} 2 4"
)


@pytest.mark.parametrize("sign", [". ", ") ", ": "])
def test_a_position_takes_only_itself_off(sign: str) -> None:
    for amount in each(AMOUNTS):
        row = amount.format("clip-5-16")
        text = f"1{sign}hose-6-lined x 2\n2{sign}{row}\n3{sign}spacer-10 10"
        assert (row, told(text)) == (row, [("hose-6-lined", 2), ("spacer-10", 10)])


SPACED = """\
Pos. Artikelnr.                 Menge ME   Preis    Gesamt
001  rail-scaur-8-copper             2 ST  299,00    598,00
     Fuel rail for the Scaur eight-cylinder, one bank, copper
002  line-link-8-lined               1 ST   74,00     74,00
003  clip-5-16                         ST   74,00     74,00
"""
SHORTENED = """\
POS  ART-NO             DESCRIPTION         QTY  UNIT    PRICE
002  HOSE-6-LINED       HOSE SZ 6 LIN         4  PC       6.90
003  SEAL-QUICK-3-8     SEAL SET 3/8          2  SET      4.20
"""


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("Part no.     Pack   Qty\nclip-5-16      10     2\nclip-3-8     1     1", [("clip-3-8", 1)]),
        ("Part;Qty;Unit\nclip-5-16;2;box of 10\nclip-3-8;1;C\nspacer-10;1;100\nspacer-14;1;EA", [("spacer-14", 1)]),
        (
            SPACED,
            [("rail-scaur-8-copper", 2), ("line-link-8-lined", 1)],
        ),
        ("Pos. Part no.     Qty\n1    clip-5-16      10\n2    clip-3-8        2", [("clip-5-16", 10), ("clip-3-8", 2)]),
        ("No.  SKU              Net     Quantity   VPE\n20   bracket-line   37.41                  1", []),
        ("Artikelnr.     Menge Preis\nbracket-line\nclip-5-16           7 2.60", []),
        ("SKU         Rec. Quantity   Price\nclip-5-16      3       28   1.70", [("clip-5-16", 28)]),
        ("qty|part no|remark\n4|clip-5-16|please put in same box\n4|clip-3-8|box of 10", [("clip-5-16", 4)]),
        ("Menge: 4,00 Stk clip-5-16\nclip-3-8 4.0 pcs\nspacer-14 qty 4.000", [("clip-5-16", 4), ("clip-3-8", 4)]),
        ("Part | Min | On hand | To order\nclip-5-16 | 4 | 6 | 8\nclip-3-8 | 4 | 4 | 0", [("clip-5-16", 8)]),
        (
            "sku;qty;remark\nclip-5-16;1;2nd one is here\nclip-3-8;3;stock\nspacer-10;1;cancelled\nspacer-14;1;x2",
            [("clip-5-16", 1), ("clip-3-8", 3)],
        ),
        (
            SHORTENED,
            [("hose-6-lined", 4), ("seal-quick-3-8", 2)],
        ),
        ("clip-3-8 3x (one is for the shelf)\nqty 2 clip-5-16, one spare", [("clip-3-8", 3), ("clip-5-16", 2)]),
        ("clip-3-8 3x, make it two\n5 pcs seal-orb-8-high, the better quality", [("seal-orb-8-high", 5)]),
        ("spacer-10 10\n1 Satz seal-quick-5-16", [("spacer-10", 10), ("seal-quick-5-16", 1)]),
        ("A) Red Fennic, return system\n- clip-5-16: 1\nB) Blue Fennic, only centre feed\n- clip-3-8: 1", None),
    ],
)
def test_columns_and_amounts(text: str, sure: list[tuple[str, int]] | None) -> None:
    assert told(text) == ([("clip-5-16", 1), ("clip-3-8", 1)] if sure is None else sure)
    assert sure is not None or all(line.sure for line in READER.read(text).lines)
