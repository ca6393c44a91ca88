"""Whether two sides meet and what joins them, found by trying every chain: on the plain JSON, apart from `service`.

A side is told in a line: `SKU`, `SKU:port`, or `standard end` for a bare port.
"""

from typing import Any

from service.domain.joints import JointEnd
from service.domain.parts import Opening
from service.domain.revision import Revision

Json = dict[str, Any]
Port = tuple[str, str]  # (standard, end)
OPPOSITE = {"male": "female", "female": "male"}


def ends(revision: Revision, side: str) -> tuple[JointEnd, ...]:
    """The ends of a side as the search takes them."""
    if " " in side:
        return (JointEnd(Opening(*side.split())),)
    sku, _, wanted = side.partition(":")
    item = revision.items[sku]
    return tuple(JointEnd(port.opening, item, port) for port in item.ports if wanted in ("", port.id))


def ports(catalog: Json, side: str) -> list[Port]:
    """The ports of a side."""
    if " " in side:
        standard, end = side.split()
        return [(standard, end)]
    sku, _, wanted = side.partition(":")
    [item] = [item for item in catalog["items"] if item["sku"] == sku]
    return [(port["standard"], port["end"]) for port in item["ports"] if wanted in ("", port["id"])]


def meets(catalog: Json, one: str, other: str) -> bool:
    return any(_mate(port, facing) for port in ports(catalog, one) for facing in ports(catalog, other))


def best_bridge(catalog: Json, one: str, other: str) -> list[str] | None:
    """The SKUs of the best chain: of fittings if they do, the shortest, bought from us, cheapest, first by name."""
    for kinds in ({"fitting"}, {"fitting", "line"}):
        usable = [x for x in catalog["items"] if x["kind"] in kinds and x["status"] == "active"]
        chains: list[tuple[list[Json], Port]] = [([], port) for port in ports(catalog, one)]
        for _ in range(catalog["policies"]["max_chain"]):
            chains = [
                ([*chain, item], leaves)
                for chain, port in chains
                for item in usable
                for leaves in _carried_on(item, port)
            ]
            whole = [chain for chain, port in chains if any(_mate(port, goal) for goal in ports(catalog, other))]
            if whole:
                return min(_order(chain) for chain in whole)[-1]
    return None


def _carried_on(item: Json, port: Port) -> set[Port]:
    """The ports that an item may be left by where it is screwed on a port."""
    own = [(port["standard"], port["end"]) for port in item["ports"]]
    return {own[b] for a in range(len(own)) for b in range(len(own)) if a != b and _mate(own[a], port)}


def _mate(port: Port, other: Port) -> bool:
    return port[0] == other[0] and port[1] == OPPOSITE[other[1]]


def _order(chain: list[Json]) -> tuple[int, int, int, list[str], list[str]]:
    skus = [item["sku"] for item in chain]
    sold, unsold = ([x["price"] for x in chain if x["sold"] is is_sold] for is_sold in (True, False))
    return len(unsold), sum(sold), sum(unsold), sorted(skus), skus
