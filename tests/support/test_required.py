"""What a run promises to have is not skipped."""

import pytest

from tests.support.required import require_or_skip


@pytest.mark.parametrize(
    ("promised", "outcome"),
    [("", pytest.skip.Exception), ("docker", pytest.skip.Exception), ("docker, postgres", pytest.fail.Exception)],
)
def test_a_promise_turns_a_skip_into_a_failure(
    monkeypatch: pytest.MonkeyPatch, promised: str, outcome: type[BaseException]
) -> None:
    """With and without the name in PORTWRIGHT_REQUIRE."""
    monkeypatch.setenv("PORTWRIGHT_REQUIRE", promised)
    with pytest.raises(outcome, match="no server"):
        require_or_skip("postgres", "no server")
