"""Pages and fragments: one Jinja environment, a frozen dataclass as the context of each template.

A template sees the fields of its context and the globals `static` and `path`, nothing else; a name it misses
is an error (StrictUndefined), so that a page is never quietly half empty. A fragment is a template whose name
begins with `_`.
"""

from __future__ import annotations

import re
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


@lru_cache(maxsize=256)
def _stamp(file: Path, changed_ns: int) -> str:
    """A short sign of a file's content, so that a changed file has a new address and an old copy is never
    shown."""
    del changed_ns  # part of the key only
    return sha256(file.read_bytes()).hexdigest()[:12]


def static(path: str, stamped: bool = True) -> str:
    """The address of a file under static/. stamped=False for what a style sheet names itself (fonts)."""
    file = STATIC / path
    changed_ns = file.stat().st_mtime_ns
    return f"/static/{path}?v={_stamp(file, changed_ns)}" if stamped else f"/static/{path}"


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
    headers = {"Vary": "HX-Request, Cookie", "Cache-Control": "private, no-cache"}
    return HTMLResponse(text, status_code=status, headers=headers)


def wants_fragment(request: Request) -> bool:
    """True where htmx asks for a part of a page; a restored history entry and a plain form want the whole
    page."""
    return (
        request.headers.get("HX-Request") == "true"
        and request.headers.get("HX-Request-Type", "partial") == "partial"
        and request.headers.get("HX-History-Restore-Request") != "true"
    )
