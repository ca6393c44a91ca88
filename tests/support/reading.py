"""Reads answers: what stands where, what was ruled out and why."""

from typing import Any

from tests.support.engine import answer

Json = dict[str, Any]
Said = tuple[str, str]

EVERY_BILL: Json = {"limit": 100, "group_variants": False}


def ask(catalog: Json, request: Json) -> Json:
    """The answer with every bill of its own (at most 100)."""
    found = answer(catalog, EVERY_BILL | request)
    if EVERY_BILL | request == request | EVERY_BILL:
        assert len(found["bills"]) == min(100, found["total_valid"])
    return found


def chains_at(found: Json, spot: str) -> set[str]:
    """The chains that bills have at a spot, SKUs joined by commas."""
    return {",".join(bill["chains"][spot]) for bill in found["bills"] if spot in bill["chains"]}


def rails(found: Json) -> set[str]:
    return {line["sku"] for bill in found["bills"] for line in bill["lines"] if line["sku"].startswith("RAIL")}


def stands(found: Json, sku: str, spot: str | None) -> bool:
    """Whether a bill has the part at the spot (None: as its rail)."""
    if spot is None:
        return sku in rails(found)
    return any(sku in bill["chains"].get(spot, ()) for bill in found["bills"])


def ruled_out(found: Json, sku: str, spot: str | None) -> list[Said]:
    """(rule, text) of what rules the part out at the spot."""
    return [(x["rule"], x["text"]) for x in found["ruled_out"] if (x["sku"], x["spot"]) == (sku, spot)]


def line_of(bill: Json, sku: str) -> Json:
    (line,) = (line for line in bill["lines"] if line["sku"] == sku)
    return dict(line)


def said(found: Json, sku: str, rule: str) -> set[str]:
    """What the rule says for the part on the lines of all bills."""
    return {
        reason["text"]
        for bill in found["bills"]
        for line in bill["lines"]
        if line["sku"] == sku
        for reason in line["reasons"]
        if reason["rule"] == rule
    }


def cautions(found: Json, rule: str) -> list[str]:
    """What the rule cautions of, in the first bill."""
    return [caution["text"] for caution in found["bills"][0]["cautions"] if caution["rule"] == rule]
