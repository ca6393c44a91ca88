"""Both clients against the real application: every operation, typed answers, all pages."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.client import AsyncClient, InvalidRequestError, KeyReusedError, NotFoundError
from service.client.clients import Client
from service.client.sections import CHASSIS, ITEMS, SECTIONS, uses_of
from service.documents.catalog import Chassis, Item
from service.documents.request import BillRequest
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.found import by_itself
from tests.support.server import served
from tests.web.conftest import QUESTION, checks_of, library_in, links_of

ORDER: dict[str, Any] = QUESTION | {"lines": [{"sku": "RAIL-S", "qty": 1}]}
EXPLAIN = {"request": QUESTION, "sku": "RAIL-S"}
JOINT = {"one": {"sku": "RAIL-S"}, "other": {"standard": "flare-6", "end": "female"}}


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


def test_every_operation_is_answered(app: FastAPI) -> None:
    """By what its document says; the answers go together."""

    async def run() -> None:
        async with asking(app) as client:
            answer = await client.find_bills(QUESTION)
            assert await client.find_bills(BillRequest.model_validate(QUESTION)) == answer
            fetched = await client.find_bills_by_query(QUESTION)
            assert fetched.content == answer
            again = await client.find_bills_by_query(QUESTION, fetched.etag)
            assert (again.content, again.etag) == (None, fetched.etag)
            first = answer["bills"][0]
            [whole] = (await client.find_bills(QUESTION | {"limit": 1}, "full"))["bills"]
            assert (await client.recall_bill(first["key"]))["bill"] == by_itself(whole)
            assert (await client.sheet(first["key"]))["key"] == first["key"]
            assert (await client.explain(EXPLAIN))["in_bills"]
            bought = [{"sku": x["sku"], "qty": x["qty"]} for x in first["lines"] if x["source"] == "buy"]
            check = await client.check_order({"key": first["key"], "lines": bought})
            assert (check["verdict"], check["ships"]) == ("complete", {"now": 1, "rest_days": 0})
            assert check["stock"][0]["need"] == 1
            page = await client.uses("RAIL-S", limit=2)
            uses = [use async for use in client.each(uses_of("RAIL-S"), limit=2)]
            assert (uses[:2], uses[0]["roles"]) == (page.results, ["rail"])
            assert len(uses) == 4
            assert (await client.read_order({"text": "2 x RAIL-S"}))["lines"][0]["sure"]
            assert (await client.read_question({"text": "Brook hatchback"}))["request"] == {"chassis": "brook"}
            assert (await client.chassis_layouts("brook", revision=1))["chassis"] == "brook"
            assert (await client.join(JOINT))["meets"] in (True, False)
            cases = (await client.contract_cases()).content
            assert cases is not None
            assert (cases.revision, cases.cases) == (1, [])
            assert await client.health() == {"live": True, "ready": True, "revision": 1}

    asyncio.run(run())


def test_an_order_is_kept_once(app: FastAPI) -> None:
    """By its key; another order with that key is refused."""

    async def run() -> None:
        async with asking(app) as client:
            kept = await client.check_order(ORDER, "mine")
            assert await client.check_order(ORDER, "mine") == kept
            assert (await client.recall_order_check(kept["id"]))["verdict"] == kept["verdict"]
            with pytest.raises(KeyReusedError):
                await client.check_order(ORDER | {"sets": 2}, "mine")

    asyncio.run(run())


def test_refusals(app: FastAPI) -> None:
    """Name the place and the nearest known ids."""

    async def run() -> None:
        async with asking(app) as client:
            with pytest.raises(InvalidRequestError) as raised:
                await client.find_bills(QUESTION | {"chassis": "brok"})
            [fault] = raised.value.errors
            assert (fault.pointer, fault.nearest) == ("#/chassis", ["brook"])
            with pytest.raises(NotFoundError):
                await client.one(ITEMS, "nothing")

    asyncio.run(run())


@pytest.mark.parametrize("section", SECTIONS, ids=lambda section: section.path)
def test_all_pages_of_a_section(app: FastAPI, section: Any) -> None:
    """One entry a page gives what one page gives, and each is found by its id."""

    async def run() -> None:
        async with asking(app) as client:
            at_once = [one async for one in client.each(section)]
            one_by_one = [one async for one in client.each(section, limit=1)]
            assert one_by_one == at_once
            for one in at_once:
                wanted = one.sku if isinstance(one, Item) else one.id
                assert await client.one(section, wanted, revision=1) == one

    asyncio.run(run())


def test_over_http(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The sync client, against a server of its own: documents, filters, paging."""
    file = tmp_path_factory.mktemp("client") / "catalog.sqlite3"
    with library_in(file, small_catalog()):
        pass
    with served(f"sqlite:///{file}") as address, Client(address) as client:
        gauges = list(client.each(ITEMS, limit=1, kind="gauge"))
        assert {item.kind for item in gauges} == {"gauge"}
        car = client.one(CHASSIS, "brook")
        assert isinstance(car, Chassis)
        answer = client.find_bills(QUESTION)
        assert client.find_bills_by_query(QUESTION).content == answer
