"""A real server over the seed catalog, and Debian's Chromium; screenshots stay with the run, not in git."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.cli.commands import run
from tests.support.forked import served
from tests.support.required import require_or_skip

SEED = Path(__file__).parents[2] / "seed_data"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Of one module: while it is open an event loop runs here, beside which other tests cannot run theirs."""
    chromium = shutil.which("chromium")
    if chromium is None:
        require_or_skip("browser", "there is no chromium on the path")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield opened
        opened.close()


_REFUSED = "status of 422"
"""What the console says of a form that is shown again with its faults."""


@pytest.fixture(scope="module")
def base_url(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The service over the seed catalog; not started where there is no browser to look at it."""
    url = f"sqlite:///{tmp_path_factory.mktemp('browser') / 'catalog.sqlite3'}"
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("PORTWRIGHT_DATABASE_URL", url)
        assert run("catalog", "import", SEED).exit_code == 0
    with served(url, style_page="true", back_process="false") as address:
        yield address


@pytest.fixture
def page(browser: Browser, base_url: str) -> Iterator[Page]:
    """A page with scripting on that must not say anything in its console."""
    context = browser.new_context(base_url=base_url)
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda message: said.append(message.text) if message.type in ("error", "warning") else None)
    opened.on("pageerror", lambda error: said.append(str(error)))
    yield opened
    context.close()
    assert [text for text in said if _REFUSED not in text] == []


@pytest.fixture
def plain_page(browser: Browser, base_url: str) -> Iterator[Page]:
    """A page with scripting off."""
    context = browser.new_context(base_url=base_url, java_script_enabled=False)
    yield context.new_page()
    context.close()
