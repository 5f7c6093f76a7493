"""The maker's pages."""

from fastapi import APIRouter

from server.web.maker import (
    card,
    carry,
    counts,
    entries,
    filing,
    finding,
    fit,
    fit_asked,
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
    yarn,
    yarn_others,
)

# Routes are tried one after another; these are asked for a thousand times where others are once.
OFTEN: tuple[APIRouter, ...] = (working.often,)
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
    fit.router,
    fit_asked.router,
    yarn.router,
    yarn_others.router,
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
