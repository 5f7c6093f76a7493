"""Every router there is. A new area of pages adds its line here."""

from __future__ import annotations

from fastapi import APIRouter

from server.web import (
    calendar,
    front,
    health,
    host_accounts,
    host_alongs,
    host_announcing,
    host_charts,
    host_cohosts,
    host_evenings,
    host_made,
    host_patterns,
    host_samples,
    host_seasons,
    host_sheets,
    installing,
    language,
    maker,
    modules,
    public_along,
    room_host,
    room_maker,
    room_screen,
)

ROUTERS: tuple[APIRouter, ...] = (
    *maker.OFTEN,
    health.router,
    installing.router,
    modules.router,
    front.router,
    public_along.router,
    calendar.router,
    host_accounts.router,
    host_alongs.router,
    host_announcing.router,
    host_charts.router,
    host_cohosts.router,
    host_evenings.router,
    host_made.router,
    host_patterns.router,
    host_samples.router,
    host_seasons.router,
    host_sheets.router,
    language.router,
    room_host.router,
    room_maker.router,
    room_screen.router,
    *maker.ROUTERS,
)
