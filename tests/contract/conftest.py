"""The recorded site, one for all tests of a process."""

from collections.abc import Iterator

import pytest

from tests.contract.recorded import Recorded, recorded


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Recorded]:
    """One honest site whose answers are recorded."""
    with recorded(tmp_path_factory.mktemp("recorded")) as made:
        yield made
