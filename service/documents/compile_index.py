"""The index of a catalog's items: read from the few fields that it needs, without compiling an item."""

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping
from functools import cache
from typing import Any, NotRequired

from pydantic import TypeAdapter
from typing_extensions import TypedDict

from service.domain.parts import Opening
from service.domain.revision import ItemIndex, led
from service.domain.work import give_turn

_Lists = defaultdict[Any, list[str]]


class _Port(TypedDict):
    standard: str
    end: str


class _Box(TypedDict):
    sku: str


class _Head(TypedDict):
    """The fields of an item that the index needs; the others are passed over."""

    name: str
    second_name: NotRequired[str]
    kind: str
    status: str
    sold: bool
    family: NotRequired[str]
    finish: NotRequired[str]
    ports: list[_Port]
    patterns: NotRequired[list[str]]
    supplied: NotRequired[list[_Box]]


_HEAD: TypeAdapter[_Head] = TypeAdapter(_Head)


def index_items(texts: Mapping[str, str]) -> ItemIndex:
    """The index of items; `texts` has their canonical JSON by SKU."""
    opening = cache(Opening)
    by_kind, by_opening, by_family = _Lists(list), _Lists(list), _Lists(list)
    rails, boxed_in = _Lists(list), _Lists(list)
    met_by: defaultdict[str, set[Opening]] = defaultdict(set)
    led_from: defaultdict[tuple[str, Opening], set[Opening]] = defaultdict(set)
    finishes: set[str] = set()
    offers: set[tuple[str, str]] = set()
    retired: set[str] = set()
    unsold: set[str] = set()
    second_names: dict[str, str] = {}
    unnamed = 0
    for sku, text in texts.items():
        give_turn()
        head = _HEAD.validate_json(text)
        kind, family, finish = head["kind"], head.get("family"), head.get("finish")
        ports = [opening(port["standard"], port["end"]) for port in head["ports"]]
        by_kind[kind].append(sku)
        for entry in dict.fromkeys(ports):
            by_opening[entry].append(sku)
        if kind == "rail":
            for pattern in dict.fromkeys(head.get("patterns", ())):
                rails[pattern].append(sku)
        else:
            for met, leaves in led(ports):
                if leaves is None:
                    met_by[kind].add(met)
                else:
                    led_from[kind, leaves].add(met)
        for owned in dict.fromkeys(box["sku"] for box in head.get("supplied", ())):
            boxed_in[owned].append(sku)
        if "second_name" in head:
            second_names[head["name"]] = head["second_name"]
        else:
            unnamed += 1
        if head["status"] == "retired":
            retired.add(sku)
        if not head["sold"]:
            unsold.add(sku)
        if family:
            by_family[family].append(sku)
        if finish:
            finishes.add(finish)
        if family and finish and head["status"] == "active":
            offers.add((family, finish))
    return ItemIndex(
        by_kind=dict(by_kind),
        by_opening=dict(by_opening),
        by_family=dict(by_family),
        rails=dict(rails),
        boxed_in=dict(boxed_in),
        met_by=dict(met_by),
        led_from=dict(led_from),
        finishes=finishes,
        offers=offers,
        retired=retired,
        unsold=unsold,
        lower_skus=_lower_skus(texts),
        second_names=second_names,
        unnamed=unnamed,
    )


def _lower_skus(skus: Collection[str]) -> dict[str, str]:
    """Each SKU by its lower case, but for those that differ in case alone."""
    counts = Counter(map(str.lower, skus))
    return {sku.lower(): sku for sku in skus if counts[sku.lower()] == 1}
