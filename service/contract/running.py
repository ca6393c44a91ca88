"""Run cases and promises against a deployment, one after the other; whatever it answers becomes a sentence."""

from collections.abc import Callable, Iterator
from functools import partial

import httpx

from service.client import Client, ClientError
from service.contract.answers import broken_promises, faults_of_answer
from service.contract.outcomes import Outcome
from service.contract.promises import PROMISES
from service.contract.site import Site
from service.documents.contract import CaseFile, FileCase

CASES = "cases"
API = "promises of the API"


def run_contract(client: Client, http: httpx.Client, cases: CaseFile) -> Iterator[Outcome]:
    """Yield what came of each case, then of each promise of the API. `http` asks the same base URL."""
    site = Site(client, http, cases)
    for case in cases.cases:
        yield _tried(CASES, f"{case.id}: {case.says}", partial(_judged, site, case))
    for name, promise in PROMISES.items():
        yield _tried(API, name, partial(promise, site))


def _judged(site: Site, case: FileCase) -> Iterator[str]:
    answer = site.client.find_bills(case.request.model_dump(exclude_unset=True))
    yield from faults_of_answer(answer, case.request)
    promises = case.promises
    if promises.key is not None and promises.key not in [bill["key"] for bill in answer["bills"]]:
        promises = promises.model_copy(update={"key": _as_given_now(site, promises.key)})
    yield from broken_promises(answer, promises)


def _as_given_now(site: Site, key: str) -> str:
    """A key that was given in an earlier format as it is given now; what names no bill stays as it is."""
    try:
        return site.client.recall_bill(key)["bill"]["key"]
    except ClientError:
        return key


def _tried(group: str, name: str, judge: Callable[[], Iterator[str]]) -> Outcome:
    broken: list[str] = []
    try:
        broken.extend(judge())
    except ClientError as error:
        broken.append(f"{type(error).__name__}: {error}")
    except httpx.HTTPError as error:
        broken.append(f"no whole answer: {error or type(error).__name__}")
    return Outcome(group, name, tuple(broken))
