"""How often somebody may ask, how much one question may take by role, and how much an account keeps."""

import asyncio
import ipaddress
import re
import shutil
import socket
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from limits import RateLimitItemPerMinute

from service.access.roles import Role, without_key
from service.storage.drafts import DraftStore
from service.storage.inquiries import InquiryStore
from service.storage.keeping import Keeping
from service.storage.keys import KeyStore
from service.storage.order_checks import OrderCheckStore
from service.storage.trail import TrailStore
from service.usecases.access_keys import AccessKeys
from service.usecases.drafts import Drafts
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.library import Library
from service.web.access import Doors
from service.web.addresses import Addresses
from service.web.app import create_app
from service.web.kept_answers import KeptAnswers
from service.web.lanes import Lanes
from service.web.rate_limits import Here, RateLimits
from tests.support.catalogs import small_catalog
from tests.web.calls import Caller, caller, problem
from tests.web.conftest import QUESTION, library_in

Json = dict[str, Any]
HTML = {"Accept": "text/html"}
KEPT = Keeping(most={"order-checks": 2, "inquiries": 1, "drafts": 1})


@pytest.fixture(name="library", scope="module")
def _library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with library_in(tmp_path_factory.mktemp("limits") / "catalog.sqlite3", small_catalog()) as library:
        yield library


@pytest.fixture(name="keys", scope="module")
def _keys(library: Library) -> AccessKeys:
    return AccessKeys(KeyStore(library._store._database))


Limited = Callable[..., Caller]


@pytest.fixture(name="limited", scope="module")
def _limited(library: Library, keys: AccessKeys) -> Iterator[Limited]:
    """Gives what calls an application that allows so many requests a minute from now on: the same one each time."""
    nobody, limits, database = without_key(frozenset({Role.ASK})), RateLimits(), library._store._database
    app = create_app(
        library,
        OrderChecks(library, OrderCheckStore(database, KEPT)),
        kept_inquiries=Inquiries(library, InquiryStore(database, KEPT)),
        kept_drafts=Drafts(library, DraftStore(database, KEPT), TrailStore(database)),
        lanes=Lanes(work_limits={Role.ASK: 1}),
        kept=KeptAnswers(2**20),
        doors=Doors(keys, nobody, nobody, limits=limits),
    )
    with caller(app) as client:

        def limited(**a_minute: int) -> Caller:
            named = {name.replace("_", "-"): most for name, most in a_minute.items()}
            vars(limits).update(vars(RateLimits(named)))
            return client

        yield limited


def bearer(keys: AccessKeys, role: Role = Role.DESK, account: str = "harbour") -> Json:
    return {"Authorization": f"Bearer {keys.make(role, account).text}"}


def test_a_key_has_its_quota(limited: Limited, keys: AccessKeys) -> None:
    """Counted by key, told with every answer, also one that was kept; then 429, which says for how long."""
    ours, others = bearer(keys), bearer(keys)
    client = limited(desk=3)
    for left in (2, 1, 0):
        answer = client.get("/v1/fuels", headers=ours)
        assert answer.status_code == 200
        assert answer.headers["ratelimit-policy"] == '"desk";q=3;w=60'
        assert re.fullmatch(rf'"desk";r={left};t=(60|[1-5]?[0-9])', answer.headers["ratelimit"])
    refused = client.get("/v1/fuels", headers=ours)
    found = problem(refused, 429, "too-many-requests")
    assert refused.headers["ratelimit"].startswith('"desk";r=0;t=')
    assert 1 <= int(refused.headers["retry-after"]) <= 60
    assert f"{refused.headers['retry-after']} seconds" in found["detail"]
    assert client.get("/v1/fuels", headers=others).status_code == 200
    assert client.get("/v1/health/live", headers=ours).status_code == 200
    assert client.get("/static/counter.css").status_code == 200


def test_who_shows_no_key_is_counted_by_address(limited: Limited) -> None:
    """What is refused counts as well."""
    client = limited(without_key=2)
    assert client.get("/v1/fuels").headers["ratelimit"].startswith('"without-key";r=1')
    assert client.get("/v1/drafts").status_code == 401
    problem(client.get("/v1/fuels"), 429, "too-many-requests")
    client = limited(without_key=0)
    assert "ratelimit" not in client.get("/v1/fuels").headers


def test_failed_keys_are_limited_hard(limited: Limited, keys: AccessKeys) -> None:
    """By address; who used a good key from there goes on."""
    used, unused = bearer(keys), bearer(keys)
    client = limited(failed_keys=2)
    assert client.get("/v1/fuels", headers=used).status_code == 200
    for number in range(2):
        bad = {"Authorization": f"Bearer pwk_012345678{number}_{'a' * 43}"}
        problem(client.get("/v1/fuels", headers=bad), 401, "unknown-key")
    problem(client.get("/v1/fuels", headers=bad), 429, "too-many-requests")
    problem(client.get("/v1/fuels", headers=unused), 429, "too-many-requests")
    assert client.get("/v1/fuels", headers=used).status_code == 200
    forged = {"Cookie": "portwright-session=0123456789.x.y"}
    assert client.get("/v1/fuels", headers=forged).status_code == 200  # as who shows none


def test_sign_ins_are_limited(limited: Limited, keys: AccessKeys) -> None:
    """The page says when to try again; a good key makes no difference then."""
    text = keys.make(Role.ASK, "shop").text
    client = limited(sign_ins=1)
    token = re.search(r'name="form_token" value="([^"]+)"', client.get("/sign-in", headers=HTML).text)
    assert token is not None
    form = {"form_token": token[1], "key": "nonsense"}
    assert client.post("/sign-in", data=form, headers=HTML).status_code == 401
    refused = client.post("/sign-in", data=form | {"key": text}, headers=HTML)
    assert refused.status_code == 429
    assert f"Try again in {refused.headers['retry-after']} seconds" in refused.text
    assert "set-cookie" not in refused.headers


def test_the_work_of_a_question_is_bounded_by_role(limited: Limited, keys: AccessKeys) -> None:
    """What is too much for one role is answered to another."""
    client = limited()
    path = f"/v1/bills?chassis={QUESTION['chassis']}&layout={QUESTION['layout']}"
    problem(client.get(path, headers=bearer(keys, Role.ASK)), 422, "too-costly")
    assert client.get(path, headers=bearer(keys, Role.DESK)).status_code == 200


def test_an_account_keeps_so_much(limited: Limited, keys: AccessKeys) -> None:
    """Past it a problem says so, by kind; what was kept is given again, and another account has its own room."""
    order = {"chassis": QUESTION["chassis"], "lines": [{"sku": small_catalog()["items"][0]["sku"], "qty": 1}]}
    full, other = bearer(keys, Role.EDITOR, "full"), bearer(keys, Role.EDITOR, "other")
    once = {"Idempotency-Key": "once"}
    client = limited()
    first = client.post("/v1/order-checks", json=order, headers=full | once)
    assert first.status_code == 201
    assert client.post("/v1/order-checks", json=order, headers=full).status_code == 201
    found = problem(client.post("/v1/order-checks", json=order, headers=full), 507, "no-room")
    assert "this account keeps 2 order checks already" in found["detail"]
    assert client.post("/v1/order-checks", json=order, headers=full | once).content == first.content
    assert client.post("/v1/order-checks", json=order, headers=other).status_code == 201
    inquiry = {"request": QUESTION, "contact": "desk@shop.example"}
    for path, body, many in (("/v1/inquiries", inquiry, "inquiries"), ("/v1/drafts", {"name": "a"}, "drafts")):
        assert client.post(path, json=body, headers=full).status_code == 201
        found = problem(client.post(path, json=body, headers=full), 507, "no-room")
        assert f"keeps 1 {many} already" in found["detail"]
        assert client.post(path, json=body, headers=other).status_code == 201


PROXIES = Addresses([ipaddress.ip_network("127.0.0.1"), ipaddress.ip_network("10.0.0.0/8")])


@pytest.mark.parametrize(
    ("client", "forwarded", "address"),
    [
        ("192.0.2.9", None, "192.0.2.9"),
        ("192.0.2.9", "198.51.100.1", "192.0.2.9"),  # no proxy of ours: anybody can say that
        ("127.0.0.1", "198.51.100.1", "198.51.100.1"),
        ("127.0.0.1", "203.0.113.5, 198.51.100.1, 10.0.0.3", "198.51.100.1"),
        ("127.0.0.1", None, "127.0.0.1"),
        ("127.0.0.1", "nonsense", "unknown"),
        ("127.0.0.1", "2001:db8:1:2:3::4", "2001:db8:1:2::/64"),
        ("2001:db8:1:2::9", None, "2001:db8:1:2::/64"),
    ],
)
def test_whose_address_it_is(client: str, forwarded: str | None, address: str) -> None:
    """That of the connection, or the last one that a proxy of ours was not."""
    headers = [] if forwarded is None else [(b"x-forwarded-for", forwarded.encode())]
    assert PROXIES.of({"type": "http", "client": (client, 5), "headers": headers}) == address


@pytest.mark.skipif(shutil.which("redis-server") is None, reason="needs redis-server")
def test_several_processes_count_together(tmp_path: Path) -> None:
    """In a Redis; while that does not answer, each alone, and nobody waits for it."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = ["redis-server", "--port", str(port), "--bind", "127.0.0.1", "--save", "", "--dir", str(tmp_path)]
    url = f"redis://127.0.0.1:{port}/0"

    async def count() -> None:
        one, other = RateLimits({"ask": 3}, url), RateLimits({"ask": 3}, url)
        left = [await limits.count("ask", "me") for limits in (one, other, one, other)]
        assert [quota.left for quota in left if quota] == [2, 1, 0, 0]
        assert [quota.is_over for quota in left if quota] == [False, False, False, True]
        looked = await one.look("ask", "me")
        assert looked is not None
        assert looked.is_over
        server.kill()
        server.wait()
        alone = await one.count("ask", "me")
        assert alone is not None
        assert (alone.left, alone.is_over) == (2, False)
        await one.close()
        await other.close()

    with subprocess.Popen(command, stdout=subprocess.PIPE) as server:
        try:
            assert server.stdout is not None
            assert any(b"Ready to accept" in line for line in server.stdout)
            asyncio.run(count())
        finally:
            server.kill()


def test_windows_end_and_are_forgotten() -> None:
    """By a clock of the process's own, so that who sets the time shuts nobody out; what has ended takes no room."""
    now_s = 1_000.0
    here, most = Here(lambda: now_s), RateLimitItemPerMinute(2)

    def count(who: str, *, add: bool = True) -> tuple[bool, int, float]:
        return asyncio.run(here.count(most, who, add=add))

    assert [count("me"), count("me"), count("me")] == [(True, 1, 60.0), (True, 0, 60.0), (False, 0, 60.0)]
    now_s += 59
    assert count("me", add=False) == (False, 0, 1.0)
    assert count("you") == (True, 1, 60.0)
    now_s += 1
    assert count("me", add=False) == (True, 2, 60.0)
    assert list(here._windows) == ["you"]
    assert count("me") == (True, 1, 60.0)
    now_s += 61
    assert count("she") == (True, 1, 60.0)
    assert list(here._windows) == ["she"]


def test_limits_hold_beside_kept_answers(limited: Limited, keys: AccessKeys) -> None:
    """An answer that is given again is counted too."""
    key = bearer(keys, Role.DESK)
    path = f"/v1/bills?chassis={QUESTION['chassis']}&layout={QUESTION['layout']}"
    client = limited(desk=2)
    assert [client.get(path, headers=key).status_code for _ in range(3)] == [200, 200, 429]
