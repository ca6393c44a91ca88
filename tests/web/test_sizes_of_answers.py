"""Whatever is sent, what is answered to it stays small: the first faults, a count of the others, values cut short."""

import json
import random
import string
from typing import Any
from urllib.parse import quote, urlencode

import httpx
import pytest
from fastapi import FastAPI

from service.documents.faults import MOST_TOLD
from service.usecases.library import Library
from service.web.app import create_app
from tests.web.calls import ask, call, get, problem
from tests.web.conftest import QUESTION, checks_of, inquiries_of, links_of

MOST_BYTES = 64 * 1024
_PATHS = (
    *("/v1/bills", "/v1/items", "/v1/health/live", "/v1/chassis/brook/layouts", "/v1/chassis/brook/drop-curves"),
    *("/v1/problems/x", "/openapi.json", "/ask", "/order", "/catalog", "/catalog/PLUG-8", "/drop-curves"),
)
_POSTED = ("/v1/bills", "/v1/explain", "/v1/joints", "/v1/order-checks", "/v1/inquiries")
_IS_JSON = {"Content-Type": "application/json"}
_SIGNS = string.printable + "\u00e9\u202e\0\x7f\ud83d\ude00" + "\"'<>&%\\" * 5


@pytest.fixture(scope="module", name="everything")
def _everything(library: Library) -> FastAPI:
    return create_app(library, checks_of(library), kept_inquiries=inquiries_of(library), links=links_of(library))


def _held(response: httpx.Response) -> httpx.Response:
    assert response.status_code != 500
    if response.status_code >= 400:
        assert len(response.content) < MOST_BYTES
    assert len(response.content) < 200_000
    return response


def _faults(response: httpx.Response, count: int) -> None:
    """The first are told, and how many there are besides."""
    found = problem(_held(response), 422, "invalid-request")
    assert len(found["errors"]) == MOST_TOLD
    assert found["more"] == count - MOST_TOLD
    assert f"{count - 3} more" in found["detail"]


def test_many_unknown_names_of_a_query(everything: FastAPI) -> None:
    """Of each operation; the pages that take whatever comes tell what is too much."""
    names = "&".join(f"n{number}=1" for number in range(199))
    for path in ("/v1/items", "/v1/health/live", "/openapi.json"):
        _faults(get(everything, f"{path}?{names}"), 199)
    _faults(get(everything, f"/v1/bills?chassis=brook&{names}"), 200)
    _faults(get(everything, "/v1/items?" + "&".join(f"n{number}=1&n{number}=2" for number in range(100))), 200)
    for path in ("/v1/items", "/v1/health/live", "/ask", "/nothing"):
        [fault] = problem(_held(get(everything, f"{path}?{names}&a&b")), 422, "invalid-request")["errors"]
        assert fault["found"] == "201 parameters"


def test_many_faults_of_a_body(everything: FastAPI) -> None:
    """Fields that are not known are counted; an object with more of them than any has is told as a whole."""
    _faults(ask(everything, QUESTION | {f"n{number}": 1 for number in range(40)}), 40)
    _faults(ask(everything, QUESTION | {"have": [{"sku": "", "qty": 0, "more": 1}] * 50}), 150)
    _faults(ask(everything, QUESTION | {"exclude": [f"none-{number}" for number in range(200)]}), 200)
    wide = {f"name{number}": number for number in range(15_000)}
    for body, pointer in ((QUESTION | wide, "#"), (QUESTION | {"own_rail": wide}, "#/own_rail")):
        [fault] = problem(_held(ask(everything, body)), 422, "invalid-request")["errors"]
        assert (fault["pointer"], fault["found"][:9]) == (pointer, "an object")
    own = ",".join(f"left{number}:boss-8:female" for number in range(300))
    _held(get(everything, f"/v1/bills?chassis=brook&layout=factory&own_rail={own}"))
    deep: Any = float("nan")
    for _ in range(60):
        deep = {"\u00e9" * 500: deep}
    _held(ask(everything, json.dumps(deep).encode()))


def test_no_problem_has_more_without_more(everything: FastAPI) -> None:
    """The member is left out where every fault is told."""
    assert "more" not in ask(everything, QUESTION | {"limit": 0}).json()


def _nonsense(rng: random.Random, length: int) -> str:
    few = rng.sample(_SIGNS, rng.choice([1, 2, 5, 50]))
    return "".join(rng.choices(few, k=rng.randrange(1, length)))


@pytest.mark.parametrize("path", _PATHS)
def test_nonsense_in_addresses(everything: FastAPI, path: str) -> None:
    """In the names and values of a query, and behind the path."""
    rng = random.Random(path)
    known = [
        "chassis",
        "layout",
        "lines",
        "q",
        "car",
        "have",
        "exclude",
        "own_rail",
        "sets",
        "fuel",
        "clearances",
        "mend",
    ]
    known += ["power_hp", "price_cap", "room.left.axial_mm", "revision", "cursor", "kind", "limit", "finish", "cars"]
    for length in (10, 300, 8_000):
        few = rng.sample(known, 4)
        pairs = [(name, _nonsense(rng, length)) for name in few]
        pairs += [(_nonsense(rng, length), _nonsense(rng, length))]
        text = "&".join(urlencode([pair], errors="replace") for pair in pairs)[:60_000]
        _held(get(everything, f"{path}?{text}"))
        _held(get(everything, f"{path}?chassis=brook&layout=factory&{text}"))
        _held(get(everything, f"{path}/{quote(_nonsense(rng, length), errors='replace')[:60_000]}"))


@pytest.mark.parametrize(
    ("path", "name"),
    [
        *(("/order", name) for name in ("chassis", "sets")),
        *(("/ask", "car"), ("/ask", "chassis"), ("/ask", "layout")),
        *(("/catalog", "q"), ("/catalog/PLUG-8", "car")),
    ],
)
@pytest.mark.parametrize("sign", ["'", "9", "&", "\n", "a \n", "br "])
def test_one_field_of_a_page_filled_to_its_end(everything: FastAPI, path: str, name: str, sign: str) -> None:
    """What the page shows of it does not grow with it, however it has to be written."""
    for count in (1_000, 30_000):
        text = quote(sign) * count
        for more in ("", "&chassis=b", "&chassis=brook&layout=factory"):
            _held(get(everything, f"{path}?{name}={text[:60_000]}{more}"))


@pytest.mark.parametrize("path", _POSTED)
def test_nonsense_in_bodies(everything: FastAPI, path: str) -> None:
    """In fields that are known and in others, as values of any kind."""
    rng = random.Random(path)
    for length in (5, 200, 3_000):
        body: dict[str, Any] = {_nonsense(rng, length): _nonsense(rng, length) for _ in range(30)}
        for name in ("chassis", "layout", "request", "lines", "exclude", "a", "sku", "contact"):
            text = _nonsense(rng, length)
            body[name] = rng.choice([text, [text] * 40, {"sku": dict(body)}, 1e300, None])
        _held(call(everything, "POST", path, content=json.dumps(body).encode(), headers=_IS_JSON))
        headers = {"Content-Type": _nonsense(rng, length).encode("ascii", "ignore").decode().translate(_NO_CONTROLS)}
        _held(call(everything, "POST", path, content=b"{}", headers=headers))


_NO_CONTROLS = dict.fromkeys((*range(32), 127))
