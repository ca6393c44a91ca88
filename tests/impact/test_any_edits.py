"""Impact on random edits of random catalogs, held to a reckoning that asks every question of both."""

from random import Random
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.impact.changes import changes_between
from service.usecases.errors import RequestFaultsError
from service.usecases.impact import impact_of, impact_told
from tests.support.engine import answer, edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited, with_cases
from tests.support.slow_impact import edits_between, in_order, slow_impact, text_of

Json = dict[str, Any]


def answer_or_none(catalog: Json, request: Json) -> Json:
    """What a catalog answers; no bills where it does not understand the request."""
    try:
        return answer(catalog, request)
    except RequestFaultsError:
        return {"bills": []}


def plain(catalog: Json) -> Json:
    """A catalog as it is once it was read: what is not told is left out."""
    return Catalog.model_validate(catalog).model_dump(mode="json", exclude_none=True)


def compare(seed: int) -> Json:
    """The impact of random edits, after it was held to the slow reckoning."""
    rng = Random(seed)
    before = plain(with_cases(rng, random_catalog(rng), answer_or_none))
    after = plain(edited(rng, before))
    compare_catalogs(before, after)
    return after


def compare_catalogs(before: Json, after: Json) -> None:
    slow = slow_impact(before, after)
    editions = edition(before), edition(after)
    impact = impact_told(impact_of(*editions), *editions)
    assert impact["counts"] == slow.counts
    told = {
        _name(x): (x["outcome"], frozenset((c["kind"], c["id"]) for c in x["because"])) for x in impact["questions"]
    }
    assert told == slow.outcomes
    names = [(x["outcome"], (x["origin"], x.get("id", ""), text_of(x["request"]))) for x in impact["questions"]]
    assert names == in_order(iter(names))
    assert {(c["kind"], c["id"]) for c in impact["changes"]} == set(edits_between(before, after))
    changes = changes_between(editions[0].catalog, editions[1].catalog)
    assert [c["fields"] for c in impact["changes"]] == [list(c.fields) for c in changes]


def _name(question: Any) -> tuple[str, str, str]:
    if question["origin"] == "case":
        return ("case", question["id"], "")
    return (question["origin"], "", text_of(question["request"]))


@pytest.mark.parametrize("seed", range(12))
def test_outcomes_and_reasons_are_those_of_asking_everything(seed: int) -> None:
    compare(seed)
