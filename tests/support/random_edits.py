"""Random edits of a catalog, as people make them: each leaves it valid, and many sway answers."""

from collections.abc import Callable
from copy import deepcopy
from random import Random
from typing import Any

from tests.support.random_requests import random_request
from tests.support.slow_impact import is_valid

Json = dict[str, Any]


def edited(rng: Random, catalog: Json, most: int = 4) -> Json:
    """The catalog after one to `most` edits that leave it valid."""
    found = deepcopy(catalog)
    for _ in range(rng.randint(1, most)):
        for _try in range(20):
            draft = deepcopy(found)
            rng.choice(EDITS)(rng, draft)
            if draft != found and is_valid(draft):
                found = draft
                break
    return found


def with_cases(rng: Random, catalog: Json, answer: Callable[[Json, Json], Json], count: int = 2) -> Json:
    """The catalog with standing cases that its answers keep, and now and then one that they do not."""
    cases: list[Json] = []
    for number in range(count):
        request = random_request(rng, catalog, wish_percent=15)
        bills = answer(catalog, request)["bills"]
        promises: Json = {"has_bill": bool(bills)}
        if bills:
            skus = sorted({line["sku"] for line in bills[0]["lines"]})
            others = sorted({item["sku"] for item in catalog["items"]} - set(skus))
            price = bills[0]["price"]
            promises |= {"contains": rng.sample(skus, 1)} if rng.randrange(2) else {}
            promises |= {"never_contains": rng.sample(others, 1)} if others and rng.randrange(2) else {}
            promises |= {"price": {"at_least": price, "at_most": price + 10}} if rng.randrange(2) else {}
            promises |= {"keyed": True} if rng.randrange(2) else {}
        cases.append({"id": f"case-{number}", "says": "A case.", "request": request, "promises": promises})
    return catalog | {"contract_cases": cases}


def _item(rng: Random, draft: Json) -> Json:
    fitted = [item for item in draft["items"] if item["ports"]]
    found: Json = rng.choice(fitted)
    return found


def _set_number(rng: Random, draft: Json) -> None:
    item = _item(rng, draft)
    name, value = rng.choice(
        [
            ("price", item["price"] + rng.choice([-5, 5, 10])),
            ("standout_mm", rng.choice([5, 10, 12.5, 20, 30.0005, 60])),
            ("across_mm", rng.choice([15, 18, 22, 27])),
            ("max_kpa", rng.choice([200, 300, 350, 450, 900])),
            ("stock", rng.choice([0, 5])),
            ("lead_days", rng.choice([0, 9])),
        ]
    )
    item[name] = max(0, value)


def _set_word(rng: Random, draft: Json) -> None:
    item = _item(rng, draft)
    name, value = rng.choice(
        [
            ("status", "retired"),
            ("status", "active"),
            ("sold", not item["sold"]),
            ("name", "Another name"),
            ("family", rng.choice([x.get("family") or "kin" for x in draft["items"]])),
            ("finish", rng.choice(["black", "red"])),
            ("wetted", rng.choice([[], ["hard"], ["odd"], ["soft"]])),
        ]
    )
    item[name] = value


def _set_ports(rng: Random, draft: Json) -> None:
    item = _item(rng, draft)
    port = rng.choice(item["ports"])
    name = rng.choice(["standard", "end"])
    other = rng.choice([port for one in draft["items"] for port in one["ports"]])
    port[name] = other[name]


def _set_flow(rng: Random, draft: Json) -> None:
    item = _item(rng, draft)
    if "flow" in item:
        item["flow"]["bore_mm"] = rng.choice([3.0, 4.0, 5.5, 7.0, 9.0])


def _add_item(rng: Random, draft: Json) -> None:
    item = deepcopy(_item(rng, draft))
    item["sku"] = item["name"] = f"NEW-{rng.randrange(1000)}"
    item["price"] = max(0, item["price"] + rng.choice([-5, 0, 5]))
    item["standout_mm"] = rng.choice([5, 10, 20])
    draft["items"].insert(rng.randrange(len(draft["items"])), item)


def _remove_item(rng: Random, draft: Json) -> None:
    draft["items"].remove(_item(rng, draft))


def _add_standard(rng: Random, draft: Json) -> None:
    standard = deepcopy(rng.choice(draft["port_standards"]))
    standard["id"] = standard["name"] = f"std-{rng.randrange(1000)}"
    draft["port_standards"].append(standard)
    hookups = [hookup for chassis in draft["chassis"] for hookup in chassis["hookups"]]
    if hookups:
        hookup = rng.choice(hookups)
        old, hookup["standard"] = hookup["standard"], standard["id"]
        for item in [x for x in draft["items"] if x["kind"] in ("fitting", "line", "regulator")][:2]:
            for port in item["ports"]:
                if port["standard"] == old:
                    port["standard"] = standard["id"]


def _set_car(rng: Random, draft: Json) -> None:
    chassis = rng.choice(draft["chassis"])
    name, value = rng.choice(
        [
            ("base_kpa", rng.choice([200, 300, 400, 460])),
            ("stock_kw", rng.choice([40, 90, 200])),
            ("clearances", []),
            ("clearances", [{"spot": "left" if chassis["banks"] == 1 else "1.left", "axial_mm": 12.5}]),
            ("hookups", chassis["hookups"][1:]),
            ("mounting", chassis["mounting"][1:]),
            ("pattern", rng.choice(["p-one", "p-two"])),
            ("name", "Another car"),
        ]
    )
    chassis[name] = value


def _set_hookup(rng: Random, draft: Json) -> None:
    chassis = rng.choice(draft["chassis"])
    if chassis["hookups"]:
        hookup = rng.choice(chassis["hookups"])
        end = rng.choice([port for one in draft["items"] for port in one["ports"]])
        hookup |= {"standard": end["standard"], "end": rng.choice(["male", "female"])}


def _add_car(rng: Random, draft: Json) -> None:
    chassis = deepcopy(rng.choice(draft["chassis"]))
    chassis["id"] = chassis["name"] = f"car-{rng.randrange(1000)}"
    draft["chassis"].append(chassis)


def _remove_car(rng: Random, draft: Json) -> None:
    if len(draft["chassis"]) > 1:
        draft["chassis"].remove(rng.choice(draft["chassis"]))


def _layouts(rng: Random, draft: Json) -> None:
    layout = rng.choice(draft["layouts"])
    choice = rng.randrange(4)
    if choice == 0 and len(draft["layouts"]) > 1:
        draft["layouts"].remove(layout)
    elif choice == 1:
        draft["layouts"].append(deepcopy(layout) | {"id": f"layout-{rng.randrange(1000)}", "name": "New"})
    elif choice == 2:
        layout["placements"] = layout["placements"][::-1]
    elif len(layout["placements"]) > 1:
        layout["placements"].pop()


def _fuels(rng: Random, draft: Json) -> None:
    choice = rng.randrange(4)
    if choice == 0:
        draft["fuels"].reverse()
    elif choice == 1:
        draft["fuels"][0]["density_kg_m3"] *= 1.05
    elif choice == 2:
        fuel = deepcopy(draft["fuels"][0]) | {"id": "fresh", "name": "Fresh"}
        draft["fuels"].insert(rng.randrange(3), fuel)
        for material in draft["materials"]:
            material["ratings"]["fresh"] = rng.choice("AABD")
    elif len(draft["fuels"]) > 1:
        gone = draft["fuels"].pop(rng.randrange(len(draft["fuels"])))
        for material in draft["materials"]:
            del material["ratings"][gone["id"]]


def _materials(rng: Random, draft: Json) -> None:
    material = rng.choice(draft["materials"])
    material["ratings"][rng.choice(list(material["ratings"]))] = rng.choice("ABCD")


def _policies(rng: Random, draft: Json) -> None:
    name, value = rng.choice(
        [
            ("max_chain", rng.choice([1, 2, 3])),
            ("max_feed_drop_kpa", rng.choice([1.0, 4.0, 500.0])),
            ("max_velocity_m_s", rng.choice([1.1, 2.5, 50.0])),
            ("flow_margin", 1.5),
        ]
    )
    draft["policies"][name] = value


def _cases(rng: Random, draft: Json) -> None:
    cases = draft.get("contract_cases") or []
    if len(cases) > 1:
        cases.remove(rng.choice(cases))


def _set_case(rng: Random, draft: Json) -> None:
    """Another promise, or another question, under the same id: what counts is what was promised."""
    cases = draft.get("contract_cases") or []
    if cases:
        case = rng.choice(cases)
        if rng.randrange(2):
            case["promises"] = {"has_bill": not case["promises"]["has_bill"]}
        else:
            case["request"] = {name: case["request"][name] for name in ("chassis", "layout")}


def _add_case(rng: Random, draft: Json) -> None:
    asked = {"chassis": rng.choice(draft["chassis"])["id"], "layout": rng.choice(draft["layouts"])["id"]}
    case = {"id": f"case-{rng.randrange(1000)}", "says": "New.", "request": asked, "promises": {"has_bill": True}}
    draft["contract_cases"] = [*(draft.get("contract_cases") or []), case]


def _addons(rng: Random, draft: Json) -> None:
    if draft["addons"]:
        addon = rng.choice(draft["addons"])
        choice = rng.randrange(4)
        if choice == 0:
            addon["boost_kpa"] = rng.choice([0, 40, 120, 200])
        elif choice == 1:
            addon["clearances"] = []
        elif choice == 2:
            addon["mounting"] = [{"role": "screws", "sku": rng.choice(["SCREW", "BOLT"]), "qty": 1}]
        else:
            draft["addons"].remove(addon)


def _set_box(rng: Random, draft: Json) -> None:
    """What comes in the box of a rail: a plug for a spot more or less."""
    rails = [item for item in draft["items"] if item["kind"] == "rail"]
    if not rails:  # an edit before took the last one
        return
    rail = rng.choice(rails)
    plugs = [item["sku"] for item in draft["items"] if item["kind"] == "plug"]
    box = rail.get("supplied") or []
    if box and rng.randrange(2):
        box.pop(rng.randrange(len(box)))
    elif plugs:
        box.append({"sku": rng.choice(plugs), "qty": 1, "spot": rng.choice(rail["ports"])["spot"]})
    rail["supplied"] = box


def _set_rail(rng: Random, draft: Json) -> None:
    """Another spot of a rail is gone, or it is for other patterns."""
    rails = [item for item in draft["items"] if item["kind"] == "rail"]
    if not rails:  # an edit before took the last one
        return
    rail = rng.choice(rails)
    if rng.randrange(2) and len(rail["ports"]) > 1:
        rail["ports"].pop(rng.randrange(len(rail["ports"])))
    else:
        rail["patterns"] = rng.choice([["p-one"], ["p-two"], ["p-one", "p-two"]])


def _set_entry(rng: Random, draft: Json) -> None:
    """A spot of a layout leads elsewhere, or through a part of some kind."""
    placement = rng.choice(rng.choice(draft["layouts"])["placements"])
    entry = rng.choice(list(placement.values()))
    if entry["duty"] != "link" and rng.randrange(2):
        entry["hookup"] = {"kind": rng.choice(["factory-line", "bulkhead"])}
    else:
        entry["via"] = rng.choice([[], ["line"], ["fitting"], ["regulator"]])


def _maker(rng: Random, draft: Json) -> None:
    draft["maker"]["name"] = f"Works {rng.randrange(1000)}"


EDITS: tuple[Callable[[Random, Json], None], ...] = (
    *(_set_number, _set_number, _set_word, _set_word, _set_ports, _set_flow, _add_item, _remove_item, _add_standard),
    *(_set_car, _set_hookup, _add_car, _remove_car, _layouts, _fuels, _materials, _policies, _cases),
    *(_set_case, _add_case, _addons, _set_box, _set_rail, _set_entry, _maker),
)
