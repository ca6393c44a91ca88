"""Keys of bills that are kept, after five publishes: what HTTP tells of them beside asking anew.

A thousand bills: `python -m tests.kept_keys`.
"""

from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

from service.documents.catalog import Catalog
from service.web.app import create_app
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited
from tests.support.random_requests import random_request
from tests.usecases.test_current_bill import UNGROUPED, body
from tests.web.calls import ask, get
from tests.web.conftest import library_in

PUBLISHES = 5
FULL = UNGROUPED | {"detail": "full"}


def compare(seed: int) -> int:
    """How many bills of a random catalog were compared after publishes of random edits."""
    rng = Random(seed)
    first = last = random_catalog(rng)
    with TemporaryDirectory() as folder, library_in(Path(folder) / "file", first) as library:
        app = create_app(library)
        requests = [random_request(rng, first, wish_percent=10) for _ in range(4)]
        kept = [(request, bill) for request in requests for bill in ask(app, request | FULL).json()["bills"]]
        for _ in range(PUBLISHES):
            last = edited(rng, last, most=2)
            library.publish(Catalog.model_validate(last))
        succeeds = {x["sku"]: x["superseded_by"] for x in last["items"] if x.get("superseded_by")}
        answers = [ask(app, request | FULL) for request in requests]
        anew = {str(request): answer for request, answer in zip(requests, answers, strict=True)}
        return sum(_is_right(app, bill, anew[str(request)], succeeds) for request, bill in kept)


def _is_right(app: Any, bill: Any, answer: Any, succeeds: dict[str, str]) -> bool:
    """Whether a bill could be compared: not where more are valid than are listed."""
    current = get(app, f"/v1/bills/{bill['key']}").json()["current"]
    if answer.status_code == 422:
        assert not current["valid"]
        return True
    told = answer.json()
    if told["total_valid"] > len(told["bills"]):
        return False
    assert current["revision"] == told["revision"]
    same = [x for x in told["bills"] if body(x, {}) == body(bill, {})]
    same = same or [x for x in told["bills"] if body(x, {}) == body(bill, succeeds)]
    assert current["valid"] is bool(same), (bill["key"], current)
    assert (current["price"], current["key"]) == ((same[0]["price"], same[0]["key"]) if same else (None, None))
    return True


def test_a_kept_key_tells_what_asking_anew_tells() -> None:
    assert sum(map(compare, range(1))) > 0
