"""Addresses as people pass them on: whole, under the server's own public one where that is set, else as the
page was reached."""

from __future__ import annotations

from starlette.requests import Request


def whole(request: Request, path: str) -> str:
    """The whole address of a path of ours."""
    base: str = request.app.state.settings.public_url or str(request.base_url)
    return base.rstrip("/") + path
