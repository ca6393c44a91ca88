"""A case: one change rules one part out, by one rule alone; undone, the part stands in a bill."""

from dataclasses import dataclass, field
from typing import Any

from tests.support.builders import Json, catalog
from tests.support.reading import ask, ruled_out, stands


@dataclass(frozen=True)
class Case:
    """Where the part stands before the change (to the catalog, or wishes added to the request), and what is said after.

    `spot` None: the part is the rail. `given`: changes to the small catalog that hold before and after.
    """

    asked: Json
    sku: str
    spot: str | None
    text: str
    changes: Json = field(default_factory=dict)
    wishes: Json = field(default_factory=dict)
    given: Json = field(default_factory=dict)


def assert_ruled_out(rule: str, case: Case) -> dict[str, Any]:
    """Assert that the case's change rules its part out, by this rule and in these words; give the answer after it."""
    before = ask(catalog(case.given), case.asked)
    assert stands(before, case.sku, case.spot)
    assert ruled_out(before, case.sku, case.spot) == []
    after = ask(catalog(case.given, case.changes), case.asked | case.wishes)
    assert not stands(after, case.sku, case.spot)
    assert ruled_out(after, case.sku, case.spot) == [(rule, case.text)]
    return after
