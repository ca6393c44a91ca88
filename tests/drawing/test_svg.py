"""The writer of drawings: texts stay texts, nothing is inline, colours are the page's own."""

import re
from xml.etree import ElementTree as ET

import pytest

from service.drawing.svg import arrow_head, circle, group, image, line, shape, text, written
from tests.support.svg import SPACE, Words, shapes, texts

HOSTILE = "</text></svg><script>alert(1)</script> & \"quotes\" 'single' ]]> <!-- &amp; {{ 7*7 }}"


def _all_sorts(words: str) -> str:
    root = image(100, 50, "plan", words, words)
    inner = group(root)
    shape(inner, [(1, 2), (3, 4.567), (5, 6)], shaded=True)
    arrow_head(inner, [(1, 2), (3, 4), (5, 6)])
    line(inner, (1, 2), (3, 4), (5, 6), dashes="4 3")
    circle(inner, (7, 8), 2)
    text(inner, (9, 10), words, size=9.5, anchor="middle", bold=True)
    return written(root)


def test_hostile_texts_are_only_texts() -> None:
    """In title, description and text; nothing of them becomes an element."""
    root = ET.fromstring(_all_sorts(HOSTILE))
    assert {element.tag.removeprefix(SPACE) for element in root.iter()} == {
        *("svg", "defs", "title", "desc", "g", "path", "circle", "text")
    }
    found = [root.find(f"{SPACE}title"), root.find(f"{SPACE}desc"), root.find(f"{SPACE}g/{SPACE}text")]
    assert [element is not None and element.text for element in found] == [HOSTILE] * 3


@pytest.mark.parametrize("words", ["two\nlines", "tab\tand  spaces", " ends "])
def test_white_space_breaks_no_line(words: str) -> None:
    """A text is one line."""
    root = ET.fromstring(_all_sorts(words))
    assert texts(root) == [Words(" ".join(words.split()), 9.0, 10.0, 9.5, "middle")]


def test_nothing_is_inline_and_no_colour_is_told() -> None:
    """A strict policy takes it, in light and dark."""
    written_so = _all_sorts("words")
    assert not re.search(r"style|script|\son\w+=|href=|url\(|#[0-9a-f]{3}|<\?xml", written_so)
    assert set(re.findall(r'(?:stroke|fill)="(.*?)"', written_so)) == {"currentColor", "none"}


def test_lines_are_where_they_are_told() -> None:
    """To a hundredth of a unit; dashes and closed ends as asked."""
    polygon, head, dashed = shapes(ET.fromstring(_all_sorts("words")))
    assert polygon.points == [(1, 2), (3, 4.57), (5, 6)]
    assert (polygon.closed, head.closed, dashed.closed) == (True, True, False)
    assert (head.stroked, dashed.dashes) == (False, "4 3")
