"""/notebook/<part>/entries/batch: what devices logged on their own, sent when they are back on the network.

Every tap of every maker comes here. It is answered past the framework's routing and its checking of bodies
and answers, which cost more than writing the entry, in plain ASGI, behind the same security as every page.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from pydantic import BaseModel, Field, ValidationError
from sqlmodel import Session
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from server.services import notebooks
from server.services.notebooks import DeviceEntry, Logged, NewEntry, Received, clocks
from server.web.maker.device import device_kept
from server.web.maker.facts import part_of
from server.web.problems import answer_to
from server.web.sessions import Database

ADDRESS = "/notebook/{part_id}/entries/batch"
PATH = re.compile(ADDRESS.replace("{part_id}", "([0-9]{1,19})"))
BATCH_MOST = 500


class SentEntry(BaseModel):
    """An entry as a device logged it on its own."""

    id: str
    piece: int
    kind: str
    values: dict[str, Any]
    at: str
    order: int = Field(ge=0, le=2**31)
    after: str = ""


class Batch(BaseModel):
    """What a device sends when it is back.

    state   how many entries of the log it has from here
    clock   what its own clock says now, so that a wrong one can be put right
    """

    notebook: int
    entries: list[SentEntry] = Field(max_length=BATCH_MOST)
    state: int | None = None
    clock: str | None = None


class BatchAnswer(BaseModel):
    """What became of it: ids now in the log, refused ones with the reason, and the length of the log.

    entries   those kept, as they are in the log; all of the log where the device had not seen the rest
    now       what the server's clock says
    """

    kept: list[str]
    refused: dict[str, str]
    state: int
    entries: list[dict[str, Any]]
    now: str


def is_batch(path: str) -> bool:
    """Whether an address is one of these."""
    return path.endswith("/entries/batch") and PATH.fullmatch(path) is not None


class Batches:
    """The ASGI application: takes in a `Batch`, in any order and as often as it is sent, and answers with a
    `BatchAnswer`.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request."""
        found = PATH.fullmatch(scope["path"])
        assert found is not None, "no other address comes here"
        request = Request({**scope, "path_params": {"part_id": int(found[1])}}, receive)
        try:
            answer = await self._answer(request)
        except Exception as error:
            answer = answer_to(request, error)
        await answer(scope, receive, send)

    async def _answer(self, request: Request) -> Response:
        part_id = part_of(request)
        if request.method != "POST":
            raise HTTPException(405, headers={"Allow": "POST"})
        if request.headers.get("content-type", "").partition(";")[0].strip().lower() != "application/json":
            raise HTTPException(400)
        try:
            batch = Batch.model_validate_json(await request.body())
        except ValidationError:
            raise HTTPException(400) from None
        answer = await self._database.write(lambda session: _receive(session, request, part_id, batch))
        return Response(answer.model_dump_json(), media_type="application/json")


def _receive(session: Session, request: Request, part_id: int, batch: Batch) -> BatchAnswer:
    device = device_kept(request, session)
    kept = device.notebook(batch.notebook)
    sent = [
        DeviceEntry(NewEntry(one.id, one.piece, one.kind, one.values), one.at, one.order, one.after)
        for one in batch.entries
    ]
    now = datetime.now(UTC)
    received = notebooks.receive(
        session, kept.notebook_id, part_id, sent, device=device.name, now=now, clock=batch.clock
    )
    desk = received.desk
    has_the_rest = batch.state is not None and batch.state + len(received.kept) == desk.state
    return BatchAnswer(
        kept=list(received.kept),
        refused=dict(received.refused),
        state=desk.state,
        entries=[
            notebooks.entry_values(each.entry) for each in (_kept_of(received) if has_the_rest else desk.log)
        ],
        now=clocks.iso(now),
    )


def _kept_of(received: Received) -> Sequence[Logged]:
    """Those of the log that were kept, in its order. They are looked for from its end, where new ones are."""
    wanted = set(received.kept)
    found: list[Logged] = []
    for logged in reversed(received.desk.log):
        if not wanted:
            break
        if logged.entry.id in wanted:
            wanted.remove(logged.entry.id)
            found.append(logged)
    return found[::-1]
