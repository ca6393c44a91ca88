"""Whole journeys at the counter, as somebody takes them who has not read anything first."""

import re
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from tests.browser.every_page import NOTHING, QUESTION, every_page, faults_of
from tests.browser.keyboard import mend, press, reach, settle

pytestmark = pytest.mark.browser

SMALL_PHONE_PX = 360
PAGES_OF_A_PDF = re.compile(rb"/Type\s*/Page\b")
LEAST_LETTERS_PX = 11
FEWEST_TEXTS = 5
SHEETS_ON_A_PHONE = [
    "/ask?chassis=fennic-16&layout=return-6-regulator&gauge=any",
    "/ask?chassis=morrow-40&layout=pair-return-8-link&gauge=2.top",
]
FIRST_SCREENS = [
    (SMALL_PHONE_PX, 740, f"{QUESTION}&power_kw=400"),
    (SMALL_PHONE_PX, 740, SHEETS_ON_A_PHONE[1]),
    (SMALL_PHONE_PX, 740, QUESTION),
    (1280, 900, QUESTION),
]
"""The widths and heights of screens, with what is asked: too much power, and more lines than seven, among them."""
APART = """([one, other]) => {
    const [a, b] = [one, other].map(name => document.querySelector(name).getBoundingClientRect());
    return a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
}"""
SCHEMES: dict[bool, tuple[Literal["light", "dark"], ...]] = {True: ("light", "dark"), False: ("dark",)}
"""By whether the pages' own script runs: so each page is seen in light, in dark, in inches and dark, without script."""
MEASURED = """texts => texts.map(text => {
    const box = text.getBoundingClientRect();
    const scale = text.getScreenCTM().a;
    return {words: text.textContent, letters: parseFloat(getComputedStyle(text).fontSize) * scale,
            left: box.left, right: box.right, top: box.top, bottom: box.bottom};
})"""


def ask(page: Page) -> None:
    """From the first page to the bills of a layout, in three steps."""
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
    for media in ("screen", "print"):
        page.emulate_media(media=media)
        for box in (".cautions", "h1", ".power"):
            assert page.evaluate(APART, [".link figcaption", box]), (media, box)
    page.pdf(path=tmp_path / "sheet.pdf", format="A4")
    printed = " ".join(side.extract_text() for side in PdfReader(tmp_path / "sheet.pdf").pages)
    folded = page.locator("details:not([open]) .bad").count()
    assert printed.count("Wrong:") == page.locator(".bad").count() > folded > 0


def test_the_first_screen_answers_what_is_asked_on_the_telephone(browser: Browser, base_url: str) -> None:
    """What to sell, for how much, whether it carries the power, what else there is, what is to be watched."""
    context = browser.new_context(base_url=base_url)
    page = context.new_page()
    for width, height, question in FIRST_SCREENS:
        page.set_viewport_size({"width": width, "height": height})
        page.goto(question)
        for part in (".total", ".power .chip", ".mind a", ".lines li:last-child"):
            box = page.locator(f"#bill-1 {part}").first.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= height, (question, part, box)
        if question != QUESTION:
            continue
        at_a_desk = () if width == SMALL_PHONE_PX else ("#bill-1 .built svg", "#layouts h2")
        for part in ("#bill-1 .rest li:nth-child(3) .dearer", *at_a_desk):
            box = page.locator(part).first.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] <= height, (part, box)
        expect(page.locator("#bill-1 .mind").last).to_have_text(
            re.compile(r"burns people.*\d+ warnings and \d+ cautions")
        )
        expect(page.locator(".rest li").first).to_have_text(re.compile(r"EUR [\d.]+ \+[\d.]+ \w+"))
        page.goto("/ask?chassis=fennic-16")
        card = page.locator("#layouts button .chip").first.bounding_box()
        assert card is not None
        assert card["y"] + card["height"] <= height
    context.close()


def test_a_sentence_and_a_car_are_three_steps_from_a_printed_bill(page: Page) -> None:
    """The print has what was asked, the list, the power and the code of its link, on one sheet."""
    page.add_init_script("window.print = () => { document.title = 'printed'; }")
    steps = [("button", "Read it"), ("button", "Show what it needs"), ("button", "Print")]
    page.goto("/ask")
    expect(page.get_by_label("Say it as the customer does")).to_be_focused()
    page.keyboard.insert_text("Fennic 1.6, 90 kW, own hose size 6 to the centre")
    for role, name in steps:
        page.get_by_role(role, name=name, exact=True).click()
    expect(page).to_have_title("printed")
    page.emulate_media(media="print")
    for shown in ("h1", ".about", ".total", ".lines", ".power .on-paper", ".colophon .qr"):
        expect(page.locator(shown).first).to_be_visible()
    expect(page.locator("h1")).to_have_text("Fennic 1.6: Own hose size 6 to the centre")
    expect(page.locator(".about")).to_contain_text("Petrol, 90 kW (121 hp)")
    for hidden in ("nav", "#question", ".actions", ".others"):
        expect(page.locator(hidden).first).to_be_hidden()
    for bill in (page.url, SHEETS_ON_A_PHONE[1]):
        page.goto(bill)
        assert len(PAGES_OF_A_PDF.findall(page.pdf(format="A4"))) == 1
    page.emulate_media(media="screen")
    ask(page)


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
    for told in (".drawn svg", ".money", ".chip"):
        expect(page.locator(f".repairs a {told}").first).to_be_visible()
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


@pytest.mark.parametrize(("width", "inch", "scripted"), [(320, False, True), (1280, True, False)])
def test_every_page_is_accessible(browser: Browser, base_url: str, width: int, inch: bool, scripted: bool) -> None:
    """axe-core finds nothing, in dark as well; nothing is wider than the screen; no page is heavy."""
    context = browser.new_context(base_url=base_url, viewport={"width": width, "height": 800}, bypass_csp=True)
    page = context.new_page()
    if not scripted:  # axe is a script itself, so only the pages' own is kept out
        page.route("**/counter.js", lambda route: route.abort())
    if inch:
        page.goto("/ask")
        page.get_by_role("button", name="Inches").click()
    schemes = SCHEMES[scripted]
    wrong = {name: found for name in every_page(page) if (found := faults_of(page, *schemes))}
    assert wrong == {}
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
