"""The details of one answer held against each other, and a full one against that of earlier code."""

import json
import re
from collections.abc import Iterator
from typing import Any

import orjson
from pydantic import TypeAdapter
from pydantic_core import to_json

from service.documents.found import AnswerInDetail, BriefAnswer, FoundAnswer
from service.documents.request import BillRequest
from service.usecases.bill_keys import decode_key
from service.usecases.find_bills import found_in
from service.usecases.library import Edition
from tests.support.found import spelt_out

Json = dict[str, Any]
_MODEL: TypeAdapter[BriefAnswer | FoundAnswer] = TypeAdapter(AnswerInDetail)
_SPOTS = re.compile(r"the ([^ ]+(?:(?:, | and )[^ ]+)+) spots\b")
_WHOLE = ("key", "price", "pieces", "lead_days", "duties", "chains", "extras")


def faults(edition: Edition, question: BillRequest) -> Iterator[str]:
    """What of the answer to a question is not of its model, or says in less detail what it does not say in full."""
    told = {}
    for detail in ("brief", "reasons", "full"):
        document = found_in(edition, question, detail)
        _MODEL.validate_python(document, strict=True)
        written = orjson.dumps(document)
        if written != to_json(document):
            yield f"{detail}: what is sent is not the document"
        told[detail] = json.loads(written)
    brief, reasons, full = told.values()
    whole = spelt_out(full["bills"])
    yield from _faults_of_reasons(spelt_out(reasons["bills"]), whole)
    yield from _faults_of_brief(brief, whole)
    for name in ("total_valid", "conflicts", "repairs", "more"):
        if not brief[name] == reasons[name] == full[name]:
            yield f"{name} differs"
    for name in ("ruled_out", "stories", "safety"):
        if reasons[name] != full[name]:
            yield f"reasons: {name} differs"
    for less in (reasons, brief):
        for one, other in zip(less["alternatives"], full["alternatives"], strict=True):
            if not _is_within(one, other):
                yield f"{less['detail']}: an alternative differs"


def _faults_of_reasons(bills: list[Json], whole: list[Json]) -> Iterator[str]:
    for bill, full in zip(bills, whole, strict=True):
        for line, other in zip(bill["lines"], full["lines"], strict=True):
            if _texts(line["reasons"]) != _texts(other["reasons"]) or not _is_within(_bare(line), other):
                yield f"reasons: the line of {line['sku']} differs"
        if _texts(bill["cautions"]) != _texts(full["cautions"]):
            yield "reasons: cautions differ"
        if _texts(bill["sound"]) != _texts([one for one in full["checks"] if one["verdict"] == "ok"]):
            yield "reasons: sound checks differ"
        if not all(bill[name] == full[name] for name in _WHOLE) or bill["flow"]["paths"] != full["flow"]["paths"]:
            yield "reasons: a figure differs"
        if not _is_within(bill["power"], full["power"]):
            yield "reasons: the power differs"


def _faults_of_brief(brief: Json, whole: list[Json]) -> Iterator[str]:
    for bill, full in zip(brief["bills"], whole, strict=True):
        lines = [brief["lines"][place] for place in bill["lines"]]
        named = [line | {"name": brief["parts"][line["sku"]]["name"]} for line in lines]
        if not all(_is_within(line, other) for line, other in zip(named, full["lines"], strict=True)):
            yield "brief: a line differs"
        if bill["cautions"] != len(full["cautions"]):
            yield "brief: the number of cautions differs"
        if not _is_within(_bare(bill), full):
            yield "brief: a figure differs"


def _bare(told: Json) -> Json:
    return {name: one for name, one in told.items() if name not in ("reasons", "repeats", "lines", "cautions")}


def _texts(said: list[Json]) -> set[str]:
    """All that is said, each spot by itself."""
    return {text for one in said for text in _at_each_spot(one["text"])}


def _at_each_spot(text: str) -> list[str]:
    named = _SPOTS.search(text)
    if named is None:
        return [text]
    return [_SPOTS.sub(f"the {spot} spot", text) for spot in re.split(", | and ", named[1])]


def _is_within(less: Any, more: Any) -> bool:
    """Whether a document is another one with members left out."""
    if isinstance(less, dict):
        return isinstance(more, dict) and all(
            name in more and _is_within(one, more[name]) for name, one in less.items()
        )
    if isinstance(less, list):
        return len(less) == len(more) and all(map(_is_within, less, more))
    return bool(less == more)


def differences(earlier: Json, now: Json) -> Iterator[str]:
    """Where a full answer is not what earlier code gave; keys hold the same, whatever their format."""
    for one, other in zip(earlier["bills"], now["bills"], strict=False):
        if decode_key(one["key"]) == decode_key(other["key"]):
            one["key"] = other["key"]
    yield from _differences(earlier, now, "")


def _differences(one: Any, other: Any, place: str) -> Iterator[str]:
    if isinstance(one, dict) and isinstance(other, dict):
        for name in dict.fromkeys([*one, *other]):
            yield from _differences(one.get(name), other.get(name), f"{place}/{name}")
    elif isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for index, pair in enumerate(zip(one, other, strict=True)):
            yield from _differences(*pair, f"{place}/{index}")
    elif one != other:
        yield f"{place}: earlier {str(one)[:80]}, now {str(other)[:80]}"
