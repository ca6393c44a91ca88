"""Rows of the benchmark: a ratio, what it should reach, and how all of them are told."""

import json
from collections.abc import Sequence
from dataclasses import dataclass, field

from rich.table import Table


@dataclass(frozen=True)
class Row:
    """A ratio of two figures of one run.

    `target`: what it should reach, at least or (`is_limit`) at most; None where nothing is promised. `figures`: what it
    was worked out from, by name with its unit. `floor`: what the short form asks for where the target is not reached
    yet, in place of a share of it.
    """

    what: str
    ratio: float
    target: float | None = None
    is_limit: bool = False
    figures: dict[str, float] = field(default_factory=dict)
    floor: float | None = None

    def reaches(self, share: float = 1.0) -> bool:
        """Whether it comes as far as this share of its target."""
        if self.target is None:
            return True
        if share < 1 and self.floor is not None:
            return self.ratio >= self.floor
        return self.ratio <= self.target / share if self.is_limit else self.ratio >= self.target * share


def as_table(rows: Sequence[Row], share: float) -> Table:
    """The rows for people; those that miss this share of their target are marked."""
    table = Table(title="Ratios of one run")
    table.add_column("what")
    table.add_column("reached", justify="right", no_wrap=True)
    table.add_column("to reach", justify="right", no_wrap=True)
    table.add_column("from")
    for row in rows:
        figures = ", ".join(f"{name} {value:.4g}" for name, value in row.figures.items())
        reached = f"{row.ratio:.3g}" if row.reaches(share) else f"[bold red]{row.ratio:.3g}[/]"
        table.add_row(row.what, reached, _target(row), figures)
    return table


def as_json(rows: Sequence[Row]) -> str:
    """The rows for programs."""
    told = [
        {
            "what": row.what,
            "ratio": row.ratio,
            "target": row.target,
            "at": "most" if row.is_limit else "least",
            "reached": row.reaches(),
            "figures": row.figures,
        }
        for row in rows
    ]
    return json.dumps({"rows": told}, indent=2)


def _target(row: Row) -> str:
    if row.target is None:
        return ""
    return f"{'≤' if row.is_limit else '≥'} {row.target:g}"
