"""The assembly sheet as a page that prints on two sides."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Literal

from markupsafe import Markup

from service.documents.answer import Reason
from service.documents.sheet import Sheet, SheetStep
from service.drawing import draw_rails
from service.drawing.shapes import PartShape
from service.explain.phrases import listed
from service.web.pages.pictures import Pictures, shapes_in
from service.web.pages.plan import plan_of
from service.web.pages.qr import LONGEST, qr_svg
from service.web.pages.rendering import STYLESHEET_PATH, Units, inch_first, rendered_page
from service.web.pages.today import Today

_KEY_SHOWN = 24
_PRINTED: tuple[Literal["title", "text", "look_for", "wrong", "then"], ...] = (
    "title",
    "text",
    "look_for",
    "wrong",
    "then",
)
_UNDER_PRESSURE = ("relieve", "disconnect", "leak-check", "heat-check")
"""Stages at which fuel may come out: there it stands open what is wrong, and what then. Elsewhere a touch shows it."""
_LENGTHS = {"roomy": 10_500, "usual": 12_400}
"""Letters up to which a sheet is set so; found by printing."""


@dataclass(frozen=True)
class Beside:
    """What a page has beside its sheet: pictures of parts and of the layout, how things stand today, the units that
    come first, and the address of the page with the other units first."""

    pictures: Pictures | None = None
    layout: Markup | None = None
    today: Today | None = None
    units: Units = "metric"
    other_units: str = ""


_NOTHING = Beside()


def sheet_page(
    sheet: Sheet, *, link: str = "", stylesheet: str | None = STYLESHEET_PATH, beside: Beside = _NOTHING
) -> str:
    """The page of a sheet; `link`: its whole address, if any; `stylesheet` None: it is given otherwise.

    An address that is too long for a code to be read from paper does not stand on the paper at all.
    """
    page = _metric_first(sheet, link if len(link) <= LONGEST else "", stylesheet, beside)
    return inch_first(page) if beside.units == "inch" else page


def _metric_first(sheet: Sheet, link: str, stylesheet: str | None, beside: Beside) -> str:
    titles = {stage["stage"]: stage["title"] for stage in sheet["stages"]}
    key = sheet["key"]
    return rendered_page(
        "sheet.html",
        sheet=sheet,
        stylesheet=stylesheet,
        link=link,
        code=qr_svg(link) if link else "",
        key=key if len(key) <= _KEY_SHOWN else f"{key[:_KEY_SHOWN]}…",
        drawing=draw_rails(sheet["rails"], f"Plan of the rail: {sheet['title']}", shapes=_shapes(sheet, beside)),
        beside=beside,
        length=_length(sheet),
        cautions=_cautions(sheet),
        plan=plan_of(sheet["rails"]),
        stages=[
            {
                "id": stage,
                "title": titles[stage],
                "is_open": stage in _UNDER_PRESSURE,
                "groups": [_group(list(alike), sheet["steps"]) for _, alike in groupby(steps, key=_words)],
            }
            for stage, steps in groupby(sheet["steps"], key=lambda step: step["stage"])
        ],
    )


def _length(sheet: Sheet) -> str:
    """How close its print is set, so that one bank goes on two sides: by the letters that there are to print."""
    if len(sheet["rails"]) > 1:
        return "roomy"
    printed = [*sheet["safety"], *sheet["tools"], *(caution["text"] for caution in sheet["cautions"])]
    printed += [step[name] for step in sheet["steps"] for name in _PRINTED]
    letters = sum(map(len, printed))
    return next((name for name, most in _LENGTHS.items() if letters < most), "long")


def _shapes(sheet: Sheet, beside: Beside) -> Mapping[str, PartShape]:
    """By SKU what is known of the parts that stand at the rails."""
    return {} if beside.pictures is None else shapes_in(beside.pictures, sheet["rails"])


def _cautions(sheet: Sheet) -> list[str]:
    """The cautions of the bill that its power answer does not say; those of port standards as few as may be."""
    asked: dict[str, list[str]] = {}
    for subject, words in filter(None, map(_of_standard, sheet["cautions"])):
        asked.setdefault(subject, []).append(words)
    alike: dict[str, list[str]] = {}
    for subject, each in asked.items():
        alike.setdefault(" ".join(each), []).append(subject)
    told: dict[str, None] = {}
    for caution in sheet["cautions"]:
        own = _of_standard(caution)
        if own is not None:
            together = " ".join(asked[own[0]])
            told[f"{listed(alike[together])}: {together}"] = None
        elif caution["text"] not in sheet["power"]["text"]:
            told[caution["text"]] = None
    return list(told)


def _of_standard(caution: Reason) -> tuple[str, str] | None:
    """The name of a port standard, and what is to be minded where its joints are made."""
    name, colon, words = caution["text"].partition(": ")
    return (name, words) if colon and "standard" in caution["facts"] else None


def _group(alike: list[SheetStep], steps: list[SheetStep]) -> dict[str, Any]:
    """Steps in the same words, which stand once; `as_at`: an earlier step that is checked in the same words."""
    first = alike[0]
    as_at = next(other["number"] for other in steps if _checks(other) == _checks(first))
    return {
        "steps": alike,
        "text": _text(first, steps),
        "look_for": first["look_for"],
        "wrong": first["wrong"],
        "then": first["then"],
        "as_at": as_at if as_at != first["number"] else None,
    }


def _text(step: SheetStep, steps: list[SheetStep]) -> str:
    """The words of a step; how a joint is made up stands at the first that is made up so."""
    make_up = step["make_up"]
    first = next(other["number"] for other in steps if other["make_up"] == make_up)
    if make_up is None or first == step["number"]:
        return step["text"]
    return step["text"].replace(make_up, f"Make it up as at step {first}.")


def _words(step: SheetStep) -> tuple[str, tuple[str, str, str]]:
    return step["text"], _checks(step)


def _checks(step: SheetStep) -> tuple[str, str, str]:
    return step["look_for"], step["wrong"], step["then"]
