"""Pages of a part that are kept ready: looked at again and again, and made from very little.

A page is served from here as long as all that it is made from is what it was: the rows behind it
(server.storage.stamps, read anew for every serving, so that a change by any process shows at once), this
device's settings, the address, the templates and static files. Ids that forms need fresh are put in as it is
served; words that the clock changes end its time. A page with a query, or for htmx, is made each time.

Such a page is compressed: no secret is on it (the keys of a notebook are in cookies that pages never show),
and nothing that a request brings is repeated on it, so that its length tells nothing (BREACH). Other pages
are sent as they are, since they may show a secret link beside what was typed.
"""

from __future__ import annotations

import os
import re
import zlib
from base64 import urlsafe_b64encode
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from threading import Lock
from typing import Any

from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from server.storage.keys import secret_hash
from server.storage.sessions import read_session
from server.storage.stamps import Stamp, stamps_in
from server.web.encodings import takes_gzip
from server.web.maker.device import DEVICE, NOTEBOOKS, after_visit, secrets_of
from server.web.pages import PAGE_HEADERS, build
from server.web.serving import FOR_EVER, noticed
from server.web.sessions import database_of

PAGES_MOST = 512  # of some 30 kB
OURS = "evenhand_"  # all our cookies begin so
ID_BYTES = 15  # in base64 they are ID_CHARACTERS
ID_CHARACTERS = 20
WINDOW = 32_768  # how far back a DEFLATE stream may refer
GZIP_HEAD = b"\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\xff"

Make = Callable[[Session], Response]


@dataclass(frozen=True)
class ReadyPage:
    """A page in pieces: between every two of them stands a fresh id, `order` says which.

    made_from  all that it depends on besides its key
    until      its words hold before this moment
    """

    made_from: tuple[Any, ...]
    until: datetime
    pieces: tuple[bytes, ...]
    order: tuple[int, ...]

    @classmethod
    def of(cls, made_from: tuple[Any, ...], until: datetime, text: str, ids: Sequence[str]) -> ReadyPage:
        """The page whose text was made with these ids."""
        if not ids:
            return cls(made_from, until, (text.encode(),), ())
        place = {one: number for number, one in enumerate(dict.fromkeys(ids))}
        parts = re.split("(" + "|".join(map(re.escape, place)) + ")", text)
        return cls(
            made_from,
            until,
            tuple(part.encode() for part in parts[::2]),
            tuple(place[one] for one in parts[1::2]),
        )

    def served(self) -> bytes:
        """The page with fresh ids."""
        return b"".join(self._with(self.pieces, self._fresh()))

    def served_compressed(self) -> bytes:
        """The same as gzip: the pieces were compressed once, the ids stand in it as they are."""
        ids = self._fresh()
        stored = [_stored(one) for one in ids]
        plain = b"".join(self._with(self.pieces, ids))
        tail = zlib.crc32(plain).to_bytes(4, "little") + len(plain).to_bytes(4, "little")
        return b"".join((GZIP_HEAD, *self._with(self._compressed, stored), tail))

    def _fresh(self) -> list[bytes]:
        count = max(self.order, default=-1) + 1
        drawn = urlsafe_b64encode(os.urandom(ID_BYTES * count))
        return [drawn[at : at + ID_CHARACTERS] for at in range(0, len(drawn), ID_CHARACTERS)]

    def _with(self, pieces: Sequence[bytes], ids: Sequence[bytes]) -> list[bytes]:
        whole = [pieces[0]]
        for number, piece in zip(self.order, pieces[1:], strict=True):
            whole += (ids[number], piece)
        return whole

    @cached_property
    def _compressed(self) -> tuple[bytes, ...]:
        """Each piece as DEFLATE blocks that end at a byte, made with all that comes before it in view.

        In the place of each id it sees NULs, which no page has: so nothing ever refers back into an id.
        """
        made = []
        seen = b""
        for number, piece in enumerate(self.pieces):
            squeeze = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS, zdict=seen[-WINDOW:])
            last = number == len(self.pieces) - 1
            made.append(squeeze.compress(piece) + squeeze.flush(zlib.Z_FINISH if last else zlib.Z_SYNC_FLUSH))
            seen += piece + bytes(ID_CHARACTERS)
        return tuple(made)


def _stored(plain: bytes) -> bytes:
    """A DEFLATE block that holds its bytes as they are."""
    length = len(plain)
    return b"\x00" + length.to_bytes(2, "little") + (length ^ 0xFFFF).to_bytes(2, "little") + plain


class ReadyPages:
    """The pages kept ready in this process, those asked for last."""

    def __init__(self) -> None:
        self._pages: OrderedDict[tuple[Any, ...], ReadyPage] = OrderedDict()
        self._one_at_a_time = Lock()

    def get(self, key: tuple[Any, ...], made_from: tuple[Any, ...], now: datetime) -> ReadyPage | None:
        """The page, where it is still made from just that."""
        with self._one_at_a_time:
            page = self._pages.get(key)
            if page is None or page.made_from != made_from or now >= page.until:
                return None
            self._pages.move_to_end(key)
            return page

    def put(self, key: tuple[Any, ...], page: ReadyPage) -> None:
        """Keeps it, in the place of the one that was there."""
        with self._one_at_a_time:
            self._pages[key] = page
            self._pages.move_to_end(key)
            while len(self._pages) > PAGES_MOST:
                self._pages.popitem(last=False)


async def ready(request: Request, part_id: int, make: Make) -> Response:
    """The answer to a GET of a maker's page of a part: kept ready, or made in a thread by `make`.

    `make` reads the database in the session given to it, of the request only the cookies, and of the clock
    what server.web.moments says.
    """
    if request.scope["query_string"] or "hx-request" in request.headers:
        return await run_in_threadpool(_in_session, request, make)
    hashes = [secret_hash(secret) for secret in secrets_of(request)]
    found = database_of(request).stamps.read(hashes, part_id) if hashes else {}
    stamp = _first(found, hashes)
    if stamp is None:
        return await run_in_threadpool(_in_session, request, make)
    pages: ReadyPages = request.app.state.ready_pages
    page = pages.get(_key(request, stamp), _made_from(stamp), datetime.now(UTC))
    if page is None:
        return await run_in_threadpool(_made, request, part_id, hashes, make)
    return after_visit(_answer(request, page), request, stamp.notebook_id, stamp.last_seen_at)


def _in_session(request: Request, make: Make) -> Response:
    with read_session(database_of(request).engine) as session:
        return make(session)


def _made(request: Request, part_id: int, hashes: Sequence[str], make: Make) -> Response:
    with read_session(database_of(request).engine) as session, noticed() as serving:
        # In the same transaction as the page: a stamp read before or after could be another one's.
        stamp = _first(stamps_in(session, hashes, part_id), hashes)
        response = make(session)
    kept = stamp is not None and response.status_code == 200 and isinstance(response, HTMLResponse)
    if not kept or stamp is None or not serving.may_be_kept or "set-cookie" in response.headers:
        return response
    page = ReadyPage.of(_made_from(stamp), serving.until, bytes(response.body).decode(), serving.ids)
    if serving.until == FOR_EVER or serving.until > datetime.now(UTC):
        request.app.state.ready_pages.put(_key(request, stamp), page)
    answer = _answer(request, page)
    answer.background = response.background
    return answer


def _first(found: dict[str, Stamp], hashes: Sequence[str]) -> Stamp | None:
    return next((found[each] for each in hashes if each in found), None)


def _key(request: Request, stamp: Stamp) -> tuple[Any, ...]:
    """Which page for whom: the address as the browser has it, her notebook, and this device's settings."""
    settings = tuple(
        sorted(
            (name, value)
            for name, value in request.cookies.items()
            if name.startswith(OURS) and name not in (NOTEBOOKS, DEVICE)
        )
    )
    return (request.scope["path"], stamp.notebook_id, settings)


def _made_from(stamp: Stamp) -> tuple[Any, ...]:
    return (stamp.of, build())


def _answer(request: Request, page: ReadyPage) -> Response:
    headers = {**PAGE_HEADERS, "Vary": f"{PAGE_HEADERS['Vary']}, Accept-Encoding"}
    if takes_gzip(request.headers.get("accept-encoding", "")):
        headers["Content-Encoding"] = "gzip"
        return HTMLResponse(page.served_compressed(), headers=headers)
    return HTMLResponse(page.served(), headers=headers)
