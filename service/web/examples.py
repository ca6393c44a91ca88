"""Real examples for the OpenAPI document: the use cases run on a small catalog that ships beside this module."""

from functools import cache
from pathlib import Path
from typing import Any

from pydantic_core import to_jsonable_python

from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.usecases.browse import chassis_layouts
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition


@cache
def edition() -> Edition:
    """The example catalog as revision 1."""
    return Edition(1, load_catalog(Path(__file__).with_name("example_catalog.json")))


@cache
def question() -> dict[str, Any]:
    """A question that the example catalog answers: its first chassis and first layout, one bill wanted."""
    catalog = edition().catalog
    return {"chassis": catalog.chassis[0].id, "layout": catalog.layouts[0].id, "gauge": "none", "limit": 1}


@cache
def answer() -> dict[str, Any]:
    """The answer to that question."""
    return dict(answer_in(edition(), BillRequest.model_validate(question())))


def recalled() -> dict[str, Any]:
    """The first bill of that answer, recalled by its key."""
    told = answer()
    return {name: told[name] for name in ("revision", "currency", "safety")} | {"bill": told["bills"][0]}


def detail(section: str) -> dict[str, Any]:
    """The first document of a section."""
    return {"revision": 1, "result": documents(section)[0]}


def page(section: str) -> dict[str, Any]:
    """The first page of a section, one entry long."""
    return {"revision": 1, "results": documents(section)[:1]}


def documents(section: str) -> list[Any]:
    """The documents of a section as plain JSON."""
    plain: list[Any] = to_jsonable_python(getattr(edition().catalog, section), exclude_none=True)
    return plain


def layouts() -> dict[str, Any]:
    """The layouts of the first chassis."""
    chassis = edition().catalog.chassis[0].id
    return {
        "revision": 1,
        "currency": edition().catalog.maker.currency,
        "chassis": chassis,
        "layouts": chassis_layouts(edition(), chassis),
    }
