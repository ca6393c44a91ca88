"""The workshop as its engineer goes through it each week: a new part, a new car, a part that an inquiry waits for."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Locator, Page, expect

from tests.browser.keyboard import press, reach

pytestmark = pytest.mark.browser

SLOWLY_MS = 240_000
"""What is worked out behind people takes its time on a busy machine."""


def begin(page: Page, name: str) -> str:
    """Begin a draft by keyboard alone, and give its address."""
    page.goto("/workshop")
    reach(page, page.get_by_label("A new draft"))
    page.keyboard.insert_text(name)
    reach(page, page.get_by_label("Who begins it"))
    page.keyboard.press("Control+a")
    page.keyboard.insert_text("Ottilie Brandt")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text(name)
    return page.url


def field(page: Page, name: str) -> Locator:
    """A field by what it is called, without the unit behind that."""
    return page.get_by_role("textbox", name=re.compile(f"^{name}( [a-zA-Z]+)?$"))


def type_over(page: Page, name: str, words: str) -> None:
    reach(page, field(page, name))
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(words)


def expect_sound(page: Page) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_a_new_part_from_a_like_one_by_keyboard_alone(page: Page) -> None:
    """Drawn as it is typed, its impact seen, published with a reason, and what changed is told."""
    draft = begin(page, "Short plugs")
    press(page, page.get_by_role("link", name=re.compile("^Parts")))
    reach(page, page.get_by_label("A part of the name"))
    page.keyboard.type("plug-8-hollow-satin")
    expect(page.locator("#objects li")).to_have_count(1)
    press(page, page.get_by_role("link", name="New one like it"))
    type_over(page, "SKU", "plug-8-short-satin")
    type_over(page, "Name", "Short plug for a size 8 boss, satin")
    type_over(page, "Price", "4,50")
    drawn = page.locator("#picture").inner_html()
    type_over(page, "Stands proud", "6")
    page.wait_for_function("was => document.getElementById('picture').innerHTML !== was", arg=drawn)
    expect_sound(page)
    press(page, page.get_by_role("button", name="Save").last)
    expect(page.locator("#effect .outcomes li").first).to_be_visible(timeout=SLOWLY_MS)
    expect_sound(page)
    page.goto(draft)
    press(page, page.get_by_role("link", name="Publish it"))
    expect(page.locator("#effect .counts")).to_be_visible(timeout=SLOWLY_MS)
    type_over(page, "Why", "for low bonnets")
    type_over(page, "Why it is published all the same", "the cases follow")
    expect_sound(page)
    press(page, page.get_by_role("button", name="Publish"))
    expect(page.get_by_role("status")).to_contain_text("Published")
    expect(page.locator("main")).to_contain_text("Short plug for a size 8 boss, satin")
    expect(page.locator("main")).to_contain_text("for low bonnets")


def test_a_new_car_from_a_like_one(page: Page) -> None:
    draft = begin(page, "A new car")
    page.goto(f"{draft}/new/chassis?like=fennic-16")
    field(page, "Id").fill("fennic-18")
    field(page, "Name").fill("Fennic 1.8")
    field(page, "Stock power").fill("101,5")
    page.get_by_role("button", name="Add another to Clearances").click()
    expect(page.locator(":focus")).to_have_attribute("name", re.compile("^/clearances/4/"))
    expect(field(page, "Stock power")).to_have_value("101,5")
    page.get_by_role("button", name="Leave out Clearances 5").click()
    expect_sound(page)
    page.get_by_role("button", name="Save").last.click()
    expect(page.locator("#effect .counts")).to_contain_text("new questions", timeout=SLOWLY_MS)
    page.goto(draft)
    expect(page.locator(".changed")).to_contain_text("Fennic 1.8")
    press(page, page.get_by_role("link", name="All of it as tables"))
    expect(page.get_by_label("A workbook (XLSX)")).to_be_visible()
    expect_sound(page)
    table = {"name": "items.csv", "mimeType": "text/csv", "buffer": b"sku,nam\nx,y\n"}
    page.get_by_label("A workbook (XLSX)").set_input_files(table)
    press(page, page.get_by_role("button", name="Take it into the draft"))
    expect(page.get_by_role("alert")).to_contain_text("Nothing was taken")
    expect_sound(page)


def test_an_unanswered_inquiry_leads_to_a_part_that_answers_it(page: Page) -> None:
    page.goto("/ask?chassis=fennic-16&layout=large-bore-return-regulator")
    page.get_by_label("Whom to answer").fill("una@example.org")
    page.get_by_role("button", name="Send", exact=True).click()
    page.goto("/inquiries")
    expect(page.locator(".inquiries")).to_contain_text("still without a bill", timeout=SLOWLY_MS)
    expect_sound(page)
    page.get_by_role("link", name="Which part would answer most").click()
    part = page.locator(".next > li", has_text=re.compile(r"asked \d+ time")).first
    expect(part).to_be_visible(timeout=SLOWLY_MS)
    expect_sound(page)
    part.get_by_role("button", name="Try it in a draft").click()
    expect(page.locator("#effect .counts")).to_contain_text("gained", timeout=SLOWLY_MS)
    page.locator("h1 a").click()
    page.get_by_role("link", name="Inquiries that it answers").click()
    answered = page.locator(".inquiries", has_text="Now answered by the draft")
    expect(answered).to_contain_text("EUR", timeout=SLOWLY_MS)
    page.get_by_role("link", name="Answer it").click()
    page.get_by_label("What is answered").fill("We make the fitting that it lacks.")
    page.get_by_role("button", name="Answer", exact=True).click()
    expect(page.locator(".inquiries")).to_have_count(0)
