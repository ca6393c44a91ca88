"""What the API promises of a bill's key: it leads to that very bill, to its sheet, drawing and link."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

import httpx

from service.contract import operations
from service.contract.outcomes import Broken
from service.contract.questions import alike, bills_of, drawing
from service.contract.site import Site
from service.contract.wire_promises import object_of
from service.documents.drawing import PathProfile
from service.documents.found import FoundBill

_TRIED = 2
_IDS = ("id", "repeats")
_LINK = "link"
"""What links two banks is worked on at both its ends."""
_ROUNDED_KPA = 0.01
"""Pressures are told to six digits."""


def bills_are_recalled(site: Site) -> Iterator[Broken]:
    """A bill is given again by its key, and what the newest revision makes of it is told."""
    for place, bill in enumerate(bills_of(site)[:_TRIED], 1):
        told = site.ask(operations.recall_bill(bill["key"]))
        again = told["bill"]
        if again["key"] != bill["key"]:
            yield Broken(f"the key of bill {place} recalls another key", "#/bill/key", bill["key"], again["key"])
        elif place == 1 and _by_itself(bill) != again:
            names = [name for name, value in _by_itself(bill).items() if value != dict(again).get(name)]
            yield Broken(
                "the bill that its key recalls is another one", f"#/bill/{names[0] if names else ''}", "the same"
            )
        elif (bill["price"], bill["chains"], bill["flow"]["paths"]) != (
            again["price"],
            again["chains"],
            again["flow"]["paths"],
        ):
            yield Broken("the bill that its key recalls is another one", "#/bill", "the same price, chains and paths")
        current = told["current"]
        if current["revision"] == told["revision"] and not (current["valid"] and current["price"] == bill["price"]):
            yield Broken(
                f"bill {place} is said not to hold in its own revision", "#/current", "valid, at the same price"
            )


def _by_itself(told: Any) -> Any:
    """The first bill of an answer without the ids by which later ones name what it has."""
    if isinstance(told, list):
        return [_by_itself(one) for one in told]
    if isinstance(told, dict):
        return {name: _by_itself(one) for name, one in told.items() if name not in _IDS}
    return told


def sheets_are_of_their_bills(site: Site) -> Iterator[Broken]:
    """The assembly sheet of a bill has its key, its power, its parts at their spots, cautions and steps."""
    for place, bill in enumerate(bills_of(site)[:_TRIED], 1):
        sheet = site.ask(operations.sheet(bill["key"]))
        if sheet["key"] != bill["key"]:
            yield Broken(f"the sheet of bill {place} is that of another bill", "#/key", bill["key"], sheet["key"])
        if not (sheet["safety"] and sheet["steps"]):
            yield Broken("the assembly sheet has no cautions or no steps", "#/safety", "cautions and steps")
        if not alike(sheet["power"]["carries_kw"], bill["power"]["carries_kw"]):
            told = str(sheet["power"]["carries_kw"])
            yield Broken(
                f"the sheet of bill {place} tells another power",
                "#/power/carries_kw",
                str(bill["power"]["carries_kw"]),
                told,
            )
        yield from _faults_of_rails(bill, sheet["rails"], f"the sheet of bill {place}")
        worked = Counter[str]()
        for part in (part for step in sheet["steps"] for part in step["parts"]):
            worked[part["sku"]] += part["qty"]
        for sku, units in Counter(sku for chain in bill["chains"].values() for sku in chain).items():
            if sku not in worked:
                yield Broken(f"no step of the sheet of bill {place} takes {sku}", "#/steps", sku, "no such step")
            elif worked[sku] != units and _LINK not in bill["duties"].values():
                what = f"the steps of the sheet of bill {place} take {worked[sku]} of {sku}, its chains {units}"
                yield Broken(what, "#/steps", str(units), str(worked[sku]))
        numbers = [step["number"] for step in sheet["steps"]]
        if numbers != list(range(1, len(numbers) + 1)):
            yield Broken(f"the steps of the sheet of bill {place} are not numbered one after the other", "#/steps")


def _faults_of_rails(bill: FoundBill, rails: list[Any], what: str) -> Iterator[Broken]:
    listed = {line["sku"] for line in bill["lines"]}
    several = len(rails) > 1
    drawn = [spot["spot"] for rail in rails for spot in rail["spots"]]
    if len(drawn) != len(bill["duties"]):
        yield Broken(f"{what} has other spots than the bill", "#/rails", ", ".join(bill["duties"]), ", ".join(drawn))
    for rail in rails:
        if rail["length_mm"] is not None and max(rail["at_mm"].values(), default=0.0) > rail["length_mm"]:
            longest = f"{max(rail['at_mm'].values())} mm"
            yield Broken(
                f"{what} has a spot beyond the length of its rail", "#/rails", f"{rail['length_mm']} mm", longest
            )
        for spot in rail["spots"]:
            name = f"{rail['bank']}.{spot['spot']}" if several else spot["spot"]
            name = name if name in bill["duties"] else spot["spot"]
            if name in bill["duties"] and spot["duty"] != bill["duties"][name]:
                yield Broken(f"{what} has another duty at {name}", "#/rails", bill["duties"][name], spot["duty"])
            for part in (*spot["standing"], *spot["beyond"]):
                if part["sku"] not in listed and part["sku"] != rail["sku"]:
                    yield Broken(
                        f"{what} has {part['sku']} at {name}, which the bill has not",
                        "#/rails",
                        "a part of the bill",
                        part["sku"],
                    )


def drawings_are_of_their_bills(site: Site) -> Iterator[Broken]:
    """The drawing of a bill has its key, and along its paths the same drops, which are the sums of their stations."""
    for place, bill in enumerate(bills_of(site)[:_TRIED], 1):
        drawn = site.ask(drawing(bill["key"]))
        if drawn["key"] != bill["key"]:
            yield Broken(f"the drawing of bill {place} is that of another bill", "#/key", bill["key"], drawn["key"])
        yield from _faults_of_rails(bill, drawn["rails"], f"the drawing of bill {place}")
        drops = {(path["duty"], *path["spots"]): path["drop_kpa"] for path in drawn["paths"]}
        for path in bill["flow"]["paths"]:
            told = drops.get((path["duty"], *path["spots"]))
            if not alike(told, path["drop_kpa"]):
                what = f"the drop of the {path['duty']} path of bill {place} is another one than along its drawing"
                yield Broken(what, "#/paths/drop_kpa", str(told), str(path["drop_kpa"]))
        for along in drawn["paths"]:
            if along["stations"] and not alike(along["stations"][-1]["lost_kpa"], along["drop_kpa"]):
                what = f"the stations of the {along['duty']} path do not add up to its drop"
                yield Broken(what, "#/paths/stations", str(along["drop_kpa"]), str(along["stations"][-1]["lost_kpa"]))
            yield from _faults_of_stations(along)


def _faults_of_stations(along: PathProfile) -> Iterator[Broken]:
    """Behind each station the pressure is what it was at the start less what was lost, but for a regulator."""
    for station in along["stations"]:
        start, behind = along["start_kpa"], station["kpa"]
        if station["regulates"] or start is None or behind is None:
            return
        if abs(start - station["lost_kpa"] - behind) > _ROUNDED_KPA:
            what = f"the pressure along the {along['duty']} path does not fall by what is lost at {station['name']}"
            yield Broken(what, "#/paths/stations", f"{start - station['lost_kpa']:.6g} kPa", f"{behind} kPa")
            return


def links_lead_to_their_bills(site: Site) -> Iterator[Broken]:
    """The short link of a bill is always the same, another bill has another, and it leads to the sheet of its bill."""
    codes: list[Any] = []
    for place, bill in enumerate(bills_of(site)[:_TRIED], 1):
        made, again = (site.send("POST", f"/v1/bills/{bill['key']}/link") for _ in range(2))
        told = object_of(made)
        if not made.is_success:
            yield Broken(f"bill {place} has no short link", "", "201", str(made.status_code))
            return
        if object_of(again).get("code") != told.get("code"):
            yield Broken(
                f"bill {place} has two short links", "#/code", str(told.get("code")), str(object_of(again).get("code"))
            )
        codes.append(told.get("code"))
        led = site.http.get(str(told.get("path")), follow_redirects=False)
        target = led.headers.get("location", "")
        if led.status_code != httpx.codes.FOUND or bill["key"] not in target:
            what = f"the short link of bill {place} does not lead to the sheet of that bill"
            yield Broken(what, "Location", f"…/v1/bills/{bill['key']}/sheet", target or str(led.status_code))
    if len(set(codes)) < len(codes):
        yield Broken("two bills have the same short link", "#/code", "a code a bill", str(codes[0]))
