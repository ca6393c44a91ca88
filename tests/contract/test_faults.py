"""The contract against one recorded site: green where it is honest, red with the right words for every fault."""

from collections.abc import Sequence

import httpx
import pytest

from service.contract import Outcome, opened, run_contract
from service.documents.contract import FileCase
from service.documents.contract_kinds import AnyCase, CaseFile
from tests.contract.faults import FAULTS, Fault
from tests.contract.quiet_faults import QUIET
from tests.contract.recorded import BASE_URL, Recorded, Request, Spoilt
from tests.contract.shop_faults import SHOP


@pytest.fixture(scope="module")
def few(site: Recorded) -> tuple[FileCase, ...]:
    """A few of the standing cases: by their exact key, with bills, and without."""
    told = CaseFile.model_validate_json(site.answered(Request("GET", f"{BASE_URL}/v1/contract/cases")).content).cases
    keyed = [case for case in told if case.promises.key is not None][:1]
    first = keyed[0].request.layout
    open_ = [case for case in told if case.promises.has_bill and case.request.layout != first][:3]
    none = [case for case in told if not case.promises.has_bill][:1]
    return (*keyed, *open_, *none)


def trial(transport: httpx.BaseTransport, cases: Sequence[AnyCase], only: str = "") -> list[Outcome]:
    with opened(BASE_URL, cases, transport) as opened_site:
        return list(run_contract(opened_site, only))


def test_the_honest_site_is_green(site: Recorded, few: tuple[FileCase, ...]) -> None:
    """And nothing is skipped: all that is promised can be tried there."""
    outcomes = trial(site, few)
    assert [(one.name, one.broken, one.why) for one in outcomes if not one.is_kept] == []


@pytest.mark.parametrize("fault", [*FAULTS, *QUIET, *SHOP], ids=lambda fault: fault.name)
def test_a_fault_is_noticed(site: Recorded, few: tuple[FileCase, ...], fault: Fault) -> None:
    """By a line that names the matter, where it is, and how to ask the same again."""
    corrupt = fault.made() if fault.made else fault.corrupt
    spoilt = Spoilt(site, corrupt, fault.misheard) if fault.misheard else Spoilt(site, corrupt)
    outcomes = trial(spoilt, few, fault.promise)
    assert "broken" in {one.state for one in outcomes}, outcomes
    told = [broken for one in outcomes for broken in one.broken]
    named = [broken for broken in told if fault.said in broken.what]
    assert named, told
    assert all(one.where.startswith(("GET /", "POST /", "HEAD /", "PUT /", "OPTIONS /")) for one in named)
    assert all(one.repeat.startswith("curl ") for one in named)


class _Silent(httpx.BaseTransport):
    """Carries requests to the site, but what goes to one path never comes back, or comes back as a failure."""

    def __init__(self, site: Recorded, path: str, status: int | None = None) -> None:
        self.site, self.path, self.status = site, path, status
        self.asked = 0

    def handle_request(self, request: Request) -> httpx.Response:
        if not request.url.path.startswith(self.path):
            return self.site.handle_request(request)
        self.asked += 1
        if self.status is None:
            raise httpx.ReadTimeout("timed out", request=request)
        if self.status == httpx.codes.BAD_GATEWAY:  # as what stands before a service says it
            return httpx.Response(self.status, html="<h1>Bad gateway</h1>")
        problem = {"type": "/v1/problems/overloaded", "title": "t", "status": self.status, "detail": "d"}
        return httpx.Response(self.status, json=problem, headers={"Content-Type": "application/problem+json"})


@pytest.mark.parametrize(("status", "state"), [(None, "slow"), (503, "failing"), (502, "failing"), (500, "failing")])
def test_who_gives_no_answer_is_not_wrong(
    site: Recorded, few: tuple[FileCase, ...], status: int | None, state: str
) -> None:
    """It is slow or failing, with the command that shows it; what has answers is kept."""
    outcomes = trial(_Silent(site, "/v1/joints", status), few, "promises of the API")
    told = {one.name: one for one in outcomes if not one.is_kept}
    broken = [one.name for one in outcomes if one.state == "broken"]
    assert broken == (["errors are problem documents"] if status == httpx.codes.INTERNAL_SERVER_ERROR else [])
    assert told["joints are true"].state == state
    assert "repeat: curl " in told["joints are true"].why


def test_a_dead_service_is_left_alone(site: Recorded, few: tuple[FileCase, ...]) -> None:
    """After three silences nothing more is asked."""
    silent = _Silent(site, "/")
    outcomes = trial(silent, few)
    assert [one.state for one in outcomes[:3]] == ["slow"] * 3
    assert {one.state for one in outcomes[3:]} == {"skipped"}
    assert silent.asked == 3


def test_without_a_question_it_is_said_why(site: Recorded) -> None:
    outcomes = trial(site, (), "bills are recalled")
    assert [(one.state, "no case is promised a bill" in one.why) for one in outcomes] == [("skipped", True)]


def test_a_case_that_is_refused_spoils_no_promise(site: Recorded, few: tuple[FileCase, ...]) -> None:
    """It is broken by itself, and another one lends its question; the caller's key goes along and is never told."""
    wrong = few[0].model_copy(
        update={"request": few[0].request.model_copy(update={"gauge": "2.top", "revision": None})}
    )
    asked: list[str | None] = []

    class Watched(httpx.BaseTransport):
        def handle_request(self, request: Request) -> httpx.Response:
            asked.append(request.headers.get("authorization"))
            return site.handle_request(request)

    with opened(BASE_URL, (wrong, *few), Watched(), key="pw-secret") as opened_site:
        outcomes = [*run_contract(opened_site, f"cases: {wrong.id}"), *run_contract(opened_site, "bills are recalled")]
    assert [one.state for one in outcomes] == ["broken", "kept", "kept"]
    assert set(asked) == {"Bearer pw-secret"}
    assert "$PORTWRIGHT_KEY" in outcomes[0].broken[0].repeat
    assert "pw-secret" not in outcomes[0].broken[0].repeat
