"""What all tests share."""

import os


def pytest_xdist_auto_num_workers() -> int:
    """Two processes for each processor: half of the time a test waits for a server, a database or a browser."""
    return 2 * (os.cpu_count() or 1)
