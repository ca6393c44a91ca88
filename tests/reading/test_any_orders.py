"""Orders by a random grammar of habits, over catalogs of any naming: read exactly or asked back, never sure and wrong;
any text at all is read, and what is sure of it stands there."""

import re
import string
import unicodedata
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.reading.folding import folded
from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary
from service.reading.words import NUMBERS
from tests.reading.catalogs import ODD_PARTS, READERS, SEED_PARTS, THIRD_PARTS
from tests.reading.orders import PARTS, READER

MARKED = (
    *("{q} x {s}", "{q}x {s}", "{s} x {q}", "{q} pcs {s}", "{q} pcs. of {s}", "{s} ({q})", "({q}) {s}", "{s} [{q}]"),
    *("{s}\t{q} pcs", "qty {q} {s}", "{s}, qty: {q}", "{s}; {q} Stk", "{q} off {s}", "- {q} x {s}", "> {q} x {s}"),
    *("Pos 7: {q} x {s}", "{q} pcs {s} @ 12.50", "{s} | {q} pcs | 12,50", "{q} units of {s}", "{s} - {q} pcs"),
    *("please send {q} x {s}", "{s} {q} pcs EUR 12.50", "{q} x {s} for the workshop", "{q} x {s}, asap", "{s} x{q}."),
    *("Hello, {q} x {s} please", "{s}: {q} pcs", "we need {q} pieces {s}", "{q} x {s}, many thanks, Tom"),
    *("[09:14, 28/11/2026] Tom: {q} x {s}", "a) {q} x {s}", "{q} x {s}, customer collects", "{q} x {s} (urgent)"),
)
"""Habits that say that the number is a quantity: read back the same."""
BARE = (
    *("{q}x{s}", "{s} x{q}", "{s}\t{q}", "{s};{q}", "{q},{s}", "{q}Stk {s}", "{q}er {s}", "{s}: {q}", "{s} - {q}"),
    *("{q} {s}", "{s} {q}", "please send {q} {s}", "{q} of the {s}", "{s} {q} ea @ 12.50", "{s} EUR 12.50 x {q}"),
)
"""Habits whose number may be taken for another thing, beside a name with numbers."""
DOUBTFUL = (
    *(
        "{q}.5 {s}",
        "no {s} x {q}",
        "{s} {q}?",
        "{q}-9 {s}",
        "{s} {q}.000",
        "{s} {q},5",
        "3 x {s} {q}",
        "we got {q} {s}",
    ),
    *(
        "half of {q} {s}",
        "cancel {q} {s}",
        "{s}-Q {q}",
        "{s}Zz {q}",
        "{q} {s} caps",
        "-{q} {s}",
        "{s} -{q}",
        "{s} #{q}",
    ),
    *("{q}00000 {s}", "{q} or more {s}", "{s} {q} m", "{s} too large", "{q} x strange {s}", "dreizehn {s}", "on {s}"),
    *("please collect {q} {s} from us", "{q} {s} for free", "{s} as needed", "{q} {s} to be confirmed"),
    *(
        "{q} {s} or similar",
        "{q} {s} (was 3)",
        "{s} for 3 cars",
        "{q} x {s} for Tom in purple",
        "{q} {s} instead",
        "{q} {s} for repair",
    ),
    *("make it {q} {s}", "{s} x {q} per car", "up to {q} {s}", "{s} for {q} cars", "{s} in purple", "{q} boxes of {s}"),
)
DASHES = "-\u2013\u2014\u2011_ "
CASES = (str, str.upper, str.lower, str.title)
Row = tuple[str, str, int]


@st.composite
def written(draw: st.DrawFn, templates: Sequence[str], parts: Sequence[Part] = PARTS, *, plainly: bool = False) -> Row:
    """A row by a habit, and what it means; `plainly`: by the SKU alone."""
    part = draw(st.sampled_from(parts))
    called = part.sku if plainly else draw(st.sampled_from((part.sku, part.name, *part.aliases)))
    qty = draw(st.one_of(st.integers(1, 12), st.integers(1, 1000)))
    name = draw(st.sampled_from(CASES))(called).replace("-", draw(st.sampled_from(DASHES)))
    return draw(st.sampled_from(templates)).format(s=name, q=qty), part.sku, qty


_SAID_OFTEN = "valve tee rail bar x set clip one no m size in half left pair return each out"
_WRITTEN_OFTEN = "1 2 06 8 10 12 40 400 1000 4711 00123"
_SKUS = st.lists(st.sampled_from((*_SAID_OFTEN.split(), *_WRITTEN_OFTEN.split())), min_size=1, max_size=4)
_NAMES = st.lists(
    st.sampled_from((*_SAID_OFTEN.split(), *_WRITTEN_OFTEN.split(), "0.8", "5/16", "1,5")), min_size=1, max_size=4
)


@st.composite
def catalogs(draw: st.DrawFn) -> tuple[Part, ...]:
    """Parts whose SKUs and names are of everyday words, of numbers, and of each other."""
    skus = draw(st.lists(st.tuples(_SKUS, st.sampled_from("-/._")), min_size=1, max_size=6, unique_by=str))
    names = [draw(_NAMES) for _ in skus]
    families = [draw(st.sampled_from((None, "CAP", "8", "rail"))) for _ in skus]
    parts = {
        sign.join(words): (" ".join(name), family)
        for (words, sign), name, family in zip(skus, names, families, strict=True)
    }
    return tuple(Part(sku, name, (), family) for sku, (name, family) in parts.items())


def assert_never_wrong(reader: OrderReader, rows: Sequence[Row], end: str) -> None:
    """What is sure is what was meant, or another part that is written to the same letters; every row is told."""
    step = 2 if end == "\n\n" else 1
    meant = {step * place + 1: row for place, row in enumerate(rows)}
    reading = reader.read(end.join(row for row, _, _ in rows))
    for line in reading.lines:
        assert not line.sure or (line.sku, line.qty) == meant[line.row][1:], line
    assert {line.row for line in reading.lines} | {row for row, _ in reading.unread} == set(meant)


@settings(max_examples=120, deadline=None)
@given(st.lists(written(MARKED + BARE), min_size=1, max_size=6), st.sampled_from(["\n", "\r\n", "\n\n"]))
def test_an_order_is_read_exactly_or_asked_back(rows: list[Row], end: str) -> None:
    assert_never_wrong(READER, rows, end)


@settings(max_examples=120, deadline=None)
@given(
    st.sampled_from((("seed", SEED_PARTS), ("odd", ODD_PARTS), ("third", THIRD_PARTS))).flatmap(
        lambda one: st.tuples(st.just(one[0]), st.lists(written(MARKED + BARE, one[1]), min_size=1, max_size=6))
    ),
    st.sampled_from(["\n", "\n\n"]),
)
def test_so_it_is_in_catalogs_of_any_naming(order: tuple[str, list[Row]], end: str) -> None:
    assert_never_wrong(READERS[order[0]], order[1], end)


@settings(max_examples=100, deadline=None)
@given(st.data(), catalogs())
def test_names_that_are_made_of_each_other_are_never_mistaken(data: st.DataObject, parts: tuple[Part, ...]) -> None:
    """Where all parts are called by the same few words and numbers, a row of marked quantities is read so or asked."""
    reader = OrderReader(Vocabulary(parts))
    text, sku, qty = data.draw(written(MARKED, parts, plainly=True))
    for line in reader.read(text).lines:
        assert not line.sure or (line.sku, line.qty) == (sku, qty), (text, line)


@settings(max_examples=100, deadline=None)
@given(st.lists(written(MARKED, SEED_PARTS), min_size=1, max_size=8))
def test_marked_quantities_are_read_back_the_same(rows: list[Row]) -> None:
    reading = READERS["seed"].read("\n".join(row for row, _, _ in rows))
    assert [(line.sku, line.qty, line.sure) for line in reading.lines] == [(sku, qty, True) for _, sku, qty in rows]


@settings(max_examples=120, deadline=None)
@given(written(DOUBTFUL), written(DOUBTFUL, SEED_PARTS))
def test_what_a_careful_person_would_ask_is_never_sure(row: Row, other: Row) -> None:
    assert not any(line.sure for line in READER.read(row[0]).lines)
    assert not any(line.sure for line in READERS["seed"].read(other[0]).lines)


_SAID = {number: word for word, number in NUMBERS.items()}


def bones(text: str) -> str:
    """The letters and digits of a text alone, without accents and plurals."""
    plain = unicodedata.normalize("NFKD", folded(text))
    return re.sub(r"[^\w]|_", "", plain).replace("ies", "y").replace("es", "").replace("s", "")


def assert_justified(reader: OrderReader, parts: Sequence[Part], text: str) -> None:
    """What is sure names its part somewhere in its row, and its quantity in figures or in words, unless it is one."""
    known = {part.sku: (part.sku, part.name, *part.aliases) for part in parts}
    rows = re.split(r"\r\n|\r|\n", text)
    for line in reader.read(text).lines:
        assert line.sure == (line.asks is None)
        if line.sure:
            row = rows[line.row - 1]
            assert any(bones(name) in bones(row) for name in known[str(line.sku)]), line
            assert line.qty == 1 or str(line.qty) in row or _is_said(int(line.qty or 0), row.casefold()), line


def _is_said(qty: int, row: str) -> bool:
    told = {2: "pair", 12: "dozen"}
    return _SAID.get(qty, "?") in row or told.get(qty, "?") in row


_SCRAPS = st.sampled_from(
    tuple(word for part in PARTS for word in re.split(r"(\W)", f"{part.sku} {part.name}") if word)
    + tuple(" x ,;|\t\n.-()[]?#/*>")
    + (
        "2",
        "0",
        "1.5",
        "1,000",
        "pcs",
        "no",
        "two",
        "dozen",
        "EUR",
        "and",
        "for",
        "each",
        "or",
        "M6",
        "\u00bd",
        "\u0663",
    )
)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(_SCRAPS, max_size=14).map("".join), st.text(alphabet=string.printable + "\u2013\ue000\ue101", max_size=200)
)
def test_any_text_is_read_and_what_is_sure_stands_there(scraps: str, text: str) -> None:
    for one in (scraps, text):
        assert_justified(READER, PARTS, one)


@settings(deadline=None)
@given(st.text(max_size=200), st.binary(max_size=200))
def test_any_signs_and_bytes_are_read(text: str, raw: bytes) -> None:
    for one in (text, raw.decode("latin-1"), raw.decode("utf-16", "replace")):
        assert_justified(READER, PARTS, one)


@pytest.mark.parametrize("sign", [*string.punctuation, "\u2022", "\u2013"])
def test_a_row_of_signs_beside_a_part_is_read(sign: str) -> None:
    """It has no word that could be looked at."""
    for text in (f"2 x HOSE-6\n{sign * 3}", f"{sign * 3}\n2 x HOSE-6", f"2 x HOSE-6\n{sign}\nRAIL-S"):
        assert_justified(READER, PARTS, text)
