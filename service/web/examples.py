"""Real examples for the OpenAPI document: the use cases run on the seed catalog, so that each can be sent as it is."""

import json
from datetime import UTC, datetime
from functools import cache
from itertools import product
from typing import Any

from pydantic_core import to_jsonable_python

from service.documents.catalog import Catalog
from service.documents.explain import ExplainRequest
from service.documents.folder import load_catalog, seed_folder
from service.documents.inquiry import SentInquiry
from service.documents.joint import JointQuestion
from service.documents.money import money_of
from service.documents.order import OrderRequest
from service.documents.order_reading import OrderText
from service.documents.packed import ONCE
from service.documents.request import BillRequest
from service.documents.unknown_car import SentUnknownCar
from service.usecases.assembly_sheet import sheet_of
from service.usecases.bill_keys import decode_key
from service.usecases.browse import chassis_layouts
from service.usecases.check_order import check_order
from service.usecases.contract_cases import contract_cases as cases_of
from service.usecases.draw_bill import drawing_of
from service.usecases.drop_curves import drop_curves
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in, found_in
from service.usecases.impact import impact_of, impact_told
from service.usecases.impact_orders import orders_told
from service.usecases.join import join_in
from service.usecases.keep_inquiry import inquiry_of
from service.usecases.library import Edition
from service.usecases.next_parts import next_parts_in
from service.usecases.part_uses import uses_of
from service.usecases.read_order import read_in
from service.usecases.read_question import question_in
from service.usecases.recall_bill import recall_in, recalled_told
from service.usecases.short_link import codes_of
from service.usecases.unknown_car import inquiry_of as inquiry_of_car
from service.usecases.unknown_car import said_of as told_of_car
from service.web.problems import fault, faulty, problem_of


@cache
def edition() -> Edition:
    """The seed catalog as revision 1."""
    return Edition(1, load_catalog(seed_folder()))


@cache
def question() -> dict[str, Any]:
    """A question without a wish that the catalog answers: the first car and layout with one bill, else with fewest."""
    catalog = edition().catalog
    fewest: tuple[int, dict[str, Any]] | None = None
    for chassis, layout in product(catalog.chassis, catalog.layouts):
        asked = {"chassis": chassis.id, "layout": layout.id}
        bills = answer_in(edition(), BillRequest.model_validate(asked))["total_valid"]
        if bills and (fewest is None or bills < fewest[0]):
            fewest = bills, asked
        if bills == 1:
            break
    if fewest is None:
        raise LookupError("no question has an answer in the seed catalog")
    return fewest[1]


@cache
def answer() -> dict[str, Any]:
    """The answer to that question."""
    return dict(found_in(edition(), BillRequest.model_validate(question()), "reasons"))


@cache
def recalled() -> dict[str, Any]:
    """The first bill of that answer, recalled by its key."""
    told = answer_in(edition(), BillRequest.model_validate(question()))
    key = told["bills"][0]["key"]
    held = decode_key(key)
    return dict(recalled_told(recall_in(edition(), held, key), held, edition()))


def sheet() -> dict[str, Any]:
    """The assembly sheet of that bill."""
    key = answer()["bills"][0]["key"]
    return dict(sheet_of(recall_in(edition(), decode_key(key), key)))


def short_link() -> dict[str, Any]:
    """The short link to that bill."""
    code = next(codes_of(answer()["bills"][0]["key"]))
    return {"code": code, "path": f"/b/{code}"}


def drawing() -> dict[str, Any]:
    """The drawing of that bill."""
    key = answer()["bills"][0]["key"]
    return dict(drawing_of(recall_in(edition(), decode_key(key), key)))


def curves() -> dict[str, Any]:
    """The curves of the first chassis up to 150 kW."""
    return dict(drop_curves(edition(), edition().catalog.chassis[0].id, power_kw=150))


def order() -> dict[str, Any]:
    """An order that the seed catalog's first car is well served with: what the bill above has to be bought."""
    bought = [line for line in answer()["bills"][0]["lines"] if line["source"] == "buy"]
    lines = [{"sku": line["sku"], "qty": line["qty"]} for line in bought]
    return {"chassis": question()["chassis"], "layout": question()["layout"], "lines": lines}


def order_check() -> dict[str, Any]:
    """The check of that order."""
    return {"id": "Xq3vYb0TzLr8mWk2hNc5Ug", **check_order(edition(), OrderRequest.model_validate(order()))}


def recalled_order_check() -> dict[str, Any]:
    """That check given again while its revision is the newest."""
    text = "Catalog revision 1 judges this order the same."
    return order_check() | {"current": {"revision": 1, "same": True, "verdict": "complete", "text": text}}


def batch() -> str:
    """That order, and one for a car that nobody knows."""
    return "".join(json.dumps(one) + "\n" for one in (order(), order() | {"chassis": "nobody-s"}))


def batch_answer() -> str:
    """The answer to that: a check, and the problem of the second line alone."""
    unknown = fault({"pointer": "/chassis"}, "nobody-s", "the id of a chassis of this revision")
    problem = problem_of(faulty((unknown,)), "3f8c2a5e-1d47-4b06-9a53-6c0f2e7d9b18#2")
    lines = (
        {"line": 1, "status": 201, "result": order_check()},
        {"line": 2, "status": problem.status, "problem": problem.model_dump(exclude_none=True)},
    )
    return "".join(json.dumps(line) + "\n" for line in lines)


def order_text() -> dict[str, Any]:
    """An order as somebody wrote it: a part that is sure, one that is misspelt, and a greeting."""
    sure, *others = order()["lines"]
    misspelt = (others[0] if others else sure)["sku"]
    return {"text": f"Hello,\n2 x {sure['sku']}\n{misspelt[:-2]}{misspelt[-1]} (4)"}


@cache
def read_order() -> dict[str, Any]:
    """What is read of that order."""
    return dict(read_in(edition(), OrderText.model_validate(order_text())))


def question_text() -> dict[str, Any]:
    """A question as a customer says it: its car, power and layout are understood, "turbo" is asked back."""
    chassis, layout = edition().catalog.chassis[0], edition().catalog.layouts[0]
    return {"text": f"My {chassis.name} with a turbo, 90 kW, {layout.name}, and a gauge on top"}


@cache
def read_question() -> dict[str, Any]:
    """What is read of that question."""
    return dict(question_in(edition(), question_text()["text"]))


def explain_question() -> dict[str, Any]:
    """A question about the request above: the first fitting that its bill does not have."""
    used = {line["sku"] for line in answer()["bills"][0]["lines"]}
    unused = (item.sku for item in edition().catalog.items if item.kind == "fitting" and item.sku not in used)
    return {"request": question(), "sku": next(unused)}


@cache
def explanation() -> dict[str, Any]:
    """The answer to that question."""
    return dict(explain_in(edition(), ExplainRequest.model_validate(explain_question())))


def inquiry_request() -> dict[str, Any]:
    """A question that the seed catalog cannot answer, sent to the workshop."""
    asked = question() | {"max_price": 1}
    return {"request": asked, "contact": "Ottilie Brandt, +00 555 0119", "note": "For a customer on the phone."}


@cache
def inquiry() -> dict[str, Any]:
    """That inquiry as it is kept."""
    asked = SentInquiry.model_validate(inquiry_request())
    kept = inquiry_of(asked, answer_in(edition(), asked.request), datetime(2026, 3, 1, 12, tzinfo=UTC))
    return dict(kept) | {"id": "Xq3vYb0TzLr8mWk2hNc5Ug", "status": "open", "reply": None, "answered": None}


def inquiry_change() -> dict[str, Any]:
    """The workshop's answer to it."""
    return {"status": "answered", "reply": "Not at that price: the rail alone costs more."}


def answered_inquiry() -> dict[str, Any]:
    """That inquiry with the answer."""
    return inquiry() | inquiry_change() | {"answered": "2026-03-02T08:30:00Z"}


def sent_unknown_car() -> dict[str, Any]:
    """A car that the seed catalog does not have."""
    car = {"car": "Alder pick-up, 1994", "engine": "1.9 litre", "cylinders": 4, "banks": 1, "ends": "two 8 mm spigots"}
    return {"car": car, "contact": "Ottilie Brandt, +00 555 0119"}


@cache
def unknown_car() -> dict[str, Any]:
    """What is told of that car, and its inquiry."""
    asked = SentUnknownCar.model_validate(sent_unknown_car())
    kept = dict(inquiry_of_car(edition(), asked, datetime(2026, 3, 1, 12, tzinfo=UTC)))
    kept |= {"id": "Wm4kRd7Yq1ZsNc0uPv8Lxg", "status": "open", "reply": None, "answered": None}
    return {"inquiry": kept, "said": told_of_car(edition(), asked.car)}


def joint_question() -> dict[str, Any]:
    """A port of the rail above, and the line of its car."""
    sku = answer()["bills"][0]["lines"][0]["sku"]
    rail = next(item for item in edition().catalog.items if item.sku == sku)
    hookup = edition().catalog.chassis[0].hookups[0]
    return {
        "one": {"sku": sku, "port": rail.ports[0].id},
        "other": {"standard": hookup.standard, "end": hookup.end},
    }


def joint_answer() -> dict[str, Any]:
    """The answer to that question."""
    return dict(join_in(edition(), JointQuestion.model_validate(joint_question())))


def detail(section: str) -> dict[str, Any]:
    """The first document of a section."""
    return {"revision": 1, **_money(section), "result": documents(section)[0]}


def page(section: str) -> dict[str, Any]:
    """The first page of a section, one entry long."""
    return {"revision": 1, **_money(section), "results": documents(section)[:1]}


def _money(section: str) -> dict[str, Any]:
    return {**money_of(edition().revision)} if section == "items" else {}


@cache
def uses() -> dict[str, Any]:
    """The first page of the uses of the first part that a bill buys, one entry long."""
    sku = order()["lines"][0]["sku"]
    return {"revision": 1, "sku": sku, "results": uses_of(edition(), sku, 0, 1).uses}


def revisions() -> dict[str, Any]:
    """The revisions of a service that has the seed catalog alone."""
    counts = {name: len(objects) for name, objects in edition().catalog.texts.items() if name not in ONCE}
    maker = edition().catalog.maker.name
    published = "2026-03-01T12:00:00Z"
    return {"results": [{"number": 1, "published": published, "maker": maker, "digest": "0" * 64, "counts": counts}]}


def being_worked_out(revision: int = 1) -> dict[str, Any]:
    """What is said of an answer that is not there yet."""
    return {"revision": revision, "text": "It is being worked out: ask again in 2 seconds."}


@cache
def dearer() -> dict[str, Any]:
    """The part that a second revision makes dearer: one that few bills are told by, as it comes in an earlier finish
    too."""
    families: set[str] = set()
    for item in documents("items"):
        if item.get("family") in families:
            return {**item, "price": item["price"] + 100}
        families |= {item["family"]} if "family" in item else set()
    raise LookupError("no part comes in two finishes in the seed catalog")


def _price_change() -> dict[str, Any]:
    return {"kind": "item", "id": dearer()["sku"], "what": "changed", "fields": ["price"]}


def changes() -> dict[str, Any]:
    """What a second revision changed: a price."""
    return {"since": 1, "revision": 2, "revisions": [{"revision": 2, "changes": [_price_change()]}]}


@cache
def impact() -> dict[str, Any]:
    """What that does to the standing questions of a service that was asked nothing yet. It takes some tenths of a
    second."""
    whole = edition().catalog.whole().model_dump(exclude_none=True)
    items = [dearer() if item["sku"] == dearer()["sku"] else item for item in whole["items"]]
    after = Edition(2, Catalog.model_validate(whole | {"items": items}))
    told = impact_told(impact_of(edition(), after), edition(), after)
    return {**told, "orders": orders_told(edition(), after, None)}


def begun_sweep() -> dict[str, Any]:
    """What is to be held against what."""
    return {"from": 1, "to": 2}


def swept() -> dict[str, Any]:
    """A sweep that has just begun."""
    told = {"id": "5d2c7be1f0a94c6e8b13a7d09e4f6c21", **begun_sweep(), "status": "running"}
    return told | {"begun": "2026-03-01T12:00:00Z", "done": 0, "total": None, "impact": None}


def done_sweep() -> dict[str, Any]:
    """That sweep when it is done: each question was asked."""
    count = sum(impact()["counts"].values())
    return swept() | {"status": "done", "done": count, "total": count, "impact": f"/v1/sweeps/{swept()['id']}/impact"}


@cache
def next_parts() -> list[dict[str, Any]]:
    """The parts that would give questions a bill. It takes a second."""
    return [dict(one) for one in next_parts_in(edition())]


def parameters() -> dict[str, Any]:
    """What may stand in a query, by the name of the parameter."""
    catalog = edition().catalog
    skus = [item.sku for item in catalog.items]
    gauge = next((item.sku for item in catalog.items if item.kind == "gauge"), skus[-1])
    rail = next(item for item in catalog.items if item.sku == answer()["bills"][0]["lines"][0]["sku"])
    finish = next((item.finish for item in catalog.items if item.finish), None)
    told = {
        **question(),
        "fits": question()["chassis"],
        "fuel": catalog.fuels[0].id,
        "addons": catalog.addons[0].id if catalog.addons else None,
        "finish": finish,
        "exclude": gauge,
        "have": f"{gauge}:1",
        "own_rail": f"{rail.ports[0].spot}:{rail.ports[0].standard}:{rail.ports[0].end}",
        "mates": f"{catalog.port_standards[0].id}:female",
    }
    return {name: value for name, value in told.items() if value is not None}


@cache
def documents(section: str) -> list[Any]:
    """The documents of a section as plain JSON. Whoever reads them leaves them as they are."""
    plain: list[Any] = to_jsonable_python(list(getattr(edition().catalog, section)), exclude_none=True)
    return plain


def layouts() -> dict[str, Any]:
    """The layouts of the first chassis."""
    chassis = edition().catalog.chassis[0].id
    return {
        "revision": 1,
        **money_of(edition().revision),
        "chassis": chassis,
        "layouts": chassis_layouts(edition(), chassis),
    }


@cache
def contract_cases() -> dict[str, Any]:
    """The standing cases of the seed catalog."""
    return cases_of(edition()).model_dump(mode="json", exclude_defaults=True)


def partner_case() -> dict[str, Any]:
    """What a shop counts on: that there is a bill, with the rail that it shows."""
    request = question()
    rail = next(line["sku"] for line in answer()["bills"][0]["lines"])
    return {
        "account": "shop-7",
        "id": "front-page",
        "says": "What the front page of the shop shows.",
        "request": request,
        "promises": {"has_bill": True, "contains": [rail]},
    }


def new_webhook() -> dict[str, Any]:
    """An address that is told of new revisions."""
    return {"url": "https://shop.example/portwright", "events": ["revision.published"]}


def webhook() -> dict[str, Any]:
    """That webhook as it is kept."""
    told = {"active": True, "created": "2026-03-01T12:00:00Z"}
    return {"id": "wh_Xq3vYb0TzLr8mWk2hNc5Ug", **new_webhook(), **told}


def webhook_change() -> dict[str, Any]:
    """What a webhook is to be from now on."""
    return {"events": ["revision.published"], "active": True}


def rotated_webhook() -> dict[str, Any]:
    """That webhook when its secret is replaced."""
    return made_webhook() | {"old_secret_ends": "2026-03-02T12:00:00Z"}


def made_webhook() -> dict[str, Any]:
    """That webhook when it is made."""
    return webhook() | {"secret": "whsec_" + "A" * 43 + "="}


def webhook_with_messages() -> dict[str, Any]:
    """That webhook, with a message that tries it."""
    at = "2026-03-02T08:30:00Z"
    message = {"id": "msg_Wm4kRd7Yq1ZsNc0uPv8Lxg", "event": "ping", "created": at, "tries": 0}
    return webhook() | {"messages": [message | {"outcome": "waiting", "due": at}]}


def kept_case() -> dict[str, Any]:
    """That case as it is kept."""
    return {"case": partner_case(), "revision": 1, **money_of(edition().revision), "not_kept": []}
