"""Compare answer documents with what the slow solvers found: same bills, order, figures; same wishes; same order check.

Every function gives the differences in words; none when they agree.
"""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from tests.support.brute_force import OracleGroup, grouped, ordered
from tests.support.brute_orders import OracleCheck, ships, today
from tests.support.brute_wishes import MOST_LISTED, Change, Why
from tests.support.slow_bills import OracleBill
from tests.support.slow_questions import OWN_RAIL

Json = dict[str, Any]
DROP_TOLERANCE = 0.005
NOT_JUDGED = ("fuel", "pressure", "mounting")
"""The rules that nobody can judge of the customer's own rail; where a finish is asked, `wish` as well."""


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
    offered: dict[str, set[str]] = {}
    for line in document["lines"]:
        if line["choices"]:
            offered.setdefault(line["sku"], set()).update(set(line["choices"]) - {line["sku"]})
    choices = {sku: others for sku, others in group.choices.items() if others}
    return [] if offered == choices else [f"choices {offered}, not {choices}"]


def _bill_differences(catalog: Json, request: Json, expected: Sequence[OracleBill], answer: Json) -> list[str]:
    rails = {OWN_RAIL} | {item["sku"] for item in catalog["items"] if item["kind"] == "rail"}
    limit = request.get("limit", 10)
    if len(answer["bills"]) != min(limit, len(expected)):
        return [f"{len(answer['bills'])} bills listed of {len(expected)}, limit {limit}"]
    found = []
    for place, (bill, document) in enumerate(zip(expected, answer["bills"], strict=False)):
        given = {"rail": rail_of(document, rails), "duties": document["duties"], "chains": document["chains"]}
        if given != named(bill):
            return [f"bill {place} is {given}, not {named(bill)}"]
        faults = _figure_differences(bill, document) + _own_rail_differences(request, bill, document)
        found += [f"bill {place}: {fault}" for fault in faults]
    return found


def _own_rail_differences(request: Json, bill: OracleBill, document: Json) -> list[str]:
    """One caution for each rule that was not judged of the customer's own rail."""
    if bill.rail != OWN_RAIL:
        return []
    expected = [*NOT_JUDGED, *(["wish"] if request.get("finish") is not None else [])]
    cautions = {caution["rule"] for caution in document["cautions"]}
    return [f"no caution that {rule} was not judged of the own rail" for rule in expected if rule not in cautions]


def _figure_differences(bill: OracleBill, document: Json) -> list[str]:
    exact = {
        "price": (document["price"], bill.price),
        "pieces": (document["pieces"], bill.pieces),
        "lead_days": (document["lead_days"], bill.lead_days),
        "lines": ({(line["sku"], line["qty"], line["source"]) for line in document["lines"]}, bill.lines),
        "spots": (
            {(line["sku"], line["source"]): tuple(line["spots"]) for line in document["lines"] if line["spots"]},
            bill.stands,
        ),
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


# --- wishes that leave no bill ------------------------------------------------------------------------------


def why_differences(expected: Why, answer: Json) -> list[str]:
    """Every way in which `conflicts`, `repairs` and `more` are not what trying every subset found."""
    found = []
    if answer["conflicts"] != expected.conflicts[:MOST_LISTED]:
        found.append(f"conflicts {answer['conflicts']}, not {expected.conflicts[:MOST_LISTED]}")
    more = (
        {name: answer["more"][name] for name in expected.more}
        if "more" in answer
        else dict.fromkeys(expected.more, False)
    )
    if more != expected.more:
        found.append(f"more {more}, not {expected.more}")
    repairs = expected.repairs[:MOST_LISTED]
    if len(answer["repairs"]) != len(repairs):
        return [*found, f"repairs {answer['repairs']}, not {repairs}"]
    for given, repair in zip(answer["repairs"], repairs, strict=True):
        said = (given["change"], given["total_valid"])
        if not any(_same_change(said[0], change) and said[1] == total for change, total in repair.choices):
            found.append(f"repair {said}, not {repair.choices}")
    return found


def _same_change(given: Change, right: Change) -> bool:
    return given.keys() == right.keys() and all(_same_value(given[name], right[name]) for name in right)


def _same_value(given: Any, right: Any) -> bool:
    if isinstance(given, (int, float)) and isinstance(right, (int, float)):
        return abs(given - right) < 1e-6 and isinstance(given, bool) == isinstance(right, bool)
    return bool(given == right)


# --- order checks -------------------------------------------------------------------------------------------


def order_differences(catalog: Json, order: Json, expected: OracleCheck, document: Json) -> list[str]:
    """Every way in which an order check is not what comparing all bills found.

    A swap is told as an add and a remove; what is removed goes by its successor's SKU.
    """
    nearest = expected.nearest
    if document["verdict"] != expected.verdict or nearest is None:
        return [] if document["verdict"] == expected.verdict else [f"{document['verdict']}, not {expected.verdict}"]
    rails = {OWN_RAIL} | {item["sku"] for item in catalog["items"] if item["kind"] == "rail"}
    bill = document["bill"]
    add, remove = Counter[str](), Counter[str]()
    for line in document["add"]:
        add[line["sku"]] += line["qty"]
    for line in document["remove"]:
        remove[today(catalog, line["sku"])] += line["qty"]
    for swap in document["swap"]:
        add[swap["in"]] += swap["qty"]
        remove[today(catalog, swap["out"])] += swap["qty"]
    others = {
        other.layout: (other.changes, other.changes == nearest.changes)
        for other in expected.possible.values()
        if other is not nearest
    }
    told = {other["layout"]: (other["changes"], other["tie"]) for other in document["also_possible"]}
    exact = {
        "layout": (document["layout"], nearest.layout),
        "bill": (
            {"rail": rail_of(bill, rails), "duties": bill["duties"], "chains": bill["chains"]},
            named(nearest.bill),
        ),
        "add": (add, nearest.add),
        "remove": (remove, nearest.remove),
        "price_change": (document["price_change"], nearest.price_change),
        "ships": (tuple(document["ships"].values()), ships(catalog, order, nearest.bill)),
    }
    if order.get("layout") is None:
        exact["also_possible"] = (told, others)
    return [f"{name} {given}, not {right}" for name, (given, right) in exact.items() if given != right]
