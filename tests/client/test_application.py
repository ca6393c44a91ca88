"""The client against the real application: what operations answer, and all pages."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.client import AsyncClient, Call, InvalidRequestError, KeyReusedError, Listed, NotFoundError, operations
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.found import by_itself
from tests.web.conftest import QUESTION, checks_of, library_in, links_of

LISTS: dict[str, tuple[Callable[..., Listed[Any, Any]], Callable[..., Call[Any]]]] = {
    "items": (operations.list_items, operations.get_items),
    "chassis": (operations.list_chassis, operations.get_chassis),
    "layouts": (operations.list_layouts, operations.get_layouts),
    "addons": (operations.list_addons, operations.get_addons),
    "fuels": (operations.list_fuels, operations.get_fuels),
    "materials": (operations.list_materials, operations.get_materials),
    "port_standards": (operations.list_port_standards, operations.get_port_standards),
}
ORDER: Any = QUESTION | {"lines": [{"sku": "RAIL-S", "qty": 1}]}
EXPLAIN: Any = {"request": QUESTION, "sku": "RAIL-S"}
JOINT: Any = {"one": {"sku": "RAIL-S"}, "other": {"standard": "flare-6", "end": "female"}}


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The application over the small catalog."""
    with library_in(tmp_path_factory.mktemp("client") / "catalog.sqlite3", small_catalog()) as library:
        yield create_app(library, checks_of(library), links=links_of(library))


@asynccontextmanager
async def asking(app: FastAPI) -> AsyncIterator[AsyncClient]:
    """The async client of the application."""
    async with AsyncClient("http://127.0.0.1", transport=httpx.ASGITransport(app)) as client:
        yield client


def test_questions_are_answered(app: FastAPI) -> None:
    """By what the documents say; the answers go together."""

    async def run() -> None:
        async with asking(app) as client:
            question: Any = QUESTION
            answer = await client.find_bills(question)
            assert answer["detail"] == "reasons"
            asked = operations.find_bills_by_query(**question)
            fetched = await client.send(asked.fetched())
            assert fetched.content == answer
            again = await client.send(asked.fetched(fetched.etag))
            assert (again.content, again.etag) == (None, fetched.etag)
            brief = await client.find_bills_in_brief(question)
            assert (brief["detail"], brief["total_valid"]) == ("brief", answer["total_valid"])
            first: Any = answer["bills"][0]
            [whole] = (await client.find_bills(question | {"limit": 1}, detail="full"))["bills"]
            assert (await client.recall_bill(first["key"]))["bill"] == by_itself(whole)
            assert (await client.get_sheet(first["key"]))["key"] == first["key"]
            code = (await client.link_bill(first["key"]))["code"]
            assert first["key"] in await client.follow_short_link(code)
            assert (await client.explain_part(EXPLAIN))["in_bills"]
            bought = [{"sku": x["sku"], "qty": x["qty"]} for x in first["lines"] if x["source"] == "buy"]
            order: Any = {"key": first["key"], "lines": bought}
            check = await client.check_order(order)
            assert (check["verdict"], check["ships"]) == ("complete", {"now": 1, "rest_days": 0})
            batch = await client.check_orders([order, order])
            assert [line["result"]["verdict"] for line in batch] == ["complete", "complete"]
            page = await client.list_item_uses("RAIL-S", limit=2)
            uses = [use async for use in client.each(operations.list_item_uses("RAIL-S", limit=2))]
            assert (uses[:2], uses[0]["roles"]) == (page["results"], ["rail"])
            assert len(uses) == 4
            assert (await client.read_order({"text": "2 x RAIL-S"}))["lines"][0]["sure"]
            assert (await client.read_question({"text": "Brook hatchback"}))["request"] == {"chassis": "brook"}
            assert (await client.list_chassis_layouts("brook", revision=1))["chassis"] == "brook"
            assert (await client.join_ports(JOINT))["meets"] in (True, False)
            assert (await client.list_contract_cases())["cases"] == []
            assert await client.get_health() == {"live": True, "ready": True, "revision": 1}
            sheet = await client.send(operations.get_sheet(first["key"]).as_bytes("text/html"))
            assert b"<html" in sheet

    asyncio.run(run())


def test_an_order_is_kept_once(app: FastAPI) -> None:
    """By its key; another order with that key is refused."""

    async def run() -> None:
        async with asking(app) as client:
            kept = await client.check_order(ORDER, idempotency_key="mine")
            assert await client.check_order(ORDER, idempotency_key="mine") == kept
            assert (await client.recall_order_check(kept["id"]))["verdict"] == kept["verdict"]
            with pytest.raises(KeyReusedError):
                await client.check_order(ORDER | {"sets": 2}, idempotency_key="mine")

    asyncio.run(run())


def test_refusals(app: FastAPI) -> None:
    """Name the place and the nearest known ids."""

    async def run() -> None:
        async with asking(app) as client:
            with pytest.raises(InvalidRequestError) as raised:
                await client.find_bills({"chassis": "brok", "layout": QUESTION["layout"]})
            [fault] = raised.value.errors
            assert (fault.get("pointer"), fault.get("nearest")) == ("#/chassis", ["brook"])
            with pytest.raises(NotFoundError):
                await client.get_items("nothing")

    asyncio.run(run())


@pytest.mark.parametrize("section", LISTS)
def test_all_pages_of_a_section(app: FastAPI, section: str) -> None:
    """One entry a page gives what one page gives, and each is found by its id."""
    listing, finding = LISTS[section]

    async def run() -> None:
        async with asking(app) as client:
            at_once = [one async for one in client.each(listing())]
            one_by_one = [one async for one in client.each(listing(limit=1))]
            assert one_by_one == at_once
            for one in at_once:
                wanted = one["sku"] if section == "items" else one["id"]
                assert (await client.send(finding(wanted, revision=1)))["result"] == one

    asyncio.run(run())
