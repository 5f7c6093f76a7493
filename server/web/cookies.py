"""Cookies: never readable by scripts, never sent along from another site's page, over https only where we
are on it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response


def keep(response: Response, request: Request, name: str, value: str, days: int) -> None:
    """Has the browser keep `value` for so many days."""
    response.set_cookie(
        name, value, max_age=days * 86_400, path="/", httponly=True, samesite="lax", secure=_on_https(request)
    )


def forget(response: Response, request: Request, name: str) -> None:
    """Has the browser forget it."""
    response.delete_cookie(name, path="/", httponly=True, samesite="lax", secure=_on_https(request))


def _on_https(request: Request) -> bool:
    return request.url.scheme == "https" or request.app.state.settings.url.startswith("https:")
