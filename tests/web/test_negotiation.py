"""The header Accept: which media type is answered in, or that none is."""

from contextlib import suppress

import pytest
from fastapi import Request
from hypothesis import given
from hypothesis import strategies as st

from service.web.errors import NotAcceptableError
from service.web.negotiation import negotiated

JSON, HTML, PDF = "application/json", "text/html", "application/pdf"
OFFERED = (JSON, HTML, PDF)
BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8"


def _asked(*lines: str) -> Request:
    return Request({"type": "http", "headers": [(b"accept", line.encode("latin-1")) for line in lines]})


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        ((), JSON),
        (("",), JSON),
        (("*/*",), JSON),
        ((JSON,), JSON),
        ((HTML,), HTML),
        (("TEXT/HTML",), HTML),
        ((PDF,), PDF),
        ((BROWSER,), HTML),
        (("text/*",), HTML),
        (("application/*",), JSON),
        (("text/html, application/json",), JSON),
        (("text/html, */*",), HTML),
        (("text/html;q=0.5, application/pdf",), PDF),
        (("text/html; q=0.5 , application/pdf;Q=0.4",), HTML),
        (("application/*;q=0.9, application/json;q=0.1",), PDF),
        (("*/*;q=0.1, application/json;q=0",), HTML),
        (("text/html;charset=utf-8",), HTML),
        (("text/html;level=1;q=0.3, application/json;q=0.2",), HTML),
        (("image/png", "text/html"), HTML),
        (("nonsense",), JSON),
        (("text/html;q=2, application/pdf;q=0.1",), PDF),
        (("text/html;q=x",), JSON),
        ((",, ,text/html,",), HTML),
        (("application/json;q=0.001, text/html;q=0.002",), HTML),
    ],
)
def test_the_best_liked_is_taken(accept: tuple[str, ...], expected: str) -> None:
    """By weight, then by how closely it is named, then in the order of what is offered."""
    assert negotiated(_asked(*accept), OFFERED) == expected


@pytest.mark.parametrize(
    "accept", ["image/png", "*/*;q=0", "application/xml", "text/html;q=0", "*/json", "text/html;q=0.0, image/*"]
)
def test_none_of_them_is_refused(accept: str) -> None:
    """The error has what was asked for and what there is."""
    with pytest.raises(NotAcceptableError) as refused:
        negotiated(_asked(accept), OFFERED)
    assert (refused.value.found, refused.value.offered, refused.value.missing) == (accept, OFFERED, None)


def test_what_this_installation_lacks_is_told() -> None:
    """Only to whom it would have helped."""
    missing = {PDF: "It takes more."}
    with pytest.raises(NotAcceptableError) as refused:
        negotiated(_asked(PDF), (JSON,), missing)
    assert refused.value.missing == "It takes more."
    with pytest.raises(NotAcceptableError) as refused:
        negotiated(_asked("image/png"), (JSON,), missing)
    assert refused.value.missing is None
    assert negotiated(_asked(f"{PDF}, {JSON};q=0.1"), (JSON,), missing) == JSON


@given(st.text(st.characters(min_codepoint=32, max_codepoint=255), max_size=60))
def test_any_header_is_answered_or_refused(accept: str) -> None:
    """Nothing that can be sent is an unexpected error."""
    with suppress(NotAcceptableError):
        assert negotiated(_asked(accept), OFFERED) in OFFERED
