"""What a device keeps of a maker: the secrets of her notebooks and the device's own name, both in cookies.

Several notebooks may be on one device; the one opened last is the first. Scripts never see the secrets.
"""

from __future__ import annotations

import re
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlmodel import Session
from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import Response

from server.services import joining, notebooks
from server.services.errors import Gone, NotFound
from server.services.joining import Kept, Lost
from server.storage.kept import kept_in
from server.web.cookies import forget, keep
from server.web.sessions import Database

NOTEBOOKS = "evenhand_notebooks"
DEVICE = "evenhand_device"
KEPT_DAYS = 400  # the longest that browsers keep a cookie; every visit to the shelf begins it anew
KEPT_MOST = 12  # secrets have 43 characters; a cookie holds 4096
BETWEEN = "."
COOKIES_WEIGH = 300  # characters, as much as what else is kept
DEVICE_SHAPE = re.compile(r"[A-Za-z0-9_-]{16}")


@dataclass(frozen=True)
class Device:
    """A device with the notebooks that it has the secrets of, the one opened last first.

    lost   secrets that it has and that open nothing any more, until it was told and said so
    """

    name: str
    kept: tuple[Kept, ...]
    lost: tuple[Lost, ...] = ()

    @property
    def current(self) -> Kept | None:
        """The notebook opened last."""
        return self.kept[0] if self.kept else None

    def notebook(self, notebook_id: int) -> Kept:
        """The notebook of that id; NotFound where this device does not have its secret."""
        for kept in self.kept:
            if kept.notebook_id == notebook_id:
                return kept
        raise self.missing()

    def missing(self) -> NotFound:
        """Why a notebook is not on this device, as far as the device may be told."""
        return Gone(self.lost[0].message) if self.lost else NotFound(joining.UNKNOWN)


def secrets_of(request: Request) -> list[str]:
    """The secrets that a device sends along, in its order, whether they open anything or not."""
    return [each for each in request.cookies.get(NOTEBOOKS, "").split(BETWEEN) if each][:KEPT_MOST]


def device_of(request: Request, session: Session) -> Device:
    """The device that a request comes from."""
    secrets_kept = secrets_of(request)
    name = request.cookies.get(DEVICE, "")
    if not DEVICE_SHAPE.fullmatch(name):
        name = secrets.token_urlsafe(12)
    kept = joining.notebooks_at(session, secrets_kept)
    opening = {each.secret for each in kept}
    others = [each for each in secrets_kept if each not in opening]
    return Device(name, kept, joining.lost_at(session, others) if others else ())


def device_kept(request: Request, session: Session) -> Device:
    """`device_of`, as the writer keeps it for the same cookies where the device's name is among them."""
    kept = kept_in(session)
    cookies = request.headers.get("cookie", "")
    device = None if kept is None else kept.get(("device", cookies))
    if isinstance(device, Device):
        return device
    device = device_of(request, session)
    if kept is not None and request.cookies.get(DEVICE) == device.name:
        kept.put(("device", cookies), device, 1 + len(cookies) // COOKIES_WEIGH)
    return device


def notebook_for(session: Session, device: Device, part_id: int) -> Kept:
    """The notebook on this device that has the part, the one opened last first; NotFound where none has
    it.
    """
    along_id = notebooks.along_of(session, part_id)
    for kept in device.kept:
        if kept.along_id == along_id:
            return kept
    raise device.missing()


def remember(response: Response, request: Request, device: Device, first: str) -> None:
    """Keep the secret `first` on this device, before the ones already there."""
    _write(response, request, device, [first, *_secrets(device)])


def exchange(response: Response, request: Request, device: Device, notebook_id: int, secret: str) -> None:
    """Keep another secret for a notebook, in the place of the one that this device had for it."""
    others = [kept.secret for kept in device.kept if kept.notebook_id != notebook_id]
    _write(response, request, device, [secret, *others, *(lost.secret for lost in device.lost)])


def put_away(response: Response, request: Request, device: Device, notebook_id: int) -> None:
    """Take a notebook off this device. The notebook itself stays as it is."""
    gone = {kept.secret for kept in device.kept if kept.notebook_id == notebook_id}
    _write(response, request, device, [each for each in _secrets(device) if each not in gone])


def put_away_lost(response: Response, request: Request, device: Device) -> None:
    """Forget the secrets that open nothing any more: she has been told."""
    _write(response, request, device, [kept.secret for kept in device.kept])


def _secrets(device: Device) -> list[str]:
    return [*(kept.secret for kept in device.kept), *(lost.secret for lost in device.lost)]


def _write(response: Response, request: Request, device: Device, kept: list[str]) -> None:
    kept = list(dict.fromkeys(kept))[:KEPT_MOST]
    if kept:
        keep(response, request, NOTEBOOKS, BETWEEN.join(kept), KEPT_DAYS)
        keep(response, request, DEVICE, device.name, KEPT_DAYS)
    else:
        forget(response, request, NOTEBOOKS)


def with_visit(response: Response, request: Request, session: Session, notebook_id: int) -> Response:
    """Has the visit put on record after the answer has gone out, at most once a minute."""
    now = datetime.now(UTC)
    if not notebooks.seen_lately(session, notebook_id, now):
        response.background = BackgroundTask(_mark_seen, request.app.state.database, notebook_id, now)
    return response


def after_visit(response: Response, request: Request, notebook_id: int, last_seen_at: datetime) -> Response:
    """`with_visit` where it is known when she was seen last."""
    now = datetime.now(UTC)
    if now - last_seen_at >= notebooks.SEEN_EVERY:
        response.background = BackgroundTask(_mark_seen, request.app.state.database, notebook_id, now)
    return response


async def _mark_seen(database: Database, notebook_id: int, now: datetime) -> None:
    await database.write(lambda session: notebooks.mark_seen(session, notebook_id, now))
