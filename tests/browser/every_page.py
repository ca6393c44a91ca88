"""Every page of the counter, opened in one browser page after the other, and what axe-core finds on it."""

from collections.abc import Iterator

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from service.web.pages.rendering import static_file
from tests.web.test_counter_pages import MOST_BYTES

QUESTION = "/ask?chassis=fennic-16&layout=own-hose-6-centre"
NOTHING = f"{QUESTION}&clearances=top:axial_mm:5&gauge=top"
CATALOG = "/catalog/rail-tor-4-satin"
BATCHES = "/order/batches"
CURVES = "/drop-curves?chassis=fennic-16"
PATHS = [
    "/ask",
    "/ask?car=zzzz",
    "/ask?chassis=fennic-16",
    QUESTION,
    "/ask?chassis=morrow-40&layout=pair-return-8-link&gauge=any",
    f"{QUESTION}&power_kw=400",
    f"{QUESTION}&power_kw=much&gauge=sideways",
    NOTHING,
    "/order?chassis=fennic-16",
    BATCHES,
    "/catalog?q=guage",
    f"{CATALOG}?car=fennic-16&layout=own-hose-6-centre&cars=yes",
    CURVES,
    "/inquiries/car",
    "/inquiries",
    "/style",
    "/nowhere",
]
_CONTRAST = {"runOnly": {"type": "rule", "values": ["color-contrast"]}, "resultTypes": ["violations"]}
_ALL = {"resultTypes": ["violations"]}
_OPEN = "document.querySelectorAll('details:not(.drawn details ~ details)').forEach(one => { one.open = true; })"
"""All that folds, but of the layouts' tables only the first: the others are like it."""
_HIGHEST = "links => Math.max(0, ...links.map(link => link.getBoundingClientRect().height))"
_TWO_LINES_PX = 50
_BYTES = "performance.getEntriesByType('navigation')[0].decodedBodySize"
_OVERRUN = """() => {
    const [main, footer] = ["main", "footer"].map(name => document.querySelector(name)?.getBoundingClientRect());
    return footer !== undefined && footer.top < main.bottom;
}"""


def every_page(page: Page) -> Iterator[str]:
    """Open one page after the other, those that forms lead to as well, and name each."""
    for path in PATHS:
        page.goto(path)
        yield path
    page.goto(QUESTION)
    bill = str(page.get_by_role("link", name="By itself").get_attribute("href"))
    for path in (bill, f"{bill}/drawing"):
        page.goto(path)
        yield path
    yield from _after_forms(page)


def _after_forms(page: Page) -> Iterator[str]:
    page.goto("/ask")
    page.get_by_label("Say it as the customer does").fill("Fennic 1.6, 90 kW, a gauge at a side")
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("heading", name="What was understood").wait_for()
    yield "said"
    page.goto(NOTHING)
    for contact, heading in (("nobody", "Whom to answer?"), ("desk3@shop.example", "Sent to the workshop")):
        page.get_by_label("e-mail address or a telephone number").fill(contact)
        page.get_by_role("button", name="Send", exact=True).click()
        page.get_by_role("heading", name=heading).wait_for()
        yield heading
    page.goto("/order?chassis=fennic-16")
    page.get_by_label("Lines as they came").fill("2 x rail-tor-4-satin\n1 x plg-8-low")
    page.get_by_role("button", name="Check", exact=True).last.click()
    page.get_by_text("1 row has to be settled").wait_for()
    yield "order"


def faults_of(page: Page) -> list[str]:
    """What is wrong with the page that is open, all that folds unfolded: in light, its contrast in dark as well."""
    size = page.evaluate(_BYTES)
    size += sum(len(static_file(name)) for name in ("counter.css", "counter.js", "drawing.css"))
    page.evaluate(_OPEN)
    page.emulate_media(color_scheme="light")
    found = Axe().run(page, options=_ALL).response["violations"]
    page.emulate_media(color_scheme="dark")
    found += Axe().run(page, options=_CONTRAST).response["violations"]
    told = [f"{one['id']}: {one['nodes'][0]['html'][:200]}" for one in found]
    if size > MOST_BYTES:
        told.append(f"{size} bytes")
    wide, window = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    if wide > window:
        told.append(f"{wide} px wide")
    if page.evaluate(_OVERRUN):
        told.append("the footer runs through the page")
    if page.locator(".bench nav a").evaluate_all(_HIGHEST) > _TWO_LINES_PX:
        told.append("the navigation is broken letter by letter")
    return told
