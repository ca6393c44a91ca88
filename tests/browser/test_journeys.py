"""Whole journeys at the counter, as somebody takes them who has not read anything first."""

from pathlib import Path
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.keyboard import mend, press, reach, settle
from tests.web.test_counter_pages import MOST_BYTES

pytestmark = pytest.mark.browser

QUESTION = "/ask?chassis=fennic-16&layout=own-hose-6-centre"
NOTHING = f"{QUESTION}&clearances=top:axial_mm:5&gauge=top"
CATALOG = "/catalog/rail-tor-4-satin"
BATCHES = "/order/batches"
WHY = f"{CATALOG}?car=fennic-16&layout=own-hose-6-centre&cars=yes"
CURVES = "/drop-curves?chassis=fennic-16"
ORDER = "order"
SMALL_PHONE_PX = 360
LEAST_LETTERS_PX = 11
FEWEST_TEXTS = 5
SHEETS_ON_A_PHONE = [
    "/ask?chassis=fennic-16&layout=return-6-regulator&gauge=any",
    "/ask?chassis=morrow-40&layout=pair-return-8-link&gauge=2.top",
]
TWO_LINES_PX = 50
HEIGHTS = "links => links.map(link => link.getBoundingClientRect().height)"
MEASURED = """texts => texts.map(text => {
    const box = text.getBoundingClientRect();
    const scale = text.getScreenCTM().a;
    return {words: text.textContent, letters: parseFloat(getComputedStyle(text).fontSize) * scale,
            left: box.left, right: box.right, top: box.top, bottom: box.bottom};
})"""


def ask(page: Page) -> None:
    """From the first page to the bills of a layout."""
    page.goto("/")
    page.get_by_label("Or pick the car").press_sequentially("pellam 33")
    page.get_by_role("link", name="Pellam 3.3").first.click()
    page.get_by_role("button", name="Own hose size 8 to the centre").click()
    expect(page.locator("#bill-1 .total")).to_contain_text("EUR")


def test_from_a_car_s_name_to_a_printed_sheet(page: Page, tmp_path: Path) -> None:
    ask(page)
    page.locator(".lines summary").first.click()
    expect(page.locator(".reasons").first).to_contain_text("Made for rail pattern")
    page.get_by_role("link", name="Assembly sheet").first.click()
    expect(page.locator("h1")).to_contain_text("Pellam 3.3")
    page.pdf(path=tmp_path / "sheet.pdf", format="A4")
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")


def test_the_best_bill_stands_whole_on_the_first_screen(browser: Browser, base_url: str) -> None:
    """Price, verdict on power and the list of parts: on a phone and, with the picture, on a desk."""
    for width, height in ((SMALL_PHONE_PX, 780), (1280, 900)):
        context = browser.new_context(base_url=base_url, viewport={"width": width, "height": height})
        page = context.new_page()
        page.goto(QUESTION)
        for part in (".total", ".power .chip", ".mind", ".lines li:last-child", ".built svg"):
            box = page.locator(f"#bill-1 {part}").first.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= height, (part, box)
        context.close()


def test_from_the_car_to_the_sheet_by_keyboard_alone(page: Page) -> None:
    """Every layout can be reached, and what is open stays so when a wish changes."""
    page.goto("/ask?car=pellam")
    press(page, page.get_by_role("link", name="Pellam 3.3"))
    press(page, page.get_by_role("button", name="Through-flow with return, size 8, regulator"))
    page.wait_for_url("**layout=return-8-regulator**")
    press(page, page.locator(".lines summary").first)
    expect(page.locator(".reasons").first).to_contain_text("Made for rail pattern")
    press(page, page.get_by_role("link", name="Assembly sheet").first)
    expect(page.locator("h1")).to_contain_text("Pellam 3.3")


def test_from_a_sentence_to_a_bill_without_a_mouse(plain_page: Page) -> None:
    """With scripting off: said, read, shown."""
    plain_page.goto("/ask")
    reach(plain_page, plain_page.get_by_label("Say it as the customer does"))
    plain_page.keyboard.insert_text("Fennic 1.6 on E85, 120 hp, own hose size 6 to the centre")
    press(plain_page, plain_page.get_by_role("button", name="Read it"))
    expect(plain_page.locator(".told", has_text="120 hp")).to_be_visible()
    press(plain_page, plain_page.get_by_role("button", name="Show what it needs"))
    expect(plain_page.locator("#bill-1 .total")).to_contain_text("EUR")
    expect(plain_page.locator(".about")).to_contain_text("89.5 kW (120 hp)")


def test_bills_follow_the_wishes_and_the_address_holds_them(page: Page) -> None:
    ask(page)
    page.get_by_role("combobox", name="Gauge").select_option("any")
    page.wait_for_url("**gauge=any**")
    page.get_by_label("Power, kW").fill("150")
    page.wait_for_url("**power_kw=150**")
    expect(page.get_by_label("Power, kW")).to_be_focused()
    page.reload()
    expect(page.get_by_label("Power, kW")).to_have_value("150")


def test_a_repair_applies_itself_and_back_leads_back(page: Page) -> None:
    page.goto(NOTHING)
    expect(page.get_by_role("heading", name="Nothing fits")).to_be_visible()
    page.locator(".repairs a").first.click()
    expect(page.locator("#bill-1")).to_be_visible()
    page.go_back()
    expect(page.get_by_role("heading", name="Nothing fits")).to_be_visible()


def test_back_after_a_wish_shows_what_was_asked_before(page: Page) -> None:
    page.goto(QUESTION)
    page.get_by_role("combobox", name="Gauge").select_option("top")
    page.wait_for_url("**gauge=top**")
    page.go_back()
    page.wait_for_url(f"**{QUESTION}")
    expect(page.get_by_role("combobox", name="Gauge")).to_have_value("")


def test_what_was_asked_lately_is_kept_here_and_forgotten_at_a_touch(page: Page) -> None:
    page.goto(QUESTION)
    page.goto("/ask")
    page.locator("#recent a", has_text="Own hose size 6 to the centre").click()
    page.wait_for_url(f"**{QUESTION}")
    page.goto("/ask")
    page.get_by_role("button", name="Forget these").click()
    expect(page.locator("#recent")).to_be_hidden()
    page.goto(QUESTION)
    page.goto("/ask")
    expect(page.locator("#recent")).to_be_hidden()
    expect(page.get_by_role("button", name="Keep what is asked")).to_be_visible()


def test_inches_stay_chosen(page: Page) -> None:
    page.goto(QUESTION)
    page.get_by_role("button", name="Inches first").click()
    expect(page.get_by_label("Power, hp")).to_be_visible()
    page.goto("/ask?chassis=fennic-20")
    expect(page.get_by_label("Power, hp")).to_be_visible()


def test_from_a_messy_order_to_a_right_one(page: Page) -> None:
    settle(page)
    mend(page)
    expect(page.get_by_label("How many of row 8")).to_be_focused()
    page.reload()
    expect(page.get_by_label("How many of row 8")).to_have_value("1")
    page.get_by_role("button", name="Copy").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="As CSV").click()
    assert Path(download.value.path()).read_text().startswith("qty,sku,name")


def test_a_messy_order_is_settled_with_scripting_off(plain_page: Page) -> None:
    settle(plain_page)
    mend(plain_page)


def test_asking_works_with_scripting_off(plain_page: Page) -> None:
    plain_page.goto("/ask?car=fennic")
    plain_page.get_by_role("link", name="Fennic 1.6").click()
    plain_page.get_by_label("Power, kW").fill("90,5")
    plain_page.get_by_role("button", name="Own hose size 6 to the centre").click()
    expect(plain_page.locator("#bill-1 .total")).to_contain_text("EUR")
    expect(plain_page.get_by_label("Power, kW")).to_have_value("90.5")
    plain_page.locator("details.workshop summary").click()
    plain_page.get_by_label("Whom to answer").fill("desk3@shop.example")
    plain_page.get_by_role("button", name="Send").click()
    expect(plain_page.locator("h1")).to_have_text("Sent to the workshop")
    plain_page.goto("/inquiries")
    expect(plain_page.get_by_text("desk3@shop.example")).to_be_visible()


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("path", ["/ask", QUESTION, NOTHING, ORDER, BATCHES, CATALOG, WHY, "drawing", CURVES])
def test_pages_are_accessible(browser: Browser, base_url: str, path: str, colours: Literal["light", "dark"]) -> None:
    """axe-core finds nothing serious; on a phone nothing is wider than the screen; no page is heavy."""
    context = browser.new_context(
        base_url=base_url, color_scheme=colours, viewport={"width": 320, "height": 800}, bypass_csp=True
    )
    page = context.new_page()
    sizes: list[int] = []
    page.on("response", lambda response: sizes.append(len(response.body())))
    if path == ORDER:
        page.goto("/order?chassis=fennic-16")
        page.get_by_label("Lines as they came").fill("2 x rail-tor-4-satin\n1 x plg-8-low")
        page.get_by_role("button", name="Check", exact=True).last.click()
        page.get_by_text("1 row has to be settled").wait_for()
    else:
        page.goto(QUESTION if path == "drawing" else path)
    if path == "drawing":
        page.get_by_role("link", name="Drawing").first.click()
        page.locator("svg").first.wait_for()
    else:
        assert sum(sizes) < MOST_BYTES
    found = Axe().run(page, options={"resultTypes": ["violations"]}).response["violations"]
    serious = [
        f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in found if one["impact"] in ("serious", "critical")
    ]
    assert serious == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert max(page.locator(".bench nav a").evaluate_all(HEIGHTS)) < TWO_LINES_PX
    context.close()


def test_a_sheet_on_a_phone_shows_its_drawing_whole(browser: Browser, base_url: str) -> None:
    """At the width of a small phone: no edge is cut off, nothing has to be pushed aside, and letters can be read."""
    context = browser.new_context(base_url=base_url, viewport={"width": SMALL_PHONE_PX, "height": 740})
    page = context.new_page()
    for question in SHEETS_ON_A_PHONE:
        page.goto(question)
        page.goto(str(page.get_by_role("link", name="Assembly sheet").first.get_attribute("href")))
        assert page.evaluate("document.documentElement.scrollWidth") <= SMALL_PHONE_PX
        box = page.locator(".drawing svg").evaluate("svg => svg.getBoundingClientRect().toJSON()")
        texts = page.locator(".drawing svg text").evaluate_all(MEASURED)
        assert len(texts) > FEWEST_TEXTS
        assert min(text["letters"] for text in texts) >= LEAST_LETTERS_PX
        for text in texts:
            assert box["left"] - 0.5 <= text["left"], text
            assert text["right"] <= min(box["right"], SMALL_PHONE_PX) + 0.5, text
            assert box["top"] - 0.5 <= text["top"] <= text["bottom"] <= box["bottom"] + 0.5, text
    context.close()
