"""Bills of a full answer, each by itself, held against bills that stand by themselves."""

from typing import Any

_LISTS = ("reasons", "cautions", "checks", "sound", "extras")


def by_itself(told: Any) -> Any:
    """The first bill of a full answer without the ids by which later bills name what it has."""
    if isinstance(told, list):
        return [by_itself(one) for one in told]
    if isinstance(told, dict):
        return {name: by_itself(one) for name, one in told.items() if name not in ("id", "repeats")}
    return told


def spelt_out(bills: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """All bills of an answer with what they repeat, as `sorted_lists` has them."""
    said: dict[int, dict[str, Any]] = {}
    whole = []
    for bill in bills:
        before = dict(said)
        for holder in (bill, *bill["lines"]):
            said |= {one["id"]: one for name in _LISTS for one in holder.get(name, ())}
        lines = [
            line | {"reasons": line["reasons"] + [before[id_] for id_ in line["repeats"]]} for line in bill["lines"]
        ]
        repeated = [before[id_] for id_ in bill["repeats"]]
        kinds = {
            "cautions": [one for one in repeated if "rule" in one],
            "checks" if "checks" in bill else "sound": [one for one in repeated if "check" in one],
            "extras": [one for one in repeated if "sku" in one],
        }
        whole.append(bill | {"lines": lines} | {name: bill[name] + more for name, more in kinds.items()})
    return [sorted_lists(by_itself(bill)) for bill in whole]


def sorted_lists(bill: dict[str, Any]) -> dict[str, Any]:
    """A bill whose reasons, cautions, checks and extras stand by their texts."""
    lines = [line | {"reasons": sorted(line["reasons"], key=str)} for line in bill["lines"]]
    return bill | {"lines": lines} | {name: sorted(bill[name], key=str) for name in _LISTS[1:] if name in bill}
