"""Orders by a random grammar of habits: read exactly or asked back, never sure and wrong; any text at all is read."""

import string

from hypothesis import given, settings
from hypothesis import strategies as st

from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary
from tests.reading.orders import PARTS, READER

TEMPLATES = (
    *("{q} x {s}", "{q}x {s}", "{q}x{s}", "{s} x{q}", "{s} x {q}", "{s}\t{q}", "{s};{q}", "{q},{s}", "{s} {q} pcs"),
    *("{q} off {s}", "{s} ({q})", "({q}) {s}", "{s} [{q}]", "qty {q} {s}", "{s}, qty: {q}", "{q}Stk {s}", "{q}er {s}"),
    *(
        "{s}: {q}",
        "{s} - {q}",
        "{q} {s}",
        "{s} {q}",
        "- {q} {s}",
        "> {q} x {s}",
        "please send {q} {s}",
        "{q} of the {s}",
    ),
    *("Pos 7: {q} x {s}", "{s} {q} ea @ 12.50", "{s} EUR 12.50 x {q}", "{q} pieces of {s}", "{s} | {q} | 12,50"),
)
ALWAYS_SURE = ("{q} x {s}", "{q}x {s}", "{s} x {q}", "{q} pcs {s}", "{s} ({q})", "{s}\t{q} pcs")
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
        "{q}00000 {s}",
    ),
)
DASHES = "-\u2013\u2014\u2011_ "
CASES = (str, str.upper, str.lower, str.title)


@st.composite
def written(draw: st.DrawFn, templates: tuple[str, ...], parts: tuple[Part, ...] = PARTS) -> tuple[str, str, int]:
    """A row by a habit, and what it means."""
    part = draw(st.sampled_from(parts))
    called = draw(st.sampled_from((part.sku, part.name, *part.aliases)))
    qty = draw(st.one_of(st.integers(1, 12), st.integers(1, 1000)))
    name = draw(st.sampled_from(CASES))(called).replace("-", draw(st.sampled_from(DASHES)))
    return draw(st.sampled_from(templates)).format(s=name, q=qty), part.sku, qty


@settings(max_examples=150)
@given(st.lists(written(TEMPLATES), min_size=1, max_size=6), st.sampled_from(["\n", "\r\n", "\n\n"]))
def test_an_order_is_read_exactly_or_asked_back(rows: list[tuple[str, str, int]], end: str) -> None:
    step = 2 if end == "\n\n" else 1
    meant = {step * place + 1: (sku, qty) for place, (_, sku, qty) in enumerate(rows)}
    reading = READER.read(end.join(row for row, _, _ in rows))
    for line in reading.lines:
        assert not line.sure or (line.sku, line.qty) == meant[line.row]
    assert {line.row for line in reading.lines} | {row for row, _ in reading.unread} == set(meant)


@settings(max_examples=150)
@given(written(DOUBTFUL))
def test_what_a_careful_person_would_ask_is_never_sure(row: tuple[str, str, int]) -> None:
    assert not any(line.sure for line in READER.read(row[0]).lines)


PLAIN = tuple(
    Part(f"{kind}-{size}-{end}", f"{kind} of size {size}, {end}")
    for kind in ("valve", "elbow")
    for size in (6, 8)
    for end in ("satin", "dull")
)
PLAIN_READER = OrderReader(Vocabulary(PLAIN))


@settings(max_examples=150)
@given(st.lists(written(ALWAYS_SURE, PLAIN), min_size=1, max_size=5))
def test_a_catalog_whose_names_are_apart_is_read_whole(rows: list[tuple[str, str, int]]) -> None:
    reading = PLAIN_READER.read("\n".join(row for row, _, _ in rows))
    assert [(line.sku, line.qty, line.sure) for line in reading.lines] == [(sku, qty, True) for _, sku, qty in rows]


@settings(max_examples=100)
@given(st.text(max_size=200), st.text(alphabet=string.printable + "\u00bd\u0663\u2013\ue000\ue101", max_size=200))
def test_any_text_is_read_and_none_of_its_noise_is_sure(text: str, more: str) -> None:
    for one in (text, more):
        reading = READER.read(one)
        assert all(not line.sure or line.sku in {part.sku for part in PARTS} for line in reading.lines)
        assert all(line.sure == (line.asks is None) for line in reading.lines)


@given(st.binary(max_size=200))
def test_bytes_are_never_sure(raw: bytes) -> None:
    assert not any(line.sure for line in READER.read(raw.decode("latin-1")).lines if line.sku not in ("4711", "RAIL-S"))
