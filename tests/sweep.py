"""Impact and kept bills held to asking everything, at length: `python -m tests.sweep EDITS [FIRST_SEED]`.

Every tenth edit is one of the seed catalog as well.
"""

import sys
from collections import Counter
from pathlib import Path
from random import Random

from service.documents.folder import load_catalog
from tests.impact import test_footprints
from tests.impact.test_any_edits import compare, compare_catalogs, plain
from tests.support.random_edits import edited
from tests.usecases import test_current_bill


def main(count: int, first: int) -> None:
    """Compare so many edits of random catalogs, and a tenth as many of the seed catalog; prints those that differ."""
    failed: Counter[str] = Counter()
    seed_catalog = load_catalog(Path("seed_data")).model_dump(mode="json", exclude_none=True)
    for seed in range(first, first + count):
        try:
            compare(seed)
            test_footprints.compare(seed)
            test_current_bill.compare(seed)
            if seed % 10 == 0:
                compare_catalogs(seed_catalog, plain(edited(Random(seed), seed_catalog)))
        except AssertionError as error:
            failed["differ"] += 1
            print(f"seed {seed}: {str(error)[:2000]}", flush=True)
    print(f"{count} edits, {failed['differ']} differ")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
