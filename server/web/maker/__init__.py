"""The maker's pages."""

from fastapi import APIRouter

from server.web.maker import (
    card,
    carry,
    counts,
    entries,
    filing,
    finding,
    joining,
    keeping,
    moving,
    numbers,
    pairs,
    settings,
    several,
    shelf,
    stripcharts,
    versions,
    working,
)

# The shelf's own addresses stand before /notebook/{part_id}.
ROUTERS: tuple[APIRouter, ...] = (
    joining.router,
    shelf.router,
    keeping.router,
    filing.router,
    moving.router,
    card.router,
    numbers.router,
    working.router,
    settings.router,
    several.router,
    stripcharts.router,
    counts.router,
    finding.router,
    entries.router,
    carry.router,
    pairs.router,
    versions.router,
)
