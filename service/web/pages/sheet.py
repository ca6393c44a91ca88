"""The assembly sheet as a page that prints on two sides."""

from collections.abc import Mapping
from itertools import groupby
from types import MappingProxyType
from typing import Any

from service.documents.answer import Reason
from service.documents.sheet import Sheet, SheetStep
from service.drawing import draw_rails
from service.drawing.shapes import PartShape
from service.explain.phrases import listed
from service.web.pages.plan import plan_of
from service.web.pages.qr import LONGEST, qr_svg
from service.web.pages.rendering import STYLESHEET_PATH, rendered_page

_KEY_SHOWN = 24


def sheet_page(
    sheet: Sheet,
    *,
    link: str = "",
    stylesheet: str | None = STYLESHEET_PATH,
    shapes: Mapping[str, PartShape] = MappingProxyType({}),
) -> str:
    """The page of a sheet; `link`: its whole address, if any; `stylesheet` None: it is given otherwise; `shapes`: by
    SKU what is known of parts that are drawn.

    An address that is too long for a code to be read from paper does not stand on the paper at all.
    """
    link = link if len(link) <= LONGEST else ""
    titles = {stage["stage"]: stage["title"] for stage in sheet["stages"]}
    key = sheet["key"]
    return rendered_page(
        "sheet.html",
        sheet=sheet,
        stylesheet=stylesheet,
        link=link,
        code=qr_svg(link) if link else "",
        key=key if len(key) <= _KEY_SHOWN else f"{key[:_KEY_SHOWN]}…",
        drawing=draw_rails(sheet["rails"], f"Plan of the rail: {sheet['title']}", shapes=shapes),
        cautions=_cautions(sheet),
        plan=plan_of(sheet["rails"]),
        stages=[
            (titles[stage], [_group(list(alike), sheet["steps"]) for _, alike in groupby(steps, key=_words)])
            for stage, steps in groupby(sheet["steps"], key=lambda step: step["stage"])
        ],
    )


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
