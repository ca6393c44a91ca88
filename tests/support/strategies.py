"""Hypothesis strategies: random small catalogs with a request each."""

import json
from math import prod
from typing import Any

from hypothesis import assume, note
from hypothesis import strategies as st

from tests.support.brute_force import settings
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_request
from tests.support.slow_chains import Question

MOST_COMBINATIONS = 1_500


@st.composite
def questions(draw: st.DrawFn, wish_percent: int = 10) -> tuple[dict[str, Any], dict[str, Any]]:
    """A catalog and a request on it with few enough combinations to try them all."""
    rng = draw(st.randoms(use_true_random=False))
    catalog = random_catalog(rng)
    request = random_request(rng, catalog, wish_percent)
    assume(combinations(catalog, request) <= MOST_COMBINATIONS)
    note(json.dumps([catalog, request]))
    return catalog, request


def combinations(catalog: dict[str, Any], request: dict[str, Any]) -> int:
    """How many choices of chains there are before stock, budget and flow."""
    question = Question(catalog, request)
    return sum(prod(map(len, setting.candidates.values())) for setting in settings(question))
