"""Many orders at once, with scripting and without: from the file to the results."""

import csv
from pathlib import Path

import pytest
from playwright.sync_api import FilePayload, Page, expect

pytestmark = pytest.mark.browser

ROWS = "".join(f"N-{number},fennic-16,rail-tor-4-satin,1\n" for number in range(40))
FILE = FilePayload(
    name="orders.csv",
    mimeType="text/csv",
    buffer=f"order,chassis,sku,qty\nFirst,fennic-61,rail-tor-4-satin,1\n{ROWS}".encode(),
)


def upload(page: Page) -> None:
    """From the page of one order to the page of the file."""
    page.goto("/order")
    page.get_by_role("link", name="many at once").click()
    page.get_by_label("A file with a row").set_input_files(FILE)
    page.get_by_role("button", name="Check them all").click()


def results(page: Page, tmp_path: Path) -> list[dict[str, str]]:
    with page.expect_download() as download:
        page.get_by_role("link", name="Results as CSV").click()
    download.value.save_as(tmp_path / "results.csv")
    with (tmp_path / "results.csv").open(newline="") as lines:
        return list(csv.DictReader(lines))


def test_a_file_is_watched_and_its_results_are_downloaded(page: Page, tmp_path: Path) -> None:
    upload(page)
    expect(page.get_by_role("status")).to_contain_text("41 of 41 orders checked", timeout=90_000)
    found = results(page, tmp_path)
    assert len(found) == 41
    assert "nearest: fennic-16" in found[0]["fault"]
    page.get_by_role("link", name="N-7", exact=True).click()
    expect(page.locator("#verdict h2").first).to_contain_text("Fennic 1.6: ")


def test_it_works_with_scripting_off(plain_page: Page, tmp_path: Path) -> None:
    upload(plain_page)
    expect(plain_page.get_by_role("status")).to_contain_text("41 of 41 orders checked", timeout=90_000)
    assert len(results(plain_page, tmp_path)) == 41
