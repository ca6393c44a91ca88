"""QR codes are read by a decoder from the SVG as it is drawn."""

import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import zxingcpp

from service.web.pages.qr import QUIET_ZONE_MODULES, qr_svg

SVG = "{http://www.w3.org/2000/svg}"
URL = "https://parts.ostrevale.example/b/7k3m9x2p"
SCALE_PX = 5


def drawn(svg: str) -> np.ndarray:
    """Draw it as a browser does, a module a cell: 255 where it is light, 0 where a dark line runs."""
    root = ET.fromstring(svg)
    _, _, width, height = map(int, root.attrib["viewBox"].split())
    light, dark = root.findall(f"{SVG}path")
    assert (light.attrib["fill"], light.attrib["d"]) == ("#fff", f"M0 0h{width}v{height}h-{width}z")
    assert dark.attrib["stroke"] == "#000"
    cells = np.full((height, width), 255, np.uint8)
    x = y = 0.0
    for command, given in re.findall(r"([a-zA-Z])([^a-zA-Z]*)", dark.attrib["d"]):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", given)]
        if command == "M":
            x, y = numbers
        elif command == "m":
            x, y = x + numbers[0], y + numbers[1]
        else:
            assert command == "h"
            cells[int(y), int(x) : int(x + numbers[0])] = 0
            x += numbers[0]
    return cells


def decoded(cells: np.ndarray) -> str:
    """What a decoder reads, the cells some pixels wide."""
    [found] = zxingcpp.read_barcodes(np.kron(cells, np.ones((SCALE_PX, SCALE_PX), np.uint8)))
    return str(found.text)


@pytest.mark.parametrize("url", [URL, "http://127.0.0.1:8000/b/00000000", f"https://a.example/{'x' * 500}?y=%C3%A9&z"])
def test_a_decoder_reads_the_address(url: str) -> None:
    """As it was given, from the drawing alone."""
    assert decoded(drawn(qr_svg(url))) == url


def test_a_dark_page_and_a_smudge_do_not_matter() -> None:
    """The quiet zone is drawn; black round it, and two lost modules in the midst of the data, leave it readable."""
    cells = drawn(qr_svg(URL))
    zone = QUIET_ZONE_MODULES
    inner = cells[zone:-zone, zone:-zone]
    assert np.all(cells == np.pad(inner, zone, constant_values=255))
    dark = np.pad(cells, 20, constant_values=0)
    dark[38:40, 38:40] = 0
    assert decoded(dark) == URL


def test_nothing_of_it_is_inline() -> None:
    """No style, no script, no address but the namespace; the title says what it is, as text."""
    svg = qr_svg("https://a.example/<script>&\"'")
    root = ET.fromstring(svg)
    assert {part.tag for part in root.iter()} == {f"{SVG}{name}" for name in ("svg", "title", "path")}
    names = {name for part in root.iter() for name in part.attrib}
    assert names == {"role", "shape-rendering", "viewBox", "class", "fill", "d", "stroke"}
    assert root.findtext(f"{SVG}title") == "QR code: https://a.example/<script>&\"'"
    assert (root.attrib["role"], root.attrib["class"]) == ("img", "qr")


@pytest.mark.parametrize(
    "url", ["", "/b/7k3m9x2p", "javascript:alert(1)", "https:///b", "ftp://a.example/", "a" * 9_000]
)
def test_other_addresses_are_refused(url: str) -> None:
    """A code that leads nowhere is worse than none."""
    with pytest.raises(ValueError, match="absolute"):
        qr_svg(url)


def test_an_address_that_is_too_long_is_refused() -> None:
    """With its length."""
    with pytest.raises(ValueError, match="3018 characters"):
        qr_svg(f"https://a.example/{'x' * 3_000}")
