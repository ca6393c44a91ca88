"""Hold the details of answers to each other and to an earlier checkout: `python -m tests.details --earlier FOLDER`.

Random requests on random catalogs, every fourth time on the catalog of `seed_data/`. `full` says what the earlier code
said, value for value, but that keys may be of another format; `reasons` and `brief` say nothing that `full` does not.
The earlier code answers in a process of its own.
"""

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

from pydantic_core import to_json, to_jsonable_python

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import found_in
from service.usecases.library import Edition, open_edition

Json = dict[str, Any]
SEED_CATALOG = Path(__file__).parents[1] / "seed_data"
REQUESTS_A_CATALOG = 25
SEED_EVERY = 4


def main() -> None:
    given = _arguments()
    if given.answering:
        _answer()
        return
    from tests.support.details import differences, faults  # the earlier code need not have it

    with _answering(given.earlier.resolve()) as earlier:
        tried = answered = wrong = 0
        for edition, catalog, request in _asked(given.requests, given.seed):
            question = BillRequest.model_validate(request)
            full = json.loads(to_json(found_in(edition, question, "full")))
            found = [*faults(edition, question), *differences(_earlier(earlier, catalog, request), full)]
            tried, answered, wrong = tried + 1, answered + bool(full["bills"]), wrong + bool(found)
            for fault in found:
                print(json.dumps(request), fault, flush=True)
            if tried % 1000 == 0 or tried == given.requests:
                print(f"{tried} requests, {answered} with bills, {wrong} wrong", flush=True)
    sys.exit(wrong > 0)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.details", description="Hold details of answers together.")
    parser.add_argument("--earlier", type=Path, help="a checkout of the code that said the same")
    parser.add_argument("--requests", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=20261129)
    parser.add_argument("--answering", action="store_true", help="answer what comes, for the process that compares")
    return parser.parse_args()


def _asked(requests: int, seed: int) -> Iterator[tuple[Edition, Json, Json]]:
    """So many requests, each with its catalog; what comes to a fault of the request is left out."""
    from tests.support.random_questions import catalog_with_bills
    from tests.support.random_requests import random_facts, random_request

    rng, asked = Random(seed), 0
    seeded: Json = to_jsonable_python(load_catalog(SEED_CATALOG), exclude_none=True)
    for number in range(requests):
        catalog = seeded if number % SEED_EVERY == 0 else catalog_with_bills(rng)
        edition = open_edition(1, Catalog.model_validate(catalog))
        for _ in range(REQUESTS_A_CATALOG):
            if asked == requests:
                return
            request = random_request(rng, catalog, wish_percent=12)
            if rng.randrange(4) == 0:
                request |= random_facts(rng, catalog, request)
            asked += 1
            yield edition, catalog, request


def _answering(folder: Path) -> "subprocess.Popen[str]":
    command = [sys.executable, str(Path(__file__).resolve()), "--answering"]
    environment = {"PYTHONPATH": str(folder)}
    return subprocess.Popen(
        command, cwd=folder, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )


_SENT: list[Json] = []
"""The catalog that the earlier code has."""


def _earlier(process: "subprocess.Popen[str]", catalog: Json, request: Json) -> Json:
    assert process.stdin is not None
    assert process.stdout is not None
    if not _SENT or _SENT[0] is not catalog:
        _SENT[:] = [catalog]
        process.stdin.write(json.dumps({"catalog": catalog}) + "\n")
    process.stdin.write(json.dumps({"request": request}) + "\n")
    process.stdin.flush()
    answer: Json = json.loads(process.stdout.readline())
    return answer


def _answer() -> None:
    """Answer each request that comes in full, in the catalog that came last."""
    edition: Edition | None = None
    for line in sys.stdin:
        came = json.loads(line)
        if "catalog" in came:
            edition = open_edition(1, Catalog.model_validate(came["catalog"]))
        elif edition is not None:
            answer = found_in(edition, BillRequest.model_validate(came["request"]), "full")
            sys.stdout.write(to_json(answer).decode() + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
