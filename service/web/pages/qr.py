"""An address as a QR code, for a sheet on paper or a screen."""

import io
from urllib.parse import urlsplit

import segno

QUIET_ZONE_MODULES = 4
"""ISO/IEC 18004 asks for so many light modules all round; they are drawn, whatever the page's own colour is."""

_ERROR_LEVEL = "m"  # 15 % of it may be smudged


def qr_svg(url: str) -> str:
    """Draw an absolute http(s) address as an SVG element, black on white, so that it scans on dark pages too.

    It has no size and no style of its own: the class `qr` gives both. Raises ValueError for another address, or one
    that does not fit a QR code (some 2,300 characters).
    """
    address = urlsplit(url)
    if address.scheme not in ("http", "https") or not address.hostname:
        raise ValueError(f"expected an absolute http or https address, found {url[:80]!r}")
    try:
        code = segno.make(url, error=_ERROR_LEVEL, micro=False)
    except segno.DataOverflowError as error:
        raise ValueError(f"an address of {len(url)} characters does not fit a QR code") from error
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
