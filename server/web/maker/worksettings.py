"""How the working page behaves on this device: large type, left-handed, awake, keys, feedback, rest.

Kept in a cookie, so that it holds without scripts.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, fields

from starlette.requests import Request
from starlette.responses import Response

from server.services.errors import Refusal
from server.web.cookies import keep

COOKIE, KEPT_DAYS = "evenhand_work", 400
REST_MINUTES = 30  # common practice, no standard sets one; advice runs from 20 minutes to an hour
REST_LEAST, REST_MOST = 5, 180
REST = re.compile(r"rest(\d{1,3})")


@dataclass(frozen=True)
class WorkSettings:
    """One device's settings.

    large         larger type
    left          left-handed: small tools and chart strip the other way round
    haptic        a short buzz when a round is logged
    spoken        the next round said aloud
    awake         the screen stays on while the page is open
    keys          space, Enter, arrows and Page keys log and undo
    rest          a reminder to rest the hands; False is for good
    rest_minutes  after so many minutes of work
    """

    large: bool = False
    left: bool = False
    haptic: bool = False
    spoken: bool = False
    awake: bool = True
    keys: bool = True
    rest: bool = True
    rest_minutes: int = REST_MINUTES


DEFAULT = WorkSettings()
SWITCHES = tuple(field.name for field in fields(WorkSettings) if field.name != "rest_minutes")


def settings_of(request: Request) -> WorkSettings:
    """This device's settings; the usual ones where none are kept or what is kept cannot be read."""
    kept = request.cookies.get(COOKIE, "").split(".")
    minutes = next((int(found[1]) for each in kept if (found := REST.fullmatch(each))), None)
    if minutes is None or not REST_LEAST <= minutes <= REST_MOST:
        return DEFAULT
    return WorkSettings(**{name: name in kept for name in SWITCHES}, rest_minutes=minutes)


def keep_settings(response: Response, request: Request, settings: WorkSettings) -> None:
    """Have this device keep them."""
    on = [name for name in SWITCHES if getattr(settings, name)]
    keep(response, request, COOKIE, ".".join([*on, f"rest{settings.rest_minutes}"]), KEPT_DAYS)


def minutes_typed(typed: str) -> int:
    """Minutes to the reminder as typed; Refusal(field "rest_minutes")."""
    text = typed.strip().lower().removesuffix("min").strip()
    if text.isascii() and text.isdigit() and REST_LEAST <= int(text) <= REST_MOST:
        return int(text)
    raise Refusal(f"Write the minutes in digits, from {REST_LEAST} to {REST_MOST}.", "rest_minutes")
