"""Every router there is. A new area of pages adds its line here."""

from __future__ import annotations

from fastapi import APIRouter

from server.web import health

ROUTERS: tuple[APIRouter, ...] = (health.router,)
