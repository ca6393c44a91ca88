"""Keys at the edge: every operation and page with every role, sessions, and whose kept things are."""

import asyncio
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import httpx
import pytest
from fastapi import APIRouter, FastAPI

from service.access.roles import RIGHTS, Right, Role, without_key
from service.storage.inquiries import InquiryStore
from service.storage.keys import KeyStore
from service.usecases import access_keys
from service.usecases.access_keys import AccessKeys
from service.usecases.keep_inquiry import Inquiries
from service.web.access import Caller, Doors, heard, told
from service.web.app import create_app
from service.web.rights import Rights
from service.web.site import site_of
from tests.support.catalogs import small_catalog
from tests.web.calls import Caller as Client
from tests.web.calls import caller as calling
from tests.web.calls import problem
from tests.web.calls import told as told_of
from tests.web.conftest import QUESTION, cases_of, checks_of, drafts_of, library_in, links_of, readings_of

Json = dict[str, Any]
NOBODY = without_key(frozenset())
ROLES = (None, *Role)


@pytest.fixture(name="keys", scope="module")
def _keys(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[FastAPI, AccessKeys]]:
    file = tmp_path_factory.mktemp("access") / "catalog.sqlite3"
    with library_in(file, small_catalog()) as library:
        database = library._store._database
        keys = AccessKeys(KeyStore(database))
        app = create_app(
            library,
            checks_of(library),
            kept_inquiries=Inquiries(library, InquiryStore(database)),
            links=links_of(library),
            readings=readings_of(library),
            kept_drafts=drafts_of(library),
            partner_cases=cases_of(library),
            doors=Doors(keys, NOBODY, NOBODY),
        )
        yield app, keys


@pytest.fixture(name="client", scope="module")
def _client(keys: tuple[FastAPI, AccessKeys]) -> Iterator[Client]:
    with calling(keys[0]) as client:
        yield client


@pytest.fixture(name="shown", scope="module")
def _shown(keys: tuple[FastAPI, AccessKeys]) -> dict[Role | None, Json]:
    """The header of a key of each role, all of one account."""
    made: dict[Role | None, Json] = {role: bearer(keys[1], role, "harbour") for role in Role}
    return made | {None: {}}


def bearer(keys: AccessKeys, role: Role, account: str) -> Json:
    return {"Authorization": f"Bearer {keys.make(role, account).text}"}


@pytest.fixture(name="operations", scope="module")
def _operations(keys: tuple[FastAPI, AccessKeys]) -> list[tuple[str, str, str]]:
    """Every operation that is described: method, path and id; what has to be named in a path is named x."""
    return [
        (method, re.sub(r"\{[^}]*\}", "x", path), operation["operationId"])
        for path, methods in keys[0].openapi()["paths"].items()
        for method, operation in methods.items()
    ]


def expected(right: Right, role: Role | None) -> int | None:
    """What is answered to a role, before anything is looked up; None: that it goes on."""
    if right in (RIGHTS[role] if role else NOBODY.rights):
        return None
    return 403 if role else 401


TABLE = {
    Right.NONE: "getLiveness getHealth getReadiness",
    Right.ASK: "findBills findBillsByQuery recallBill explainPart readQuestion joinPorts listChassisLayouts getDrawing "
    "getDropCurves getCatalogSchema getProblem listRevisions listChanges listItemUses listItems getItems listChassis "
    "getChassis listLayouts getLayouts listAddons getAddons listFuels getFuels listMaterials getMaterials "
    "listPortStandards getPortStandards listContractCases getContractCase",
    Right.DESK: "checkOrder checkOrders recallOrderCheck readOrder sendInquiry sendUnknownCar recallInquiry linkBill "
    "getSheet followShortLink",
    Right.CASES: "keepContractCase deleteContractCase makeWebhook listWebhooks getWebhook deleteWebhook pingWebhook "
    "changeWebhook rotateWebhookSecret",
    Right.PUBLISH: "publishDraft restoreRevision",
    Right.EDIT: "answerInquiry getImpact listNextParts bringDraftTables beginDraft listDrafts getDraft deleteDraft "
    "listDraftChanges listDraftTrail rebaseDraft getDraftImpact getDraftObject putDraftObject patchDraftObject "
    "removeDraftObject getDraftMaker putDraftMaker patchDraftMaker getDraftPolicies putDraftPolicies "
    "patchDraftPolicies getDraftFuelOrder putDraftFuelOrder patchDraftFuelOrder "
    "beginSweep getSweep getSweepImpact cancelSweep",
}
RIGHT_OF = {operation: right for right, names in TABLE.items() for operation in names.split()}


def test_every_operation_has_a_row(operations: list[tuple[str, str, str]]) -> None:
    """The table is of all operations, and of no other."""
    assert {operation for _, _, operation in operations} == RIGHT_OF.keys()


@pytest.mark.parametrize("role", ROLES, ids=str)
def test_the_table(
    client: Client, shown: dict[Role | None, Json], operations: list[tuple[str, str, str]], role: Role | None
) -> None:
    """Whoever may not is told so before the body is read; whoever may is not."""
    for method, path, operation in operations:
        response = client.request(method, path, headers=shown[role], content=b"never read")
        refused = expected(RIGHT_OF[operation], role)
        if refused is None:
            assert response.status_code not in (401, 403), (operation, role, response.text)
        else:
            told_ = problem(response, refused, "not-allowed" if role else "key-required")
            assert role is None or role.value in told_["detail"]
            assert (response.headers.get("www-authenticate") == "Bearer") is (refused == 401)


def test_a_route_without_a_right_is_found_at_the_start() -> None:
    """Neither an operation nor a page may be forgotten."""
    router = APIRouter()
    router.add_api_route("/v1/new-things", lambda: None, operation_id="listNewThings")
    with pytest.raises(LookupError, match="listNewThings"):
        Rights([router])
    page = APIRouter(include_in_schema=False)
    page.add_api_route("/new-page", lambda: None)
    with pytest.raises(LookupError, match="GET /new-page"):
        Rights([page])


@pytest.mark.parametrize("path", ["/v1/nothing", "/nothing", "/openapi.json", "/ask", "/v1/items"])
def test_nothing_is_given_without_a_key(client: Client, path: str) -> None:
    """Not even that there is nothing."""
    assert client.get(path).status_code == 401
    assert client.request("HEAD", path).status_code == 401


@pytest.mark.parametrize(
    "header", ["", "Basic eDp5", "Bearer", "Bearer x", "Bearer pwk_0123456789_" + "a" * 43, "Bearer " + "a" * 5_000]
)
def test_what_is_no_good_key(client: Client, header: str) -> None:
    """Which of all reasons it is, is not told; signing in and health are there for everybody."""
    problem(client.get("/v1/items", headers={"Authorization": header}), 401, "unknown-key")
    assert client.get("/v1/health/live", headers={"Authorization": header}).status_code == 200


def test_a_key_ends(keys: tuple[FastAPI, AccessKeys], client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    """When it is revoked at once in this process, soon in others; and when its days are over."""
    made = keys[1].make(Role.ASK, "harbour", days=1)
    header = {"Authorization": f"bearer {made.text}"}
    assert client.get("/v1/items", headers=header).status_code == 200
    monkeypatch.setattr(keys[1], "_now", lambda: datetime.now(UTC) + timedelta(days=2))
    assert client.get("/v1/items", headers=header).status_code == 401
    monkeypatch.undo()
    assert client.get("/v1/items", headers=header).status_code == 200
    elsewhere = AccessKeys(keys[1]._store)
    elsewhere.revoke(made.key.id)
    monkeypatch.setattr(access_keys, "SEEN_S", 0.0)
    assert client.get("/v1/items", headers=header).status_code == 401


def test_use_is_noted(keys: tuple[FastAPI, AccessKeys], client: Client) -> None:
    """With the minute, not with each request; behind people, once it is written."""
    made = keys[1].make(Role.ASK, "harbour")
    assert made.key.used_at is None
    client.get("/v1/items", headers={"Authorization": f"Bearer {made.text}"})
    assert not keys[1].note_uses()
    used = next(key.used_at for key in keys[1].all() if key.id == made.key.id)
    assert used is not None
    client.get("/v1/fuels", headers={"Authorization": f"Bearer {made.text}"})
    assert not keys[1].note_uses()
    assert next(key.used_at for key in keys[1].all() if key.id == made.key.id) == used


def test_what_is_given_for_a_key_is_for_nobody_else(client: Client, shown: dict[Role | None, Json]) -> None:
    """A cache between us and the client keeps nothing of it."""
    caching = client.get("/v1/items?revision=1", headers=shown[Role.ASK]).headers["cache-control"]
    assert "public" not in caching


# --- whose kept things are ------------------------------------------------------------------------------------


def test_kept_things_are_their_account_s(keys: tuple[FastAPI, AccessKeys], client: Client) -> None:
    """Nobody reads another's, nor learns that it is there. An idempotency key is its account's own."""
    ours, theirs = (bearer(keys[1], Role.DESK, account) for account in ("ours", "theirs"))
    lines = [{"sku": small_catalog()["items"][0]["sku"], "qty": 1}]
    order = {"chassis": QUESTION["chassis"], "lines": lines}
    once = {"Idempotency-Key": "the-same"}
    first = client.post("/v1/order-checks", json=order, headers=ours | once)
    second = client.post("/v1/order-checks", json=order, headers=theirs | once)
    assert (first.status_code, second.status_code) == (201, 201)
    path = first.headers["location"]
    assert client.get(path, headers=ours).status_code == 200
    problem(client.get(path, headers=theirs), 404, "unknown-id")


def test_inquiries_are_seen_by_their_sender_and_by_who_answers(
    keys: tuple[FastAPI, AccessKeys], client: Client
) -> None:
    """Contact lines are for those who may edit."""
    ours, theirs, editor = (
        bearer(keys[1], role, account)
        for role, account in ((Role.DESK, "ours"), (Role.DESK, "theirs"), (Role.EDITOR, "maker"))
    )
    sent = client.post("/v1/inquiries", json={"request": QUESTION, "contact": "desk@shop.example"}, headers=ours)
    assert sent.status_code == 201, sent.text
    path = sent.headers["location"]
    assert client.get(path, headers=ours).status_code == 200
    assert client.get(path, headers=theirs).status_code == 404
    assert client.get(path, headers=editor).status_code == 200
    html = {"Accept": "text/html"}
    assert "desk@shop.example" in client.get("/inquiries", headers=editor | html).text
    assert client.get("/inquiries", headers=ours | html).status_code == 403


def test_drafts_are_their_account_s(keys: tuple[FastAPI, AccessKeys], client: Client) -> None:
    """A list has one's own alone."""
    maker, other = (bearer(keys[1], Role.EDITOR, account) for account in ("maker", "other"))
    begun = client.post("/v1/drafts", json={"name": "spring"}, headers=maker)
    assert begun.status_code == 201, begun.text
    path = f"/v1/drafts/{begun.json()['id']}"
    assert client.get(path, headers=maker).status_code == 200
    problem(client.get(path, headers=other), 404, "unknown-id")
    problem(client.get(f"{path}/trail", headers=other), 404, "unknown-id")
    assert [one["name"] for one in client.get("/v1/drafts", headers=other).json()["results"]] == []
    assert client.delete(path, headers=other | {"If-Match": "*"}).status_code == 404


def test_a_partner_s_cases_are_its_account_s(keys: tuple[FastAPI, AccessKeys], client: Client) -> None:
    """Kept and deleted in one's own account alone, which need not be said; others' are seen by who edits alone."""
    ours, theirs, desk, editor, admin = (
        bearer(keys[1], role, account)
        for role, account in (
            (Role.PARTNER, "ours"),
            (Role.PARTNER, "theirs"),
            (Role.DESK, "desk"),
            (Role.EDITOR, "maker"),
            (Role.ADMIN, "maker"),
        )
    )
    path = "/v1/contract/cases"
    case = {"id": "front", "says": "s", "request": QUESTION, "promises": {"has_bill": True}}
    refused = problem(client.post(path, json=case | {"account": "theirs"}, headers=ours), 422, "invalid-request")
    assert told_of(refused) == [("#/account", '"theirs"', '"ours", or to be left out')]
    made = client.post(path, json=case, headers=ours)
    assert (made.status_code, made.headers["location"]) == (201, f"{path}/ours/front")
    assert made.json()["case"] == case | {"account": "ours"}
    assert client.post(path, json=case | {"account": "ours"}, headers=ours).status_code == 200
    seen = {
        name: client.get(path, headers=who).json()["cases"]
        for name, who in zip(("ours", "theirs", "desk", "editor"), (ours, theirs, desk, editor), strict=True)
    }
    assert seen == {"ours": [made.json()["case"]], "theirs": [], "desk": [], "editor": [made.json()["case"]]}
    for who, status in ((ours, 200), (theirs, 404), (desk, 404), (editor, 200)):
        assert client.get(f"{path}/ours/front", headers=who).status_code == status
    for who in (theirs, admin):
        problem(client.delete(f"{path}/ours/front", headers=who), 404, "unknown-id")
    assert client.delete(f"{path}/ours/front", headers=ours).status_code == 200
    odd = problem(
        client.post(path, json=case, headers=bearer(keys[1], Role.PARTNER, "a shop/7")), 422, "invalid-request"
    )
    assert told_of(odd)[0][0] == "#/account"


# --- sessions -------------------------------------------------------------------------------------------------

HTML = {"Accept": "text/html"}


def signed_in(client: Client, text: str, back: str = "/ask") -> httpx.Response:
    page = client.get("/sign-in", headers=HTML)
    token = re.search(r'name="form_token" value="([^"]+)"', page.text)
    assert token is not None
    form = {"form_token": token[1], "key": text, "back": back}
    return client.post("/sign-in", data=form, headers=HTML)


def test_pages_sign_in_and_out(keys: tuple[FastAPI, AccessKeys]) -> None:
    """A browser without a key is led to the page, comes back to where it wanted to go, and ends when it likes."""
    app, service = keys
    made = service.make(Role.EDITOR, "maker")
    with calling(app) as client:
        led = client.get("/inquiries?x=1", headers=HTML)
        assert (led.status_code, led.headers["location"]) == (303, "/sign-in?back=%2Finquiries%3Fx%3D1")
        entered = signed_in(client, made.text, "/inquiries")
        assert (entered.status_code, entered.headers["location"]) == (303, "/inquiries")
        cookie = entered.headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=lax" in cookie
        assert made.text not in cookie
        assert "Secure" not in cookie
        assert ">Sign out<" in client.get("/ask", headers=HTML).text
        assert client.get("/inquiries", headers=HTML).status_code == 200
        assert client.get("/v1/drafts").status_code == 200
        problem(client.post("/v1/drafts", json={"name": "x"}), 401, "key-required")  # no other site sends that
        page = client.get("/sign-in", headers=HTML).text
        assert "maker" in page
        token = re.search(r'name="form_token" value="([^"]+)"', page)
        assert token is not None
        client.post("/sign-out", data={"form_token": token[1]}, headers=HTML)
        assert client.get("/inquiries", headers=HTML).status_code == 303
    assert [one.what for one in service._store.sign_ins(2)] == ["signed out", "signed in"]


def test_a_session_ends_with_its_key(keys: tuple[FastAPI, AccessKeys]) -> None:
    """And one that somebody made up is none."""
    app, service = keys
    made = service.make(Role.EDITOR, "maker")
    with calling(app) as client:
        signed_in(client, made.text)
        assert client.get("/inquiries", headers=HTML).status_code == 200
        service.revoke(made.key.id)
        assert client.get("/inquiries", headers=HTML).status_code == 303
        forged = {"Cookie": f"portwright-session={made.key.id}.abcdef.{'x' * 27}"}
        assert client.get("/inquiries", headers=HTML | forged).status_code == 303


def test_a_wrong_key_is_told_and_kept_nowhere(keys: tuple[FastAPI, AccessKeys]) -> None:
    """The record has that somebody tried, never what was typed."""
    app, service = keys
    with calling(app) as client:
        page = signed_in(client, "pwk_0123456789_" + "s" * 43)
        assert page.status_code == 401
        assert "no key of this service" in page.text
        assert "s" * 43 not in page.text
    last = service._store.sign_ins(1)[0]
    assert (last.what, last.key, last.account) == ("refused", "0123456789", "")


@pytest.mark.parametrize("back", ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example"])
def test_nobody_is_sent_elsewhere(keys: tuple[FastAPI, AccessKeys], back: str) -> None:
    """After signing in one stays on this site."""
    app, service = keys
    with calling(app) as client:
        assert signed_in(client, service.make(Role.ASK, "shop").text, back).headers["location"] == "/ask"


def test_a_cookie_goes_by_tls_alone_where_others_come_by_it(keys: tuple[FastAPI, AccessKeys]) -> None:
    """Also where a proxy has the TLS, and this service is reached without."""
    app, service = keys
    before, app.state.site = app.state.site, site_of("https://parts.example", ["127.0.0.1"])
    try:
        with calling(app) as client:
            page = client.get("/sign-in", headers=HTML)
            assert "; Secure" in page.headers["set-cookie"]
            token = re.search(r'name="form_token" value="([^"]+)"', page.text)
            assert token is not None
            form = {"form_token": token[1], "key": service.make(Role.ASK, "shop").text}
            kept = {"Cookie": page.headers["set-cookie"].partition(";")[0]}  # which the client has not, by plain HTTP
            assert "; Secure" in client.post("/sign-in", data=form, headers=HTML | kept).headers["set-cookie"]
    finally:
        app.state.site = before


PLACES = {
    Role.ASK: ["/ask", "/catalog"],
    Role.DESK: ["/ask", "/order", "/catalog"],
    Role.EDITOR: ["/ask", "/order", "/catalog", "/workshop", "/inquiries"],
}


@pytest.mark.parametrize("role", PLACES)
def test_pages_lead_where_one_may_go(client: Client, shown: dict[Role | None, Json], role: Role) -> None:
    """And nowhere else; the account is told."""
    page = client.get("/ask", headers=shown[role] | HTML).text
    bar = page[page.index("<nav") : page.index("</nav>")]
    assert re.findall('href="([^"]+)"', bar) == PLACES[role]
    assert "signed in for harbour" in page
    for path in ("/workshop", "/workshop/revisions", "/workshop/next-parts", "/inquiries"):
        status = client.get(path, headers=shown[role] | HTML).status_code
        assert status not in (401, 403) if role is Role.EDITOR else status == 403


# --- where a request comes from -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("server", "client", "headers", "status"),
    [
        ("127.0.0.1", "127.0.0.1", {}, 200),
        ("::1", "::1", {}, 200),
        ("192.0.2.7", "192.0.2.9", {}, 401),
        ("192.0.2.7", "127.0.0.1", {}, 401),
        ("127.0.0.1", "127.0.0.1", {"X-Forwarded-For": "192.0.2.9"}, 401),
        ("127.0.0.1", "127.0.0.1", {"Forwarded": "for=192.0.2.9"}, 401),
    ],
)
def test_loopback_alone_is_open(
    keys: tuple[FastAPI, AccessKeys], server: str, client: str, headers: Json, status: int
) -> None:
    """Both ends have to be of this machine, and no proxy between."""
    app = create_app(None, doors=Doors(keys[1], without_key(frozenset({Role.ASK})), NOBODY))
    answered: list[int] = []

    async def ask() -> None:
        async def receive() -> Json:
            return {"type": "http.request", "body": b"", "more_body": False}

        async def send(message: Any) -> None:
            if message["type"] == "http.response.start":
                answered.append(message["status"])

        sent = [(b"host", b"127.0.0.1"), *((name.lower().encode(), text.encode()) for name, text in headers.items())]
        scope = {"type": "http", "method": "GET", "path": "/v1/schema", "raw_path": b"/v1/schema", "query_string": b""}
        ends = {"server": (server, 80), "client": (client, 5), "headers": sent, "scheme": "http", "root_path": ""}
        await app(scope | ends, receive, send)

    asyncio.run(ask())
    assert [one if one == 401 else 200 for one in answered] == [status]


def test_a_caller_is_told_to_the_other_process() -> None:
    """Whoever it is."""
    for caller in (
        Caller("häfen; & co", RIGHTS[Role.PARTNER], "0123456789", Role.PARTNER),
        NOBODY,
        without_key(frozenset({Role.ASK})),
    ):
        assert heard(told(caller)) == caller
