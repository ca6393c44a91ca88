"""From a messy e-mail to a right order by keyboard alone: no mouse, and the focus goes where keys take it."""

import re

from playwright.sync_api import Locator, Page, expect

EMAIL = """Hello Una,

for the wagon we still need:

 - 1x RAIL\u2013tor_4 satin
 - adapter 8 flare-6 nitrile; 1
 - plug-8-lwo\t3
 - 2 x gauge 600

Many thanks
Tom Plug, 12 Hose Street, Tel. 01234 567890
"""
MOST_TABS = 120


def reach(page: Page, wanted: Locator) -> None:
    """Press Tab until the focus is there."""
    for _ in range(MOST_TABS):
        if wanted.evaluate("element => element === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError("the focus never comes there")


def press(page: Page, wanted: Locator) -> None:
    reach(page, wanted)
    page.keyboard.press("Enter")


def expect_withheld(page: Page, words: str) -> None:
    """No verdict and no right order while rows are to be settled, and the page says how many."""
    expect(page.locator("#verdict")).to_contain_text(words)
    expect(page.locator("#verdict h2")).to_have_count(0)
    expect(page.locator("#corrected")).to_have_count(0)


def settle(page: Page) -> None:
    """From the e-mail with two doubtful rows to the right order; the verdict waits for both."""
    page.goto("/order")
    reach(page, page.get_by_label("Lines as they came"))
    page.keyboard.insert_text(EMAIL)
    reach(page, page.get_by_label("Car: its name or id"))
    page.keyboard.insert_text("brae 2.0 wagon")
    page.keyboard.press("Enter")
    expect_withheld(page, "2 rows have to be settled before there is a verdict")
    expect(page.locator(".rows > li")).to_have_count(4)
    expect(page.locator(".rows > li").first).to_have_class("open")
    press(page, page.get_by_role("button", name="plug-8-low"))
    expect_withheld(page, "1 row has to be settled before there is a verdict")
    reach(page, page.get_by_label("or another part"))
    page.keyboard.insert_text("gauge 600 satin")
    page.keyboard.press("Enter")
    expect(page.locator("#verdict h2")).to_contain_text("The right order is EUR")
    expect(page.locator("#corrected")).to_contain_text("1 x rail-tor-4-satin")


def mend(page: Page) -> None:
    """A quantity is changed in its place, and the verdict follows."""
    before = page.locator("#verdict h2").inner_text()
    field = page.get_by_label("How many of row 8")
    reach(page, field)
    page.keyboard.press("Control+a")
    page.keyboard.insert_text("1")
    page.keyboard.press("Enter")
    expect(page.locator("#verdict h2")).not_to_have_text(before)
    expect(page.get_by_label("How many of row 8")).to_have_value("1")
    assert re.search(r"/order/[0-9a-f]{32}$", page.url)
