"""Keys of bills: they hold their content, there is one for one content, and nothing else is taken for a key."""

import json
import tracemalloc
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.documents.request import BillRequest
from service.solver.engine import BillName
from service.usecases.bill_keys import FORMAT, MAX_KEY_CHARS, BillKey, KeyMaker, NoKeyError, decode_key
from tests.support.keys import packed, unpacked

PLAIN = {"chassis": "brook", "layout": "factory"}
WISHES: dict[str, dict[str, Any]] = {
    "no wish": {},
    "numbers": {"power_kw": 91.5, "pump_l_h": 250, "feed_hose_m": 0, "return_hose_m": 2.25, "boost_kpa": 0.1},
    "lists": {"addons": ["blower", "a/b.c-d_e"], "exclude": ["B", "A"]},
    "clearances": {"clearances": [{"spot": "left", "axial_mm": 0.001}, {"spot": "2.top", "across_mm": 60}]},
    "switches": {"in_stock_only": True, "allow_unsold": False, "group_variants": False, "max_price": 0},
    "had parts": {"have": [{"sku": "PLUG-B8", "qty": 2}, {"sku": "PLUG-B8", "qty": 10_000}]},
    "own rail": {
        "own_rail": {
            "top": {"standard": "taper-1/8", "end": "female"},
            "left": {"standard": "boss-8", "end": "male"},
        }
    },
    "words": {"fuel": "e85", "gauge": "1.top", "finish": "bleu \u00e9t\u00e9 \U0001f600 \"'"},
}
BILL = BillName("RAIL-S", 1, "top", {"left": ("A", "B"), "right": (), "top": ("GAUGE-T",)})


def key_of(wishes: dict[str, Any], bill: BillName = BILL, revision: int = 3) -> str:
    return KeyMaker(revision, BillRequest.model_validate(PLAIN | wishes)).key_of(bill)


def content_of(key: str) -> dict[str, Any]:
    """The JSON in a key."""
    content: dict[str, Any] = json.loads(unpacked(key))
    return content


def canonical(content: dict[str, Any]) -> str:
    """A key as the service would pack it, of content that it may never have given."""
    return packed(json.dumps(content, separators=(",", ":"), sort_keys=True).encode())


@pytest.mark.parametrize("wishes", WISHES.values(), ids=WISHES.keys())
def test_round_trip(wishes: dict[str, Any]) -> None:
    """A key holds revision, request and bill, in letters that need no escape in a URL."""
    key = key_of(wishes)
    assert decode_key(key) == BillKey(3, BillRequest.model_validate(PLAIN | wishes), BILL)
    assert set(key) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")


@settings(max_examples=60, deadline=None)
@given(
    revision=st.integers(1, 2**31 - 1),
    bill=st.builds(
        BillName,
        rail=st.text(st.characters(codec="utf-8"), max_size=20),
        placement=st.integers(0, 50),
        gauge=st.none() | st.sampled_from(["top", "2.left"]),
        chains=st.dictionaries(
            st.sampled_from(["left", "1.top", "2.right"]),
            st.lists(st.text(st.characters(codec="utf-8"), max_size=9), max_size=4).map(tuple),
        ),
    ),
    wishes=st.sampled_from(list(WISHES.values())),
)
def test_round_trip_of_any_bill(revision: int, bill: BillName, wishes: dict[str, Any]) -> None:
    """Whatever the names are, the key gives them back."""
    request = BillRequest.model_validate(PLAIN | wishes)
    assert decode_key(KeyMaker(revision, request).key_of(bill)) == BillKey(revision, request, bill)


EARLY_KEYS = {
    "1": (
        "1PY_NasMwEITfZc6KcVxciG4ulFDoqW1OIQhFlWNjOetKcn4wfveuHMhtd_bb2dkJBnKCs3WE3KOCwBsOAr49NUnhMtKQRttqt31f_eAwC5wgF1mA"
        "R2uBv-RxJApRdYOGzDMWTaNDaAOjR0_UMWyc1V6fjWVxP0HfWu1U3yc-z3kjDMQ3H2FmwYDxFMJCvDLyBIosHZ85W23tr2ooWPVwEXD6TmOCam0i-X"
        "vKSFfrVXeF3KyzkvuxH5RTDWRRLjvextGfnz5FVpT8pGeTr-rjc_XNHhfIl_kf"
    ),
    "2": (
        "2g3oBZoAj0GtOyKYgzHB3DHV31Q0BG4U1UJGizUAPKIiwJKkoPz8bqBg9mcAThoGegQEicYAdU6uDko7MgErgCiAhUQt0G0ryACu"
        "BRxY0d6LEpaWhnqkOUqoxMgXrQUtWRnpGptCYDnL09NENhsS3cS0A"
    ),
}
"""Of each format there was, as it was given when parts could not be had yet."""


@pytest.mark.parametrize("key", EARLY_KEYS.values(), ids=EARLY_KEYS)
def test_an_early_key_stays_good(key: str) -> None:
    """A key of each format that there was holds what it held."""
    wishes = WISHES["clearances"] | WISHES["numbers"]
    assert decode_key(key) == BillKey(3, BillRequest.model_validate(PLAIN | wishes), BILL)
    assert content_of(key_of(wishes)) == content_of(key)


def test_contents_have_keys_of_their_own() -> None:
    """Another revision, wish, rail, placement, gauge or chain makes another key."""
    others = [
        BillName("RAIL-T", 1, "top", BILL.chains),
        BillName("RAIL-S", 0, "top", BILL.chains),
        BillName("RAIL-S", 1, None, BILL.chains),
        BillName("RAIL-S", 1, "top", {**BILL.chains, "left": ("B", "A")}),
    ]
    keys = [*map(key_of, WISHES.values()), key_of({}, revision=4), *(key_of({}, bill) for bill in others)]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize(
    "asked",
    [
        {"limit": 1},
        {"order_by": "lead"},
        {"revision": 3},
        {"limit": 100, "order_by": "drop", "revision": 9},
        {"boost_kpa": 0, "gauge": "none", "exclude": [], "max_price": None, "group_variants": True},
    ],
    ids=["limit", "order", "revision", "all three", "defaults told"],
)
def test_what_does_not_make_another_key(asked: dict[str, Any]) -> None:
    """What only sorts and cuts the list, the revision asked for, and defaults said aloud leave the key as it is."""
    assert key_of(asked) == key_of({})


def test_order_of_spots_does_not_make_another_key() -> None:
    """The same chains in another order are the same bill."""
    backwards = BillName("RAIL-S", 1, "top", dict(reversed(BILL.chains.items())))
    assert key_of({}, backwards) == key_of({})


def test_whole_number_for_a_length_is_the_same_content() -> None:
    """90 and 90.0 are one power and one key."""
    assert key_of({"power_kw": 90}) == key_of({"power_kw": 90.0})


GOOD = content_of(key_of({}))
OTHER_CONTENT: dict[str, Any] = {
    "unknown field": GOOD | {"x": 1},
    "revision 0": GOOD | {"v": 0},
    "revision no number": GOOD | {"v": "3"},
    "revision a boolean": GOOD | {"v": True},
    "placement below 0": GOOD | {"p": -1},
    "placement of 5000 digits": json.dumps(GOOD).replace('"p": 1', '"p": ' + "9" * 5_000),
    "placement of 4300 digits": json.dumps(GOOD).replace('"p": 1', '"p": ' + "9" * 4_300),
    "no rail": {name: value for name, value in GOOD.items() if name != "r"},
    "chains a list": GOOD | {"c": []},
    "no parts told as had": GOOD | {"q": PLAIN | {"have": []}},
    "an own rail without spots": GOOD | {"q": PLAIN | {"own_rail": {}}},
    "wish out of range": GOOD | {"q": PLAIN | {"power_kw": -1}},
    "not a number": json.dumps(GOOD | {"q": PLAIN | {"power_kw": float("nan")}}),
    "a default told": GOOD | {"q": PLAIN | {"gauge": "none"}},
    "a limit": GOOD | {"q": PLAIN | {"limit": 5}},
    "a field twice": '{"v":3,' + json.dumps(GOOD)[1:],
    "a list": [],
    "deep nesting": "[" * 40_000,
    "lone surrogate": json.dumps(GOOD | {"r": "\ud800"}),
    "no JSON": "portwright",
    "nothing": "",
}


@pytest.mark.parametrize("content", OTHER_CONTENT.values(), ids=OTHER_CONTENT.keys())
def test_other_content_is_no_key(content: Any) -> None:
    """Well packed, but not what a key holds."""
    plain = content if isinstance(content, str) else json.dumps(content, separators=(",", ":"), sort_keys=True)
    with pytest.raises(NoKeyError):
        decode_key(packed(plain.encode()))


def test_the_wrapping_of_these_tests_is_that_of_keys() -> None:
    """What the test above packs would be taken if its content were right."""
    assert decode_key(canonical(GOOD)).bill == BILL


KEY = key_of({"gauge": "top"})
OTHER_WRAPPING = {
    "empty": "",
    "digit alone": FORMAT,
    "the early format": "1" + KEY[1:],
    "another format": "3" + KEY[1:],
    "padded": KEY + "=" * (-len(KEY[1:]) % 4 or 4),
    "cut short": KEY[:-4],
    "a letter more": KEY + "A",
    "twice": KEY + KEY[1:],
    "a space before": " " + KEY,
    "a line end": KEY + "\n",
    "a line end within": KEY[:9] + "\n" + KEY[9:],
    "a sign within": KEY[:9] + "!" + KEY[9:],
    "a percent within": KEY[:9] + "%" + KEY[9:],
    "letters of plain base64": FORMAT + KEY[1:].replace("-", "+").replace("_", "/") + "+/",
    "no ASCII": FORMAT + "\u00e9\u00e9\u00e9\u00e9",
    "lone surrogate": FORMAT + "\ud800",
    "null": FORMAT + "\x00",
    "too long": FORMAT + "A" * MAX_KEY_CHARS,
    "huge": FORMAT + "A" * 3_000_000,
    "deflate bomb": packed(b" " * 6_000_000),
    "content and a bomb": packed(json.dumps(GOOD).encode() + b" " * 5_000_000),
}


@pytest.mark.parametrize("text", OTHER_WRAPPING.values(), ids=OTHER_WRAPPING.keys())
def test_other_text_is_no_key(text: str) -> None:
    """Garbage, tampering, cut, padded, lengthened or blown up: no key."""
    with pytest.raises(NoKeyError):
        decode_key(text)


def test_the_bombs_are_short_enough_to_be_unpacked() -> None:
    """The length limit is not what stops the bombs above."""
    assert max(len(OTHER_WRAPPING[name]) for name in ("deflate bomb", "content and a bomb")) < MAX_KEY_CHARS


@pytest.mark.parametrize("name", ["huge", "deflate bomb", "content and a bomb"])
def test_a_bomb_takes_little_memory(name: str) -> None:
    """What is too much is refused before it is unpacked: a few hundred kilobytes at most."""
    tracemalloc.start()
    try:
        with pytest.raises(NoKeyError):
            decode_key(OTHER_WRAPPING[name])
        assert tracemalloc.get_traced_memory()[1] < 500_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("level", [0, 1])
def test_packed_otherwise_stays_a_key(level: int) -> None:
    """A key that another deflating library has packed names the same bill."""
    plain = json.dumps(GOOD, separators=(",", ":"), sort_keys=True).encode()
    assert decode_key(packed(plain, level)) == decode_key(packed(plain, 9))


def taken(text: str) -> bool:
    """Whether a text is a key; anything but NoKeyError comes through."""
    try:
        held = decode_key(text)
    except NoKeyError:
        return False
    assert decode_key(KeyMaker(held.revision, held.request).key_of(held.bill)) == held
    return True


@settings(max_examples=150, deadline=None)
@given(st.text() | st.text(st.sampled_from(KEY)).map(FORMAT.__add__) | st.binary().map(packed))
def test_any_text(text: str) -> None:
    """Any text is refused as no key or is the one key of its content."""
    taken(text)


@settings(max_examples=250, deadline=None)
@given(st.integers(0, len(KEY) - 1), st.integers(0, 3), st.text(st.sampled_from(KEY + "=+/ \u00e9"), max_size=3))
def test_mutated_keys(position: int, dropped: int, put: str) -> None:
    """A key with some letters changed is refused, or is the one key of another content."""
    taken(KEY[:position] + put + KEY[position + dropped :])
