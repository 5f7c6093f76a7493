"""The pattern language page: how a pattern is written, from the engine's own tables, with samples that run.

Anyone may read it and run its samples. Only the samples are proved here, never a text that is sent.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from fastapi import APIRouter, Path
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.text import language
from server.craft.text.language import Chapter, Entry
from server.services import accounts, patterns
from server.services.errors import NotFound
from server.web import language_tables as tables
from server.web.language_tables import FindingRow, KeyRow, StitchRow, WordRow
from server.web.moments import now
from server.web.pages import render, wants_fragment
from server.web.sessions import ReadSession
from server.web.signing import COOKIE
from server.web.understanding import Understanding, understand

router = APIRouter(prefix="/language")
Key = Annotated[str, Path(max_length=80, pattern=r"^[a-z0-9-]+$")]
UNKNOWN = "There is no such sample."


@dataclass(frozen=True)
class Shown:
    """A sample that was run, and what came out. Context of language/_proved.html, as `shown`."""

    key: str
    name: str
    understood: Understanding


@dataclass(frozen=True)
class ShownPart:
    """Context of language/_proved.html."""

    shown: Shown


@dataclass(frozen=True)
class LanguagePage:
    """Context of language/page.html. shown: the sample that was run; None before."""

    host_name: str
    chapters: tuple[Chapter, ...]
    keys: tuple[KeyRow, ...]
    stitches: tuple[StitchRow, ...]
    words: tuple[WordRow, ...]
    findings: tuple[FindingRow, ...]
    shown: Shown | None


def entry_at(key: str) -> Entry:
    """The entry at an address of the page; NotFound where there is none."""
    found = language.entry(key)
    if found is None:
        raise NotFound(UNKNOWN)
    return found


@lru_cache(maxsize=256)  # the samples are few and never change
def run(key: str) -> Shown:
    """Work and prove a sample; NotFound where there is none."""
    entry = entry_at(key)
    return Shown(key, entry.name, understand(patterns.check(entry.sample)))


@router.get("")
def page(request: Request, session: ReadSession) -> Response:
    """The whole language."""
    return _page(request, session, None)


@router.get("/{key}")
def back_to_page(key: Key) -> Response:
    """Where a page that answered a button is loaded anew."""
    return RedirectResponse(f"/language#{entry_at(key).key}", status_code=303)


@router.post("/{key}")
def prove_sample(request: Request, key: Key, session: ReadSession) -> Response:
    """Run a sample: the page with what came out beside it, and for htmx that part."""
    shown = run(key)
    if wants_fragment(request):
        return render(request, "language/_proved.html", ShownPart(shown))
    return _page(request, session, shown)


def _page(request: Request, session: ReadSession, shown: Shown | None) -> Response:
    found = accounts.signed_in(session, request.cookies.get(COOKIE, ""), now())
    context = LanguagePage(
        host_name=found[0].shown_name if found else "",
        chapters=language.chapters(),
        keys=tables.keys(),
        stitches=tables.stitches(),
        words=tables.words(),
        findings=tables.findings(),
        shown=shown,
    )
    return render(request, "language/page.html", context)
