"""What arrives is read in time that grows with its length, whatever it holds."""

from collections.abc import Callable

import pytest
from pydantic import ValidationError

from service.documents.faults import MOST_TOLD, faults_of
from service.documents.nearest import nearest
from service.documents.order import OrderRequest
from service.documents.pointers import pointer_to
from service.documents.strict_json import InvalidJsonError, MalformedJsonError, loads
from tests.support.growth import assert_linear

_LONG = b"9" * 41
_BODIES: dict[str, Callable[[int], bytes]] = {
    "a long integer before quotes that do not end": lambda n: b"[" + _LONG + b'."' + b'\\"' * n,
    "a long integer behind texts": lambda n: b"[" + b'"\\"",' * n + _LONG + b"]",
    "a long number": lambda n: b"[" + b"9" * n + b"." + b"9" * n + b"]",
    "signs": lambda n: b"[" + b"1e+" * n + b"]",
    "deep behind texts": lambda n: b"[" + b'"\\\\",' * n + b"[" * 65 + b"]" * 65 + b"]",
    "brackets": lambda n: b"[" * n,
    "quotes": lambda n: b'"' * n,
    "backslashes": lambda n: b'["' + b"\\" * n,
    "lists": lambda n: b"[" + b"[]," * n + b"1]",
    "a lone surrogate behind escapes": lambda n: b"[" + b'"\\u0041",' * n + b'"\\ud800"]',
    "keys": lambda n: b"{" + b",".join(b'"%d":1' % i for i in range(n)) + b"}",
    "a key again": lambda n: b"{" + b",".join(b'"%d":1' % i for i in range(n)) + b',"0":1}',
    "lines": lambda n: b"\n" * n + b"x",
    "no UTF-8": lambda n: b"a" * n + b"\xff",
}


@pytest.mark.parametrize("name", _BODIES)
def test_json(name: str) -> None:
    """Taken or refused; at most as large as a body may be."""
    made = _BODIES[name]
    assert_linear(loads, made, 100_000 * 2_000 // len(made(2_000)))


def test_the_place_of_a_long_integer_is_told_behind_numbers_that_are_long_too() -> None:
    """Digits of a fraction or an exponent are no integer."""
    with pytest.raises(MalformedJsonError) as caught:
        loads(b"[1." + b"1" * 50 + b", 1e00000000000000000000000000000000000000000001,\n" + _LONG + b"]")
    assert (caught.value.line, caught.value.column) == (2, 1)


def test_an_object_may_have_so_many_members() -> None:
    """Told with its place; without a limit it is taken."""
    raw = b'{"a": [{"b": 1, "c": 2, "d": 3}]}'
    assert loads(raw) == loads(raw, 3)
    with pytest.raises(InvalidJsonError) as caught:
        loads(raw, 2)
    assert (caught.value.pointer, caught.value.found) == ("/a/0", "an object of 3 members")


def test_faults() -> None:
    """The first are told; looking for near names costs nothing for the others."""

    def told(fields: dict[str, int]) -> None:
        with pytest.raises(ValidationError) as caught:
            OrderRequest.model_validate(fields)
        assert len(faults_of(caught.value, model=OrderRequest, most=MOST_TOLD)) == MOST_TOLD

    assert_linear(told, lambda n: {f"n{i}": i for i in range(n)}, 2_000)


def test_pointers_are_cut() -> None:
    """Of keys of any length and number."""
    assert len(pointer_to(["\u00e9" * 500] * 64)) < 800
    assert pointer_to(["a", 1, "b"]) == "/a/1/b"


def test_near_names() -> None:
    """By the length of the name, and by the number of those that are known."""
    assert_linear(lambda name: nearest(name, ["PLUG-8", "LINE-F6"]), lambda n: "PL" * n, 5_000)
    assert_linear(lambda known: nearest("PLUG-9999", known), lambda n: [f"PLUG-{i}" for i in range(n)], 2_000)
