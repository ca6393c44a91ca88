"""The seed catalog in German: the same answers to the standing cases, but for the words."""

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.explain import ExplainRequest
from service.documents.joint import JointQuestion
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.tongue import Tongue, speaking
from service.explain.tongues import tongue_of
from service.usecases.browse import chassis_layouts
from service.usecases.check_order import check_order
from service.usecases.edition import Edition
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in, found_in
from service.usecases.join import join_in

CASES = json.loads((Path(__file__).parents[2] / "seed_data" / "contract_cases.json").read_text())
REQUESTS = [case["request"] for case in CASES if "request" in case]
WORDS = {"text", "name", "summary", "why", "safety"}
"""The fields whose texts are worded; all else is the same in both languages."""
_ENGLISH = re.compile(r"\b(the|is|are|of|and|with|for|that|to|not|no|from|by|it)\b")

Family = Callable[[Edition, dict[str, Any]], Any]
FAMILIES: dict[str, tuple[Family, slice]] = {
    "bills in full": (lambda edition, asked: found_in(edition, _request(asked), "full"), slice(0, None, 6)),
    "bills with reasons": (lambda edition, asked: found_in(edition, _request(asked), "reasons"), slice(0, None, 3)),
    "bills in brief": (lambda edition, asked: found_in(edition, _request(asked), "brief"), slice(1, None, 6)),
    "bills by themselves": (lambda edition, asked: answer_in(edition, _request(asked)), slice(2, None, 12)),
    "layouts": (lambda edition, asked: chassis_layouts(edition, asked["chassis"]), slice(3, None, 16)),
    "explanations": (lambda edition, asked: list(_explained(edition, asked)), slice(4, None, 12)),
    "order checks": (lambda edition, asked: list(_checked(edition, asked)), slice(5, None, 20)),
}


@pytest.fixture(name="edition", scope="module")
def _edition(seed: Catalog) -> Edition:
    return Edition(1, seed)


@pytest.fixture(name="german", scope="module")
def _german(edition: Edition) -> Tongue:
    tongue = tongue_of(edition.revision)
    assert tongue is not None
    return tongue


def test_the_seed_is_wholly_german(edition: Edition, german: Tongue) -> None:
    """Each name and caution is told, and each message is there."""
    assert edition.revision.second is not None
    assert edition.revision.second.told[1] == set()
    assert (german.tag, german.languages(b"{}")) == ("de", "de")


@pytest.mark.parametrize("family", FAMILIES)
def test_facts_are_the_same(family: str, edition: Edition, german: Tongue) -> None:
    """Only words differ, none of them is English, and English is the same afterwards: nothing kept is mixed."""
    ask, which = FAMILIES[family]
    worded: list[str] = []
    for asked in REQUESTS[which]:
        english = ask(edition, asked)
        with speaking(german):
            told = ask(edition, asked)
        worded += [text for _, text in _differences(english, told)]
        assert ask(edition, asked) == english
    assert worded
    assert [text for text in worded if _ENGLISH.search(text) or "{" in text] == []


def test_joints(edition: Edition, german: Tongue) -> None:
    """Whether two sides meet, what joins them, and that they are two pieces of one part."""
    worded: list[str] = []
    for one, other in (
        ({"sku": "rail-tor-4-satin"}, {"sku": "spigot-5-16-short"}),
        ({"sku": "rail-tor-4-satin"}, {"sku": "line-centre-5-16-short"}),
        ({"standard": "flare-6", "end": "male"}, {"standard": "quick-5-16", "end": "female"}),
        ({"sku": "nipple-8-8"}, {"sku": "nipple-8-8"}),
        ({"standard": "orb-8", "end": "male"}, {"standard": "orb-8", "end": "male"}),
        ({"standard": "taper-1-8", "end": "male"}, {"sku": "gauge-600-satin"}),
    ):
        question = JointQuestion.model_validate({"one": one, "other": other})
        english = join_in(edition, question)
        with speaking(german):
            told = join_in(edition, question)
        worded += [text for _, text in _differences(english, told)]
    assert [text for text in worded if _ENGLISH.search(text) or "{" in text] == []


def test_a_caution_of_each_kind(edition: Edition, german: Tongue) -> None:
    """As a workshop reads them: what the fuel does, what is done at a joint, what the usual cautions say."""
    with speaking(german):
        answer = answer_in(edition, _request({"chassis": "hollin-25", "layout": "return-8", "fuel": "m85"}))
    cautions = " ".join(caution["text"] for bill in answer["bills"] for caution in bill["cautions"])
    assert "Die Flamme von Methanol ist bei Tageslicht nicht zu sehen" in cautions
    assert "Nie einen 37-Grad-Bördel mit einem 45-Grad-Bördel verbinden" in cautions
    assert "Nie Wasser auf brennendes Benzin geben" in " ".join(answer["safety"])


def _request(asked: dict[str, Any]) -> BillRequest:
    return BillRequest.model_validate(asked)


def _explained(edition: Edition, asked: dict[str, Any]) -> Iterator[Any]:
    """A rail, a plug, a part of another car, a retired one."""
    for sku in ("rail-tor-4-satin", "plug-8-low", "regulator-body-8", "adapter-8-flare-8-first"):
        yield explain_in(edition, ExplainRequest.model_validate({"request": asked, "sku": sku}))


def _checked(edition: Edition, asked: dict[str, Any]) -> Iterator[Any]:
    """An order that lacks most, has parts that do not belong, and names one that nobody knows."""
    lines = [
        {"sku": sku, "qty": qty}
        for sku, qty in (("rail-tor-4-satin", 1), ("gauge-600-satin", 2), ("sealant-thread", 3), ("plug-8-holow", 1))
    ]
    order = {"chassis": asked["chassis"], "lines": lines, "sets": 2}
    yield check_order(edition, OrderRequest.model_validate(order))
    yield check_order(edition, OrderRequest.model_validate(order | {"layout": asked["layout"], "sets": 1}))


def _differences(english: Any, told: Any, field: str = "") -> Iterator[tuple[str, str]]:
    """The texts that differ, in English and as they are told; all else has to be the same."""
    if isinstance(english, dict):
        assert english.keys() == told.keys()
        for name, value in english.items():
            yield from _differences(value, told[name], "facts" if field == "facts" else name)
    elif isinstance(english, list):
        assert len(english) == len(told)
        for value, other in zip(english, told, strict=True):
            yield from _differences(value, other, field)
    elif english != told:
        assert field in WORDS, f"{field}: {english} became {told}"
        yield english, told
    elif field in {"text", "safety"}:
        assert not _ENGLISH.search(english), f"stays English: {english}"
