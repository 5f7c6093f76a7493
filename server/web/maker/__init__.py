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
    sheets,
    shelf,
    stripcharts,
    versions,
    working,
)

# Routes are tried one after another; these are asked for a thousand times where others are once.
OFTEN: tuple[APIRouter, ...] = (working.often, entries.often)
# The shelf's own addresses stand before /notebook/{part_id}.
ROUTERS: tuple[APIRouter, ...] = (
    joining.router,
    shelf.router,
    keeping.router,
    filing.router,
    moving.router,
    card.router,
    sheets.router,
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
