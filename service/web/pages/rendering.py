"""Templates and stylesheets, and the policy under which a browser shows them."""

from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

_WEB = Path(__file__).parents[1]
STATIC = _WEB / "static"
STYLESHEET_PATH = "/static/sheet.css"
DRAWING_STYLES_PATH = "/static/drawing.css"
POLICY = (
    "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Nothing inline, no script at all; `data:` is the empty icon that keeps browsers from asking for one."""


@cache
def _templates() -> Environment:
    return Environment(
        loader=FileSystemLoader(_WEB / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def rendered_page(template: str, **values: Any) -> str:
    """A page from its template; every value is escaped unless it is markup already."""
    return _templates().get_template(template).render(values)


@cache
def stylesheet() -> bytes:
    return (STATIC / "sheet.css").read_bytes()


@cache
def drawing_styles() -> bytes:
    return (STATIC / "drawing.css").read_bytes()
