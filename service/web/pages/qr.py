"""An address as a QR code, for a sheet on paper or a screen."""

import io
from urllib.parse import urlsplit

import segno
from markupsafe import Markup

QUIET_ZONE_MODULES = 4
"""ISO/IEC 18004 asks for so many light modules all round; they are drawn, whatever the page's own colour is."""

LONGEST = 640
"""Characters of an address: of a longer one the modules would be too small for a telephone, on paper 30 mm wide."""

_ERROR_LEVEL = "l"  # 7 % of it may be smudged, or as much more as the same number of modules has room for


def qr_of(url: str) -> Markup:
    """The code of an address; nothing where that is too long for a code to be read from paper."""
    return Markup(qr_svg(url) if len(url) <= LONGEST else "")  # noqa: S704 drawn by a library from the address alone


def qr_svg(url: str) -> str:
    """Draw an absolute http(s) address as an SVG element, black on white, so that it scans on dark pages too.

    It has no size and no style of its own: the class `qr` gives both. Raises ValueError for another address, or one
    of more than 640 characters.
    """
    address = urlsplit(url)
    if address.scheme not in ("http", "https") or not address.hostname:
        raise ValueError(f"expected an absolute http or https address, found {url[:80]!r}")
    if len(url) > LONGEST:
        raise ValueError(f"an address of {len(url)} characters does not fit a QR code that can be read")
    code = segno.make(url, error=_ERROR_LEVEL, micro=False)
    drawn = io.BytesIO()
    code.save(
        drawn,
        kind="svg",
        dark="#000",
        light="#fff",
        border=QUIET_ZONE_MODULES,
        title=f"QR code: {url}",
        svgclass="qr",
        lineclass=None,
        omitsize=True,
        xmldecl=False,
        nl=False,
    )
    return drawn.getvalue().decode().replace("<svg ", '<svg role="img" shape-rendering="crispEdges" ', 1)
