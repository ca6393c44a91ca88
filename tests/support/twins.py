"""A catalog with every part several times: names and families apart, figures and prices a little apart."""

from typing import Any

Json = dict[str, Any]

_FIGURES = ("standout_mm", "across_mm", "mass_g")
_MORE_A_TWIN = 1 / 512
"""So much larger is each figure of a twin than that of the one before: apart, and within the same limits mostly."""


def with_twins(catalog: Json, times: int) -> Json:
    """The catalog with each of its items so many times; the first of each is the item itself."""
    items = [_twin(item, nth) for nth in range(times) for item in catalog["items"]]
    return {**catalog, "items": items}


def _twin(item: Json, nth: int) -> Json:
    if not nth:
        return item
    twin = {**item, "sku": f"{item['sku']}.{nth}", "name": f"{item['name']}, twin {nth}", "price": item["price"] + nth}
    if "family" in item:
        twin["family"] = f"{item['family']}.{nth}"
    for name in _FIGURES:
        if item.get(name) is not None:
            twin[name] = round(item[name] * (1 + nth * _MORE_A_TWIN), 3)
    flow = item.get("flow")
    if flow is not None:
        twin["flow"] = {**flow, "loss_k": round(flow["loss_k"] * (1 + nth * _MORE_A_TWIN), 6)}
    return twin
