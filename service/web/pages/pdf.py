"""Pages as PDF, by an optional library: the same HTML and the same stylesheet as in a browser."""

import importlib.util
import logging
import warnings
from functools import cache, lru_cache
from typing import Any

from service.usecases.long_work import begin_long_work
from service.web.pages.rendering import stylesheet

_KEPT = 32
"""So many documents are kept: making one takes a second or two."""
_MISSING = "application/pdf needs the extra: pip install 'portwright[pdf]', and the libraries of Pango."


@cache
def _library() -> Any | None:
    """The library; None where it, or what it stands on, is not installed."""
    logging.getLogger("weasyprint").setLevel(logging.ERROR)  # it tells of every rule that is for screens alone
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)  # an older system library serves as well
            return importlib.import_module("weasyprint")
    except (ImportError, OSError):
        return None


@cache
def offered() -> bool:
    """Whether a link to a PDF makes sense: the library is there, though perhaps not what it stands on. Not imported
    for that, as it is large."""
    return importlib.util.find_spec("weasyprint") is not None


def missing() -> str | None:
    """What there is to do before PDFs can be made; None where they can."""
    return _MISSING if _library() is None else None


@lru_cache(_KEPT)
def pdf_of(page: str) -> bytes:
    """A page as PDF, always the same bytes for the same page. Nothing is fetched for it. Raises LongWorkError."""
    begin_long_work()
    library: Any = _library()
    fetcher = library.urls.URLFetcher(allowed_protocols=("data",), allow_redirects=False)
    styles = library.CSS(string=stylesheet().decode(), url_fetcher=fetcher)
    made: bytes = library.HTML(string=page, url_fetcher=fetcher).write_pdf(stylesheets=[styles], pdf_tags=True)
    return made
