"""Explanations of a part, and what of them a test asks about."""

from typing import Any

from service.documents.explain import ExplainRequest
from service.usecases.explain_part import explain_in
from tests.support.engine import edition

Json = dict[str, Any]


def explain(catalog: Json, request: Json, sku: str, spot: str | None = None) -> Json:
    """The explanation document of a part in a request."""
    question = {"request": request, "sku": sku, "spot": spot}
    return dict(explain_in(edition(catalog), ExplainRequest.model_validate(question)))


def at(explained: Json, spot: str | None) -> Json:
    """The one verdict on a spot (None: on what is at no spot)."""
    (verdict,) = (verdict for verdict in explained["verdicts"] if verdict["spot"] == spot)
    return dict(verdict)


def stopped_by(verdict: Json) -> list[tuple[str, float | None, str | None]]:
    """The rules that a verdict names, each with what is left and its unit."""
    margins = [(rule["rule"], rule["margin"] or {}) for rule in verdict["rules"]]
    return [(rule, margin.get("left"), margin.get("unit")) for rule, margin in margins]


def change(verdict: Json) -> Json | None:
    """The change that a verdict suggests, None where there is none."""
    return None if verdict["change"] is None else dict(verdict["change"]["change"])
