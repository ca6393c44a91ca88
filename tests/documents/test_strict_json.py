"""JSON taken strictly: hostile bodies are told what is wrong with them, and where."""

import json
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.documents.strict_json import InvalidJsonError, JsonError, MalformedJsonError, loads

JSON_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**39), 10**39)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=20,
)

MALFORMED = {
    "empty": (b"", "nothing at all", 1, 1),
    "blank": (b" \n ", "nothing at all", 2, 2),
    "no JSON": (b"hello", "a value is missing", 1, 1),
    "cut off": (b'{"a": [1,\n 2', "a comma or a closing bracket", 2, 3),
    "unended text": (b'{"a": "b', "the text that starts here", 1, 7),
    "single quotes": (b"{'a': 1}", "a key in double quotes", 1, 2),
    "no colon": (b'{"a" 1}', "the colon after a key", 1, 6),
    "trailing words": (b"{} {}", "something follows", 1, 4),
    "doubled comma": (b"[1,,2]", "a value is missing", 1, 4),
    "control character": (b'["a\x01b"]', "a control character", 1, 4),
    "unknown escape": (b'["\\q"]', "a backslash", 1, 3),
    "half an escape": (b'["\\u12"]', "\\u must be followed", 1, 4),
    "bad UTF-8": (b'{"a":\n "\xff"}', "bytes that are not UTF-8", 2, 3),
    "cut UTF-8": (b'"\xc3', "bytes that are not UTF-8", 1, 2),
    "UTF-16": ('{"a": 1}'.encode("utf-16"), "bytes that are not UTF-8", 1, 1),
    "encoded surrogate": (b'"\xed\xa0\x80"', "bytes that are not UTF-8", 1, 2),
    "NUL": (b"\x00", "a value is missing", 1, 1),
    "65 lists deep": (b"[" * 65 + b"]" * 65, "nesting deeper than 64", 1, 65),
    "65 deep, brackets in text": (b'["[[[",\n' + b"[" * 64 + b"]" * 64 + b"]", "nesting deeper", 2, 64),
    "100 000 lists deep": (b"[" * 100_000, "nesting deeper than 64", 1, 65),
    "100 000 closed": (b"[" * 100_000 + b"]" * 100_000, "nesting deeper than 64", 1, 65),
    "100 000 objects deep": (b'{"a":' * 100_000 + b"1" + b"}" * 100_000, "nesting deeper than 64", 1, 321),
    "41 digits": (b'{"a": "' + b"1" * 50 + b'",\n"b": ' + b"9" * 41 + b"}", "an integer of more", 2, 6),
    "5000 digits": (b"-" + b"9" * 5000, "an integer of more than 40 digits", 1, 1),
}  # fmt: skip

INVALID = {
    "NaN": (b'{"a": [1, NaN]}', "/a/1", "NaN"),
    "Infinity": (b"Infinity", "", "Infinity"),
    "-Infinity": (b"[-Infinity]", "/0", "-Infinity"),
    "1e400": (b'{"a": 1e400}', "/a", "1e400"),
    "-1e400": (b'{"a": -1e400}', "/a", "-1e400"),
    "a long overflow": (b"[" + b"9" * 500 + b".0]", "/0", "9" * 59 + "…"),
    "key twice": (b'{"a": {"b": 1, "b": 1}}', "/a/b", 'the key "b" more than once'),
    "key twice, written in two ways": (b'{"a": 1, "\\u0061": 2}', "/a", 'the key "a" more than once'),
    "key twice with a slash": (b'{"a/b": 1, "a/b": 2}', "/a~1b", 'the key "a/b" more than once'),
    "lone high surrogate": (b'{"a": ["\\ud800"]}', "/a/0", 'a lone surrogate in "\\ud800"'),
    "lone low surrogate": (b'["x", "\\udc00y"]', "/1", 'a lone surrogate in "\\udc00y"'),
    "surrogates the wrong way round": (b'["\\udc00\\ud800"]', "/0", 'a lone surrogate in "\\udc00\\ud800"'),
    "surrogate in a key": (b'{"\\ud800": 1}', "/?", 'a lone surrogate in "\\ud800"'),
    "surrogate in a str": ('["\ud800"]', "/0", 'a lone surrogate in "\\ud800"'),
    "the first of several": (b'[NaN, {"a": 1, "a": 2}, "\\ud800"]', "/0", "NaN"),
}  # fmt: skip


@pytest.mark.parametrize(("raw", "reason", "line", "column"), MALFORMED.values(), ids=MALFORMED.keys())
def test_malformed(raw: bytes, reason: str, line: int, column: int) -> None:
    """What is not JSON is told with its reason, line and column."""
    with pytest.raises(MalformedJsonError) as caught:
        loads(raw)
    assert caught.value.found.startswith(reason)
    assert (caught.value.line, caught.value.column) == (line, column)


@pytest.mark.parametrize(("raw", "pointer", "found"), INVALID.values(), ids=INVALID.keys())
def test_invalid(raw: bytes | str, pointer: str, found: str) -> None:
    """What parses but must be refused is told with its pointer."""
    with pytest.raises(InvalidJsonError) as caught:
        loads(raw)
    assert (caught.value.pointer, caught.value.found) == (pointer, found)


@pytest.mark.parametrize(
    "raw",
    [
        *(row[0] for row in MALFORMED.values()),
        *(row[0] for row in INVALID.values()),
        b'{"\\u0001": "' + b"a" * 9999,
        b'{"' + b"k" * 9999 + b'": NaN}',
        b'{"\\u0007": NaN, "\\ud800": "' + b"\xe2\x80\xae" * 99 + b'"}',
    ],
)
def test_messages_are_short_and_printable(raw: bytes | str) -> None:
    """No message echoes much of the body, nor a surrogate or control character."""
    with pytest.raises(JsonError) as caught:
        loads(raw)
    for text in (str(caught.value), caught.value.found, caught.value.expected):
        assert text.isprintable()
        assert len(text) < 300


@pytest.mark.parametrize(
    ("raw", "value"),
    [
        pytest.param(b'{"a": [1, 2.5, true, null, "x"]}', {"a": [1, 2.5, True, None, "x"]}, id="all kinds"),
        pytest.param(b"[" * 64 + b"]" * 64, eval("[" * 64 + "]" * 64), id="64 deep"),
        pytest.param(b"[" + b"[]," * 999 + b"[]]", [[]] * 1000, id="wide"),
        pytest.param(b"9" * 40, int("9" * 40), id="40 digits"),
        pytest.param(b"-" + b"9" * 40, -int("9" * 40), id="40 digits and a sign"),
        pytest.param(b"1e308", 1e308, id="largest power of ten"),
        pytest.param(b"1e-400", 0.0, id="underflow is nothing"),
        pytest.param(b'"\\ud83d\\ude00"', "\U0001f600", id="a pair of surrogates"),
        pytest.param(b'\xef\xbb\xbf{"a": 1}', {"a": 1}, id="byte order mark"),
        pytest.param(b'{"": 1, " ": 2}', {"": 1, " ": 2}, id="empty key"),
    ],
)
def test_taken(raw: bytes, value: object) -> None:
    """Ordinary JSON is taken, up to the limits."""
    assert loads(raw) == value


@given(JSON_VALUES)
def test_agrees_with_the_standard_parser(value: object) -> None:
    """What the standard writer writes comes back equal, as bytes and as text, escaped or not."""
    for escaped in (True, False):
        text = json.dumps(value, ensure_ascii=escaped)
        assert loads(text) == value
        assert loads(text.encode()) == value


@given(st.binary(max_size=60) | st.text('[]{}",:\\u0d8aeNInf-1.9 \n\ud800', max_size=60))
def test_raises_nothing_else(raw: bytes | str) -> None:
    """Any bytes or text give finite JSON or a JSON error."""
    with suppress(JsonError):
        json.dumps(loads(raw), allow_nan=False, ensure_ascii=False).encode()
