"""A pytest plugin: `pytest --portwright-url URL` holds a deployment to its cases and promises, each a test of its own.

Nothing of the service is imported before the option is given, so that other test runs pay nothing for it.
"""

import os
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest

_URL, _CASES, _ONLY = "--portwright-url", "--portwright-cases", "--portwright-only"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options of this plugin."""
    group = parser.getgroup("portwright", "hold a Portwright service to its contract")
    group.addoption(_URL, metavar="URL", help="where the service is, such as http://127.0.0.1:8000")
    group.addoption(
        _CASES, metavar="FILE", type=Path, help="a file of your own cases; default: those the service tells"
    )
    group.addoption(_ONLY, metavar="TEXT", default="", help="only what has this text in its name")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(session: pytest.Session, config: pytest.Config, items: list[pytest.Item]) -> None:
    """Add a test for each case and each promise, where a service is named."""
    if config.getoption(_URL):
        items.extend(_contract_items(session, config))


def _contract_items(session: pytest.Session, config: pytest.Config) -> Iterator[pytest.Item]:
    from service.client import ClientError
    from service.contract import CaseFileError, opened, operations, read_case_file, trials

    stack = ExitStack()
    config.add_cleanup(stack.close)
    try:
        site = stack.enter_context(opened(config.getoption(_URL), key=os.environ.get("PORTWRIGHT_KEY") or None))
        file = config.getoption(_CASES)
        if file is not None:
            site.cases = read_case_file(file)
        else:
            told = site.ask(operations.contract_cases()).content
            site.cases = () if told is None else told.cases
    except (ClientError, CaseFileError, OSError) as error:
        raise pytest.UsageError(f"the contract cannot be tried: {error}") from error
    for trial in trials(site, config.getoption(_ONLY)):
        yield ContractItem.from_parent(session, name=f"{trial.group}: {trial.name}", trial=trial)


class ContractItem(pytest.Item):
    """One case or promise as a test: broken fails, what had no answer is an error of the service, told as such."""

    def __init__(self, *, trial: Any, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._trial = trial

    def runtest(self) -> None:
        outcome = self._trial.run()
        if outcome.state == "skipped":
            pytest.skip(outcome.why)
        if outcome.state == "broken":
            pytest.fail("\n".join(line for broken in outcome.broken for line in broken.lines()), pytrace=False)
        if not outcome.is_kept:
            pytest.fail(f"{outcome.state}, not broken: {outcome.why}", pytrace=False)

    def reportinfo(self) -> tuple[Path, int | None, str]:
        return self.path, None, self.name
