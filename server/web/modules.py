"""Our scripts under addresses with a version in them: /js/<version>/copy.js.

Modules import each other by relative addresses, so all that a page loads is of one version: the sign of every
script's content. A page that was loaded goes on with what it has; an address of another version has nothing,
and a page without its scripts goes on by its forms. A script that a page names itself comes with all that it
imports, as one.
"""

from __future__ import annotations

import gzip
from functools import lru_cache
from hashlib import sha256

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.web.bundling import bundle
from server.web.encodings import takes_gzip
from server.web.pages import ENVIRONMENT, SIGN_CHARACTERS, STATIC, build
from server.web.problems import nothing_here
from server.web.staticfiles import FOR_GOOD, MEDIA_TYPES

router = APIRouter()
SCRIPTS = STATIC / "js"
BUNDLED = (
    "work/page.js",
    "work/where.js",
    "notebook/offline.js",
    "notebook/away.js",
    "typed.js",
    "room/desk.js",
    "room/evening.js",
    "room/screen.js",
)  # named by templates


def scripts() -> tuple[str, ...]:
    """Every script below static/js, by its path there."""
    return _scripts(build())[0]


def bundled() -> tuple[str, ...]:
    """The scripts that come with all that they import, by their path below static/js."""
    return BUNDLED


def version() -> str:
    """The sign of all scripts as they are now."""
    return _scripts(build())[1]


def module(path: str) -> str:
    """The address of a script in the present version."""
    return f"/js/{version()}/{path}"


@router.get("/js/{asked}/{path:path}", include_in_schema=False)
def script(request: Request, asked: str, path: str) -> Response:
    """A script of the present version; 404 for any other version."""
    if asked != version() or path not in scripts():
        return nothing_here(request)
    packed = takes_gzip(request.headers.get("accept-encoding", ""))
    # The worker asks again for what the page has just loaded: with a tag it is told so, not sent it twice.
    etag = f'"{asked}{"-gzip" if packed else ""}"'
    headers = {"Cache-Control": FOR_GOOD, "Vary": "Accept-Encoding", "ETag": etag}
    if etag in (
        each.strip().removeprefix("W/") for each in request.headers.get("if-none-match", "").split(",")
    ):
        return Response(status_code=304, headers=headers)
    if packed:
        headers["Content-Encoding"] = "gzip"
    return Response(_body(path, asked, packed), media_type=MEDIA_TYPES[".js"], headers=headers)


def without_comments(text: str) -> str:
    """A script as it is sent: without comment lines, indents and empty lines.

    It goes by lines: our scripts have no comment within a line of code but before it, and no text over
    several lines (a test holds that).
    """
    lines, inside = [], False
    for line in text.splitlines():
        bare = line.strip()
        if inside:
            inside = not bare.endswith("*/")
            continue
        if bare.startswith("/*"):
            inside = "*/" not in bare
            bare = bare.partition("*/")[2].strip()
        if bare and not bare.startswith("//"):
            lines.append(bare)
    return "\n".join(lines) + "\n"


@lru_cache(maxsize=256)
def _body(path: str, version: str, packed: bool) -> bytes:
    del version  # part of the key only
    body = (bundle(path, _text) if path in BUNDLED else _text(path)).encode()
    return gzip.compress(body, 9, mtime=0) if packed else body


def _text(path: str) -> str:
    return without_comments((SCRIPTS / path).read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def _scripts(build: tuple[int, int]) -> tuple[tuple[str, ...], str]:
    """The scripts' paths and their common sign, read once for each build."""
    del build  # part of the key only
    names = sorted(each.relative_to(SCRIPTS).as_posix() for each in SCRIPTS.rglob("*.js"))
    sign = sha256()
    for name in names:
        sign.update(f"{name}\0".encode() + (SCRIPTS / name).read_bytes())
    return tuple(names), sign.hexdigest()[:SIGN_CHARACTERS]


ENVIRONMENT.globals["module"] = module
