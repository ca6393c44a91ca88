"""What callers may count on stands on a page, word for word as developers have it."""

import html
import re
from pathlib import Path

from fastapi import FastAPI

from service.storage.keeping import KEY_DAYS, NEWS_DAYS, USUAL
from tests.web.calls import get

DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"


def test_the_page_says_what_developers_read(app: FastAPI) -> None:
    """Each point of it; and its days are those of the code."""
    section = DEVELOPERS.read_text().split("## What may change within v1")[1].split("\n## ")[0]
    written = [" ".join(point.replace("**", "").split()) for point in section.split("\n- ")[1:]]
    page = get(app, "/policy")
    assert page.status_code == 200
    shown = [html.unescape(re.sub("<[^>]+>", "", point)) for point in re.findall(r"<li>(<b>.*?)</li>", page.text)]
    assert shown == written
    [kept] = [point for point in shown if point.startswith("What was sent.")]
    days = (USUAL.order_checks_days, USUAL.inquiries_days, USUAL.short_links_days, NEWS_DAYS, KEY_DAYS)
    assert [int(number.replace(",", "")) for number in re.findall(r"[0-9][0-9,]*", kept)] == [*days]
