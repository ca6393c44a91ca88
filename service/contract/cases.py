"""A standing case held to a deployment: its question is asked, and the answer is judged."""

from collections.abc import Iterator

from service.client import ClientError, operations
from service.contract.answers import broken_promises, faults_of_answer
from service.contract.outcomes import Broken
from service.contract.site import Site
from service.documents.contract import FileCase


def judged(site: Site, case: FileCase) -> Iterator[Broken]:
    """Yield what is wrong with the answer to a case, by itself and by what the case promises."""
    answer = site.ask(operations.find_bills(case.request.model_dump(exclude_unset=True)))
    yield from faults_of_answer(answer, case.request)
    promises = case.promises
    if promises.key is not None and promises.key not in [bill["key"] for bill in answer["bills"]]:
        asked = site.watch.last
        promises = promises.model_copy(update={"key": _as_given_now(site, promises.key)})
        site.watch.last = asked
    yield from broken_promises(answer, promises)


def _as_given_now(site: Site, key: str) -> str:
    """A key that was given in an earlier format as it is given now; what names no bill stays as it is."""
    try:
        return site.ask(operations.recall_bill(key))["bill"]["key"]
    except ClientError:
        return key
