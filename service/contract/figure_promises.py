"""What the API promises of figures: the same one wherever it stands, in units that go together."""

from collections.abc import Iterator, Mapping
from typing import Any

from service.client import ClientError
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.questions import alike, bills_of, first_bill, full
from service.contract.site import NotTriedError, Site
from service.documents.catalog import Item
from service.documents.sheet import SheetStep

_LBF_FT_PER_NM = 0.7375621
_DEG_PER_FLAT = 60.0
_ROUNDED = 0.06
"""Torques and flats are told to a digit behind the point."""
_MOST_JOINTS = 4


def power_is_the_cars(site: Site) -> Iterator[Broken]:
    """Where no power is asked for it is the stock power of the car, and fuel goes by power at each limit."""
    question, bill = site.question(), first_bill(site)
    car = site.ask(operations.detail(sections.CHASSIS, question["chassis"], revision=question.get("revision"))).result
    asked = question.get("power_kw") or car.stock_kw
    if not alike(bill["power"]["asked_kw"], asked):
        what = f"{bill['power']['asked_kw']} kW are told to be asked where it is {asked} kW"
        yield Broken(what, "#/bills/0/power/asked_kw", f"{asked} kW", f"{bill['power']['asked_kw']} kW")
    for place, one in enumerate(bills_of(site)):
        per_kw = one["flow"]["demand_l_h"] / asked
        for limit in one["power"]["limits"]:
            facts = limit.get("facts") or {}
            at_limit = facts.get("demand_l_h")
            if isinstance(at_limit, float | int) and not alike(float(at_limit) / limit["kw"], per_kw):
                what = f"the fuel at {asked} kW does not go with the fuel at the limit of {limit['kw']} kW"
                expected = f"{limit['kw'] * per_kw:.4g} L/h"
                yield Broken(what, f"#/bills/{place}/power/limits", expected, f"{at_limit} L/h")
    yield from _facts_of_paths(site)


def _facts_of_paths(site: Site) -> Iterator[Broken]:
    """The reason that a path is wide enough tells the drop and the speed of that path."""
    for place, bill in enumerate(bills_of(site)):
        paths = bill["flow"]["paths"]
        for line in bill["lines"]:
            for reason in line["reasons"]:
                facts = reason.get("facts") or {}
                if reason["rule"] != "flow" or "drop_kpa" not in facts:
                    continue
                same = [path for path in paths if path["duty"] == facts.get("duty")]
                names = ("drop_kpa", "limit_kpa", "peak_m_s", "limit_m_s")
                if same and not any(all(alike(_figure(facts, n), _figure(path, n)) for n in names) for path in same):
                    what = f"the reason for {line['sku']} tells other figures than the {facts.get('duty')} path"
                    got = ", ".join(f"{n} {facts.get(n)}" for n in names)
                    yield Broken(what, f"#/bills/{place}/flow/paths", f"{dict(same[0])}"[:200], got)


def _figure(facts: Mapping[str, object], name: str) -> float | None:
    value = facts.get(name)
    return float(value) if isinstance(value, float | int) else None


def facts_are_the_items(site: Site) -> Iterator[Broken]:
    """The facts of a reason are those of the item and its materials: pressure, stock, how it stands the fuel."""
    revision = full(site)["revision"]
    ratings = _ratings(site, revision)
    for place, line in enumerate(first_bill(site)["lines"]):
        if line["source"] != "buy":
            continue
        item = site.ask(operations.detail(sections.ITEMS, line["sku"], revision=revision)).result
        for reason in line["reasons"]:
            for name, expected, got in _facts(reason["rule"], reason.get("facts") or {}, item, ratings):
                if expected is not None and got is not None and expected != got:
                    what = f"the reason {reason['rule']} for {line['sku']} tells another {name} than the catalog"
                    yield Broken(what, f"#/bills/0/lines/{place}/reasons", str(expected), str(got))


def _facts(
    rule: str, facts: Mapping[str, Any], item: Item, ratings: Mapping[tuple[Any, Any], str]
) -> Iterator[tuple[str, Any, Any]]:
    if rule == "pressure":
        yield "max_kpa", item.max_kpa, facts.get("max_kpa")
        max_kpa, needed, left = (_figure(facts, name) for name in ("max_kpa", "needed_kpa", "left_kpa"))
        if max_kpa is not None and needed is not None and left is not None:
            yield "left_kpa", round(max_kpa - needed, 3), round(left, 3)
    elif rule == "supply":
        yield "stock", item.stock, facts.get("stock")
        yield "lead_days", item.lead_days, facts.get("lead_days")
    elif rule == "fuel":
        yield "rating", ratings.get((facts.get("material"), facts.get("fuel"))), facts.get("rating")


def _ratings(site: Site, revision: int) -> dict[tuple[Any, Any], str]:
    """How materials stand fuels, by their names."""
    materials = site.ask(operations.page(sections.MATERIALS, limit=200, revision=revision)).results
    fuels = site.ask(operations.page(sections.FUELS, limit=200, revision=revision)).results
    return {
        (one.name, fuel.name): one.ratings[fuel.id] for one in materials for fuel in fuels if fuel.id in one.ratings
    }


def leads_and_stock_add_up(site: Site) -> Iterator[Broken]:
    """A bill takes as long as the slowest part that it buys; what is short is what is needed and not there."""
    revision = full(site)["revision"]
    for place, bill in enumerate(bills_of(site)[:2]):
        skus = {line["sku"] for line in bill["lines"] if line["source"] == "buy"}
        items = [site.ask(operations.detail(sections.ITEMS, sku, revision=revision)).result for sku in sorted(skus)]
        slowest = max((item.lead_days for item in items), default=0)
        if bill["lead_days"] != slowest:
            what = f"bill {place + 1} takes {bill['lead_days']} days, but its slowest part takes {slowest}"
            yield Broken(what, f"#/bills/{place}/lead_days", str(slowest), str(bill["lead_days"]))
        for line in bill["lines"]:
            need, there, short = line.get("need"), line.get("in_stock"), line.get("short")
            if need is None or there is None or short is None:
                continue
            if short != max(0, need - there):
                what = f"{short} of {line['sku']} are told to be short: {need} are needed, {there} are in stock"
                yield Broken(what, f"#/bills/{place}/lines", str(max(0, need - there)), str(short))


def joints_are_tightened_alike(site: Site) -> Iterator[Broken]:
    """How tight a joint is made is the same on the sheet and where its two parts are asked of, in each unit."""
    sheet = site.ask(operations.sheet(first_bill(site)["key"]))
    at = site.watch.last
    tried = 0
    for step in sheet["steps"]:
        site.watch.last = at
        yield from _faults_of_units(step)
        if step["onto"] is None or step["tightening"] is None or not step["parts"] or tried == _MOST_JOINTS:
            continue
        sides = {"one": {"sku": step["parts"][0]["sku"]}, "other": {"sku": step["onto"]}, "revision": sheet["revision"]}
        try:
            told = site.ask(operations.join(sides))
        except ClientError:  # onto what is no part of the catalog
            continue
        tried += 1
        texts = [one["joint"]["text"] for one in told["joints"]]
        said = "" if step["tightening"] is None else step["tightening"]["text"].rstrip(".")
        if texts and not any(said.lower() in text.lower() for text in texts):
            what = (
                f"the joint of {step['parts'][0]['sku']} with {step['onto']} is tightened otherwise than on the sheet"
            )
            yield Broken(what, "#/joints/0/joint/text", said, texts[0])
    if not tried:
        raise NotTriedError("the first bill makes no joint between two parts of the catalog")


def _faults_of_units(step: SheetStep) -> Iterator[Broken]:
    tight = step["tightening"]
    if tight is None:
        return
    torque, turn = tight["torque"], tight["past_hand_tight"]
    pairs: list[tuple[str, float | None, float | None, float]] = []
    if torque is not None:
        pairs += [("torque", torque["min_nm"], torque["min_lbf_ft"], _LBF_FT_PER_NM)]
        pairs += [("torque", torque["max_nm"], torque["max_lbf_ft"], _LBF_FT_PER_NM)]
    if turn is not None:
        pairs += [("turn", turn["min_deg"], turn["min_flats"], 1 / _DEG_PER_FLAT)]
        pairs += [("turn", turn["max_deg"], turn["max_flats"], 1 / _DEG_PER_FLAT)]
    for what, figure, other, factor in pairs:
        if figure is None or other is None:
            continue
        if abs(figure * factor - other) > max(_ROUNDED, 0.01 * abs(other)):
            said = f"step {step['number']}: the {what} is another one in its two units"
            yield Broken(said, "#/steps", f"{figure * factor:.3g}", f"{other:.3g}")
        if not _says(tight["text"], figure):
            said = f"step {step['number']}: the {what} is another one in its text"
            yield Broken(said, "#/steps", f"{figure:g}", tight["text"])


def _says(text: str, figure: float) -> bool:
    return any(told in text for told in (f"{figure:g}", f"{figure:.1f}", f"{round(figure)}"))


def sheets_tell_the_power_of_their_bills(site: Site) -> Iterator[Broken]:
    """What limits a bill, and how that is judged, is the same on its sheet."""
    for place, bill in enumerate(bills_of(site)[:2], 1):
        sheet = site.ask(operations.sheet(bill["key"]))
        for name in ("limited_by", "verdict", "asked_kw", "reserve"):
            expected, got = dict(bill["power"])[name], dict(sheet["power"])[name]
            same = alike(expected, got) if isinstance(expected, float) and isinstance(got, float) else expected == got
            if not same:
                what = f"the sheet of bill {place} tells another {name} of its power"
                yield Broken(what, f"#/power/{name}", str(expected), str(got))
        limits = {limit["what"]: limit["kw"] for limit in bill["power"]["limits"]}
        for limit in sheet["power"]["limits"]:
            if not alike(limits.get(limit["what"]), limit["kw"]):
                what = f"the sheet of bill {place} tells another limit: {limit['what']}"
                yield Broken(what, "#/power/limits", str(limits.get(limit["what"])), str(limit["kw"]))


def curves_go_with_their_bills(site: Site) -> Iterator[Broken]:
    """Each curve is of the stock power of the car; it rises in power, and each point is the share of its limit that it
    says; its bill costs what its layout begins at."""
    question = site.question()
    chassis, revision = question["chassis"], full(site)["revision"]
    car = site.ask(operations.detail(sections.CHASSIS, chassis, revision=revision)).result
    told = site.ask(operations.drop_curves(chassis, revision=revision))
    if not alike(told["stock_kw"], car.stock_kw):
        yield Broken(
            "the curves tell another stock power", "#/stock_kw", f"{car.stock_kw} kW", f"{told['stock_kw']} kW"
        )
    layouts = site.ask(operations.chassis_layouts(chassis, revision=revision))["layouts"]
    begins = {one["layout"]: one["lowest_price"] for one in layouts if one["total_valid"]}
    drawn = {curve["layout"]: curve["price"] for curve in told["curves"]}
    if drawn != begins:
        yield Broken("the curves are not of the first bill of each layout", "#/curves", str(begins), str(drawn))
    for place, curve in enumerate(told["curves"]):
        at = f"#/curves/{place}/points"
        powers = [point["power_kw"] for point in curve["points"]]
        if powers != sorted(powers):
            yield Broken(f"the curve of {curve['layout']} does not rise in power", at, str(sorted(powers)), str(powers))
        for point in curve["points"]:
            share = 100 * point["drop_kpa"] / point["limit_kpa"]
            if not alike(share, point["used_percent"]):
                what = f"a drop of the curve of {curve['layout']} is not the share of its limit that is told"
                yield Broken(what, at, f"{share:.6g} %", f"{point['used_percent']} %")
                break
            carried = curve["power"]["carries_kw"]
            if not point["within"] and carried is not None and point["power_kw"] < carried:
                what = f"the curve of {curve['layout']} leaves its limits at less than it carries"
                yield Broken(what, at, f"within, below {carried} kW", f"over at {point['power_kw']} kW")
                break
