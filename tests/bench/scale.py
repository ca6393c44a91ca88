"""What a large catalog costs: import, start, memory and a warm query, as `tests/bench_scale.py` measures them."""

from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.report import Row
from tests.bench_scale import Scale

LARGE, SMALL = 100_000, 100


def rows(items: int = LARGE) -> list[Row]:
    """All rows of size. Memory is told for a large catalog: what so many items take, times the share they are of it."""
    with TemporaryDirectory() as folder:
        scale, like = Scale(Path(folder), items), Scale(Path(folder), SMALL)
        of_large = LARGE / items
        parsing = {"items": items, "parsing s": scale.parsed.seconds}
        return [
            _at_most(
                f"warm query, against {SMALL} items",
                scale.warm_ratio(like),
                1.3,
                {"items": items, "ms": scale.warm.seconds * 1000, f"at {SMALL}": like.warm.seconds * 1000},
            ),
            _at_most("start, against parsing", scale.start_ratio(), 3, parsing | {"s": scale.started.seconds}),
            _at_most("import, against parsing", scale.import_ratio(), 8, parsing | {"s": scale.imported.seconds}),
            _at_most(
                "memory of the import, against the JSON",
                scale.import_memory_ratio(),
                6,
                {"MB": scale.imported.most_mb, "JSON": scale.json_mb},
            ),
            _at_most(
                f"memory over the empty process [MB for {LARGE:,} items]",
                scale.memory_mb() * of_large,
                300,
                {"items": items, "MB": scale.compiled.more_mb, "started": scale.started.more_mb},
            ),
        ]


def _at_most(what: str, ratio: float, target: float, figures: dict[str, float]) -> Row:
    return Row(what, ratio, target, is_limit=True, figures=figures)
