"""Templates and the files beside them, and the policies under which a browser shows a page."""

import re
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any, Literal

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from service.domain import units
from service.domain.money import priced
from service.web.pages.ask import unmistakable
from service.web.pages.power import carried, in_short, most, standing, stop

Units = Literal["metric", "inch"]
"""Which stand first wherever both are told."""

_WEB = Path(__file__).parents[1]
STATIC = _WEB / "static"
STYLESHEET_PATH = "/static/sheet.css"
DRAWING_STYLES_PATH = "/static/drawing.css"
POLICY = (
    "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""Of a sheet: nothing inline, no script at all; `data:` is the empty icon that keeps browsers from asking for one."""
PAGE_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src data:; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
"""Of a page of the counter: its own script and forms, nothing inline, nothing of anybody else's."""

_TWO_UNITS = re.compile(r"(?P<metric>-?[\d.]+ (?:mm|m|kPa|L/h|m/s|kW|N·m|kN|°C)) \((?P<inch>-?[\d.]+ [^()\d]+)\)")

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
MINUS = "\u2212"
_LEFT = re.compile(r"([\d.]+) mm left\b")
"""What is left at a spot of a drawing, where there is no room for both units."""


@cache
def _templates() -> Environment:
    made = Environment(
        loader=FileSystemLoader(_WEB / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters |= {"priced": priced, "measured": _measured, "power": units.power}
    made.filters |= {"pressure": units.pressure, "mm": units.length, "money": money, "dearer": dearer}
    made.filters |= {"carried": carried, "most": most, "stop": stop, "standing": standing, "in_short": in_short}
    made.filters |= {"unmistakable": unmistakable, "moment": moment}
    return made


def rendered_page(template: str, **values: Any) -> str:
    """A page from its template; every value is escaped unless it is markup already."""
    return _templates().get_template(template).render(values)


def dearer(minor_units: int, currency: str) -> str:
    """How much more something costs than another, as a column has room for it."""
    if not minor_units:
        return "the same"
    return f"{'+' if minor_units > 0 else MINUS}{priced(abs(minor_units), currency).partition(' ')[2]}"


def moment(iso: str, *, day_only: bool = False) -> Markup:
    """A moment as people write it, with the one that machines read beside it."""
    at = datetime.fromisoformat(iso).astimezone(UTC)
    told = f"{at.day} {_MONTHS[at.month - 1]} {at.year}" + ("" if day_only else f", {at:%H:%M} UTC")
    return Markup('<time datetime="{}">{}</time>').format(at.isoformat(timespec="seconds"), told)


def money(minor_units: int, currency: str) -> Markup:
    """An amount with its currency as a unit, which stands smaller than the figure."""
    unit, _, figure = priced(minor_units, currency).partition(" ")
    return Markup('<span class="money"><span class="unit">{}</span> {}</span>').format(unit, figure)


@pass_context
def _measured(context: Context, words: str) -> str:
    """Words, or a part of a page, with the reader's own unit first wherever both stand."""
    if context.get("units") != "inch":
        return words
    return Markup(inch_first(words)) if isinstance(words, Markup) else inch_first(words)  # noqa: S704 was markup before


def inch_first(words: str) -> str:
    """`29 mm (1.14 in)` as `1.14 in (29 mm)`, wherever it stands in the words."""
    return _LEFT.sub(_inches_left, _TWO_UNITS.sub(r"\g<inch> (\g<metric>)", words))


def _inches_left(found: re.Match[str]) -> str:
    return f"{units.inches(float(found[1]))} left"


@cache
def static_file(name: str) -> bytes:
    """A file of the pages by its name."""
    return (STATIC / name).read_bytes()


def stylesheet() -> bytes:
    """The stylesheet of the assembly sheet."""
    return static_file("sheet.css")
