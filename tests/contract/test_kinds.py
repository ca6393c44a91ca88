"""The kinds of cases in a partner's own file: what is kept, what is broken and how it is told, what is no case."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.contract import CaseFileError, Outcome, opened, read_case_file, run_contract
from tests.contract.recorded import BASE_URL, Recorded

CAR = {"chassis": "fennic-16"}
BILLS = CAR | {"layout": "own-hose-6-centre"}
RAIL = "rail-tor-4-satin"
SIDES = {"one": {"sku": RAIL}, "other": {"sku": "adapter-8-flare-6-satin"}}
ORDER = BILLS | {"lines": [{"sku": RAIL, "qty": 1}]}

KEPT: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    ("bills", BILLS, {"has_bill": True, "currency": "EUR", "max_ms": 60_000, "must_say": ["rail pattern tor-4"]}),
    ("order_check", ORDER, {"verdict": "short", "layout": "own-hose-6-centre", "edits": 3}),
    ("explain", {"request": BILLS, "sku": RAIL}, {"in_bills": True, "where": ["rail"], "currency": "EUR"}),
    ("explain", {"request": BILLS, "sku": "rail-garth-6-satin"}, {"in_bills": False, "stopped_by": ["pattern"]}),
    ("layouts", CAR, {"with_bills": ["factory-line", "own-hose-6-centre"], "currency": "EUR"}),
    ("item", {"sku": RAIL}, {"price": {"at_least": 24_900, "at_most": 24_900}, "status": "active"}),
    ("item", {"sku": "no-such-part"}, {"exists": False}),
    ("joint", SIDES, {"meets": True, "must_say": ["Yes, they meet"]}),
]
BROKEN: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    ("bills", BILLS, {"has_bill": True, "currency": "SEK"}, "in another currency than is promised"),
    ("bills", BILLS, {"has_bill": True, "must_say": ["no such words"]}, "does not say “no such words”"),
    ("bills", BILLS, {"has_bill": True, "never_contains": ["no-such"]}, "names no-such, which is no item"),
    ("order_check", ORDER, {"verdict": "complete"}, "the verdict is short, not complete"),
    ("order_check", ORDER, {"edits": 1}, "more than the 1 promised"),
    ("order_check", ORDER | {"max_price": 1}, {"edits": 1}, "no bill is valid, though an order with at most 1 to"),
    ("explain", {"request": BILLS, "sku": RAIL}, {"stopped_by": ["fuel"]}, "the rule fuel stops the part nowhere"),
    (
        "explain",
        {"request": BILLS, "sku": RAIL},
        {"in_bills": False},
        "a bill has the part, though none",
    ),
    (
        "explain",
        {"request": BILLS, "sku": RAIL},
        {"where": ["top"]},
        "no bill has the part at top, though",
    ),
    (
        "layouts",
        CAR,
        {"without_bills": ["factory-line"]},
        "the layout factory-line has a bill, though it is",
    ),
    (
        "item",
        {"sku": RAIL},
        {"price": {"at_least": 1, "at_most": 2}},
        "costs EUR 249.00, not EUR 0.01 to EUR 0.02",
    ),
    ("item", {"sku": RAIL}, {"status": "retired"}, "is active, not retired"),
    ("item", {"sku": RAIL}, {"exists": False}, "which is promised not to exist"),
    ("item", {"sku": "no-such-part"}, {}, "which is promised to exist"),
    ("joint", SIDES, {"meets": False}, "the two meet, though they are promised not to"),
    ("joint", SIDES, {"bridged_by": ["x"]}, "nothing bridges the two, not x as is promised"),
]


def file_of(folder: Path, *cases: dict[str, Any]) -> Path:
    file = folder / "cases.json"
    file.write_text(json.dumps({"cases": cases}))
    return file


def case(kind: str, request: dict[str, Any], promises: dict[str, Any], id_: str = "own") -> dict[str, Any]:
    return {"id": id_, "says": "Ours.", "kind": kind, "request": request, "promises": promises}


def outcomes(site: Recorded, file: Path) -> list[Outcome]:
    with opened(BASE_URL, read_case_file(file), site) as trial:
        return list(run_contract(trial, "cases: "))


def test_each_kind_is_kept(site: Recorded, tmp_path: Path) -> None:
    """And the time of the one that promises it is told as the median that it is."""
    found = outcomes(site, file_of(tmp_path, *(case(*one, id_=f"c{place}") for place, one in enumerate(KEPT))))
    assert [(one.name, one.broken, one.why) for one in found if not one.is_kept] == []
    assert len(found) == len(KEPT)
    assert found[0].note.startswith("median of 5 answers: ")


def test_each_promise_can_break(site: Recorded, tmp_path: Path) -> None:
    """In the words of the matter, with the request to repeat."""
    rows = [case(kind, request, promises, f"c{at}") for at, (kind, request, promises, _) in enumerate(BROKEN)]
    found = outcomes(site, file_of(tmp_path, *rows))
    for one, (*_, said) in zip(found, BROKEN, strict=True):
        assert [broken for broken in one.broken if said in broken.what and broken.repeat.startswith("curl ")], (
            one,
            said,
        )


def test_who_is_slower_than_promised_is_told_by_the_median(
    site: Recorded, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    took_ms = iter([1.0, 9_000.0, 30.0, 20.0, 10.0])
    monkeypatch.setattr("service.contract.cases._took_ms", lambda *_: next(took_ms))
    found = outcomes(site, file_of(tmp_path, case("item", {"sku": RAIL}, {"max_ms": 19})))
    assert [broken.got for broken in found[0].broken] == ["20 ms"]


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"kind": "price"}, "/cases/0/kind"),
        ({"promises": {"exists": False, "status": "active"}}, "/cases/0/promises/status"),
        ({"promises": {"price": {"at_least": 2, "at_most": 1}}}, "/cases/0/promises/price/at_most"),
        ({"promises": {"currency": "EUR"}}, "/cases/0/promises/currency"),
        ({"promises": {"max_ms": 0}}, "/cases/0/promises/max_ms"),
        ({"request": {}}, "/cases/0/request/sku"),
    ],
)
def test_what_is_no_case_is_refused_with_its_place(tmp_path: Path, change: dict[str, Any], place: str) -> None:
    with pytest.raises(CaseFileError) as refused:
        read_case_file(file_of(tmp_path, case("item", {"sku": RAIL}, {}) | change))
    assert [fault.pointer for fault in refused.value.faults] == [place]
