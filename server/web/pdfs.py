"""Tagged PDFs (PDF/UA-1) of A4 or Letter, in our own face.

weasyprint needs the system's pango. It is imported when the first PDF is asked for, so that a server without
pango runs all the same and the page says what is missing.
"""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import import_module
from types import ModuleType
from typing import Any, Literal

from server.web.pages import STATIC

log = logging.getLogger(__name__)
Paper = Literal["a4", "letter"]
# What CSS calls the page, and its height in mm.
SIZES: dict[Paper, tuple[str, float]] = {"a4": ("A4", 297.0), "letter": ("letter", 279.4)}
TAGGED = "pdf/ua-1"
NO_PDF = (
    "This server cannot make a PDF",
    "It needs the system's pango for that: whoever runs it can install libpango-1.0-0, libpangoft2-1.0-0 and "
    "libharfbuzz-subset0. Your browser's own print does as well, and can save as a PDF.",
)


class NoPaper(Exception):
    """There is nothing on this machine that could make a PDF."""


@dataclass(frozen=True)
class LaidOut:
    """A document on its pages, not written yet. pages: how many."""

    pages: int
    _document: Any

    def content(self) -> bytes:
        """The PDF."""
        content: bytes = self._document.write_pdf(pdf_variant=TAGGED)
        return content


class Press:
    """Lays documents out with these style sheets (names under static/css) and these words of CSS.

    NoPaper where no PDF can be made. A document reads files of ours and nothing else, from nowhere else.
    """

    def __init__(self, sheets: Sequence[str], css: str) -> None:
        weasyprint = _weasyprint()
        if weasyprint is None:
            raise NoPaper
        self._weasyprint = weasyprint
        self._faces = weasyprint.text.fonts.FontConfiguration()
        self._css = [
            weasyprint.CSS(filename=STATIC / "css" / f"{name}.css", font_config=self._faces)
            for name in sheets
        ]
        self._css.append(weasyprint.CSS(string=css, font_config=self._faces))

    def laid_out(self, html: str) -> LaidOut:
        """A whole HTML document on pages."""
        read = self._weasyprint.HTML(
            string=html,
            base_url=STATIC.as_uri(),
            url_fetcher=self._weasyprint.urls.URLFetcher(allowed_protocols=("file",)),
        )
        document = read.render(font_config=self._faces, stylesheets=self._css, pdf_variant=TAGGED)
        return LaidOut(len(document.pages), document)


@lru_cache(maxsize=1)
def _weasyprint() -> ModuleType | None:
    try:
        import_module("weasyprint.text.fonts")
        return import_module("weasyprint")
    except (ImportError, OSError) as error:  # OSError: the package is there, the system's pango is not
        log.warning("no PDFs can be made: %s", error)
        return None


def can_print() -> bool:
    """Whether this machine can make a PDF."""
    return _weasyprint() is not None
