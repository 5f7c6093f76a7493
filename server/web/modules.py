"""Our scripts under addresses with a version in them: /js/<version>/copy.js.

Modules import each other by relative addresses, so all that a page loads is of one version: the sign of every
script's content. A page that was loaded goes on with what it has; an address of another version has nothing,
and a page without its scripts goes on by its forms.
"""

from __future__ import annotations

import gzip
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.web.pages import ENVIRONMENT, STATIC, build
from server.web.problems import nothing_here

router = APIRouter()
SCRIPTS = STATIC / "js"
FOR_EVER = "public, max-age=31536000, immutable"
Files = tuple[tuple[str, int], ...]


def scripts() -> tuple[str, ...]:
    """Every script below static/js, by its path there."""
    return tuple(name for name, _ in _files())


def version() -> str:
    """The sign of all scripts as they are now."""
    return _sign(_files())


def module(path: str) -> str:
    """The address of a script in the present version."""
    return f"/js/{version()}/{path}"


@router.get("/js/{asked}/{path:path}", include_in_schema=False)
def script(request: Request, asked: str, path: str) -> Response:
    """A script of the present version; 404 for any other version."""
    files = _files()
    if asked != _sign(files) or path not in dict(files):
        return nothing_here(request)
    small = "gzip" in request.headers.get("accept-encoding", "")
    headers = {"Cache-Control": FOR_EVER, "Vary": "Accept-Encoding"}
    if small:
        headers["Content-Encoding"] = "gzip"
    return Response(_body(path, asked, small), media_type="text/javascript; charset=utf-8", headers=headers)


def _files() -> Files:
    """The scripts with when they were changed: they change while somebody works on them."""
    return _listed(build())


@lru_cache(maxsize=2)
def _listed(build: tuple[int, int]) -> Files:
    del build  # part of the key only
    found = (each for each in SCRIPTS.rglob("*.js") if each.is_file())
    return tuple(sorted((each.relative_to(SCRIPTS).as_posix(), each.stat().st_mtime_ns) for each in found))


@lru_cache(maxsize=8)
def _sign(files: Files) -> str:
    sign = sha256()
    for name, _ in files:
        sign.update(f"{name}\0".encode())
        sign.update(_text(SCRIPTS / name))
    return sign.hexdigest()[:12]


@lru_cache(maxsize=256)
def _body(path: str, version: str, small: bool) -> bytes:
    del version  # part of the key only
    text = _text(SCRIPTS / path)
    return gzip.compress(text, mtime=0) if small else text


def _text(file: Path) -> bytes:
    return file.read_bytes()


ENVIRONMENT.globals["module"] = module
