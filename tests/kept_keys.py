"""A thousand kept bills after five publishes, over HTTP, beside asking anew: `python -m tests.kept_keys [BILLS]`."""

import sys
from itertools import count

from tests.web.test_kept_keys import compare


def main(wanted: int) -> int:
    """Compare so many bills; returns how many random catalogs had one that is told wrong."""
    compared = wrong = 0
    for seed in count(100):
        try:
            compared += compare(seed)
        except AssertionError as error:
            wrong += 1
            print(f"seed {seed}: {str(error)[:2000]}", flush=True)
        if compared >= wanted or wrong > 20:
            print(f"{compared:,} bills of {seed - 99} catalogs, {wrong} catalogs with one that is told wrong")
            return wrong
    return wrong


if __name__ == "__main__":
    sys.exit(1 if main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000) else 0)
