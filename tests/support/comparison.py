"""Compare an answer document with the slow solver's bills: same bills, same order, same figures."""

from collections.abc import Sequence
from typing import Any

from tests.support.brute_force import OracleBill, OracleGroup, grouped, ordered

Json = dict[str, Any]
DROP_TOLERANCE = 0.005


def named(bill: OracleBill) -> Json:
    """What tells a bill from the others, as the answer document has it."""
    return {"rail": bill.rail, "duties": bill.duties, "chains": {spot: [*skus] for spot, skus in bill.chains.items()}}


def rail_of(document: Json, rails: set[str]) -> str:
    """The SKU of a bill document's rail."""
    (sku,) = {line["sku"] for line in document["lines"]} & rails
    return str(sku)


def differences(catalog: Json, request: Json, bills: Sequence[OracleBill], answer: Json) -> list[str]:
    """Every way in which an ungrouped answer is not what the slow solver found; empty when they agree."""
    expected = ordered(bills, request)
    found = [f"total {answer['total_valid']}, not {len(bills)}"] if answer["total_valid"] != len(bills) else []
    return found + _bill_differences(catalog, request, expected, answer)


def group_differences(catalog: Json, request: Json, bills: Sequence[OracleBill], answer: Json) -> list[str]:
    """The same for a grouped answer."""
    groups = grouped(bills, request)
    found = [f"total {answer['total_valid']}, not {len(groups)}"] if answer["total_valid"] != len(groups) else []
    found += _bill_differences(catalog, request, [group.first for group in groups], answer)
    for group, document in zip(groups, answer["bills"], strict=False):
        found += _choice_differences(group, document)
    return found


def _choice_differences(group: OracleGroup, document: Json) -> list[str]:
    offered = {line["sku"]: set(line["choices"]) - {line["sku"]} for line in document["lines"] if line["choices"]}
    choices = {sku: others for sku, others in group.choices.items() if others}
    return [] if offered == choices else [f"choices {offered}, not {choices}"]


def _bill_differences(catalog: Json, request: Json, expected: Sequence[OracleBill], answer: Json) -> list[str]:
    rails = {item["sku"] for item in catalog["items"] if item["kind"] == "rail"}
    limit = request.get("limit", 10)
    if len(answer["bills"]) != min(limit, len(expected)):
        return [f"{len(answer['bills'])} bills listed of {len(expected)}, limit {limit}"]
    found = []
    for place, (bill, document) in enumerate(zip(expected, answer["bills"], strict=False)):
        given = {"rail": rail_of(document, rails), "duties": document["duties"], "chains": document["chains"]}
        if given != named(bill):
            return [f"bill {place} is {given}, not {named(bill)}"]
        found += [f"bill {place}: {fault}" for fault in _figure_differences(bill, document)]
    return found


def _figure_differences(bill: OracleBill, document: Json) -> list[str]:
    exact = {
        "price": (document["price"], bill.price),
        "pieces": (document["pieces"], bill.pieces),
        "lead_days": (document["lead_days"], bill.lead_days),
        "lines": ({(line["sku"], line["qty"], line["source"]) for line in document["lines"]}, bill.lines),
        "unrated": (
            {tuple(path["spots"]): path["unrated"] for path in document["flow"]["paths"]},
            {path.spots: [*dict.fromkeys(path.unrated)] for path in bill.paths},
        ),
    }
    found = [f"{name} {given}, not {right}" for name, (given, right) in exact.items() if given != right]
    if not _close(document["flow"]["demand_l_h"], bill.demand_l_h):
        found.append(f"demand {document['flow']['demand_l_h']}, not {bill.demand_l_h}")
    given_paths = {(path["duty"], tuple(path["spots"])): path for path in document["flow"]["paths"]}
    right_paths = {(path.duty, path.spots): path for path in bill.paths}
    if given_paths.keys() != right_paths.keys():
        return [*found, f"paths {sorted(given_paths)}, not {sorted(right_paths)}"]
    return found + [
        f"{key} {figure} {given_paths[key][figure]}, not {getattr(path, figure)}"
        for key, path in right_paths.items()
        for figure in ("flow_l_h", "drop_kpa", "peak_m_s", "limit_kpa")
        if not _close(given_paths[key][figure], getattr(path, figure))
    ]


def _close(given: float, right: float) -> bool:
    return abs(given - right) <= max(DROP_TOLERANCE * abs(right), 0.0006)
