"""Pages and fragments: one Jinja environment, a frozen dataclass as the context of each template.

A template sees the fields of its context and the globals `static` and `path`, nothing else; a name it misses
is an error (StrictUndefined), so that a page is never quietly half empty. A fragment is a template whose name
begins with `_`.
"""

from __future__ import annotations

import itertools
import math
import re
import time
from dataclasses import fields
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.requests import Request
from starlette.responses import HTMLResponse

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = ROOT / "templates"
STATIC = ROOT / "static"
LOOK_EVERY_S = 1.0
SIGN_CHARACTERS = 12
PAGE_HEADERS = {"Vary": "HX-Request, Cookie", "Cache-Control": "private, no-cache"}


class _Build:
    """The files that pages are made from, as they were when last looked at."""

    sign: tuple[int, int] = (0, 0)
    looked_at_s: float = -math.inf


def build() -> tuple[int, int]:
    """A sign of the templates and static files as they are, for whatever is kept that was made from them.
    They change when somebody works on them: they are looked at again once a second, not for every page.
    """
    if time.monotonic() - _Build.looked_at_s > LOOK_EVERY_S:
        newest, files = 0, 0
        for file in itertools.chain(TEMPLATES.rglob("*.*"), STATIC.rglob("*.*")):
            newest = max(newest, file.stat().st_mtime_ns)
            files += 1
        _Build.sign, _Build.looked_at_s = (newest, files), time.monotonic()
    return _Build.sign


@lru_cache(maxsize=256)
def _address(path: str, build: tuple[int, int]) -> str:
    """The address of a static file with a short sign of its content in it, so that a changed file has a new
    address and an old copy is never shown.
    """
    del build  # part of the key only: every file is read once for each
    return f"/static/{path}?v={sha256((STATIC / path).read_bytes()).hexdigest()[:SIGN_CHARACTERS]}"


def static(path: str, stamped: bool = True) -> str:
    """The address of a file under static/. stamped=False for what a style sheet names itself (fonts)."""
    return _address(path, build()) if stamped else f"/static/{path}"


def with_terms(text: str) -> Markup:
    """A sentence as HTML, what stands between backticks in it (terms as they are typed) set apart."""
    return Markup(re.sub(r"`([^`\n]+)`", r"<code>\1</code>", str(escape(text))))  # noqa: S704  # escaped before


def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["static"] = static
    environment.filters["with_terms"] = with_terms
    return environment


ENVIRONMENT = _environment()


def text_of(template: str, context: DataclassInstance, path: str = "") -> str:
    """A template filled with its context, as text. `path` is the address of the page it is for."""
    values = {field.name: getattr(context, field.name) for field in fields(context)}
    return ENVIRONMENT.get_template(template).render(**values, path=path)


def render(request: Request, template: str, context: DataclassInstance, status: int = 200) -> HTMLResponse:
    """A page or fragment as an answer.

    It is meant for the one who asked, now: no cache in between keeps it, but the browser's own back button
    still brings a page back with what was typed in it.
    """
    text = text_of(template, context, request.url.path)
    return HTMLResponse(text, status_code=status, headers=PAGE_HEADERS)


def wants_fragment(request: Request) -> bool:
    """True where htmx asks for a part of a page; a restored history entry and a plain form want the whole
    page."""
    return (
        request.headers.get("HX-Request") == "true"
        and request.headers.get("HX-Request-Type", "partial") == "partial"
        and request.headers.get("HX-History-Restore-Request") != "true"
    )
