"""What a rule found, as facts; the words come later."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Facts = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule and its facts; units stand in the names of the facts."""

    rule: str
    facts: Facts


@dataclass(frozen=True, slots=True)
class Rejection:
    """The first rule that stops a part, at a spot where one is meant."""

    sku: str
    spot: str | None
    finding: Finding
