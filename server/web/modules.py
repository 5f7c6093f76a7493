"""Our scripts under addresses with a version in them: /js/<version>/copy.js.

Modules import each other by relative addresses, so all that a page loads is of one version: the sign of every
script's content. A page that was loaded goes on with what it has; an address of another version has nothing,
and a page without its scripts goes on by its forms.
"""

from __future__ import annotations

from functools import lru_cache
from hashlib import sha256

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.web.pages import ENVIRONMENT, SIGN_CHARACTERS, STATIC, build
from server.web.problems import nothing_here

router = APIRouter()
SCRIPTS = STATIC / "js"


def scripts() -> tuple[str, ...]:
    """Every script below static/js, by its path there."""
    return _scripts(build())[0]


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
    answer: Response | None = request.app.state.static.answer(f"js/{path}", request.headers, immutable=True)
    return nothing_here(request) if answer is None else answer


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
