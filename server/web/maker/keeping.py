"""/notebook/keep: taking the notebook along, who gets in, another pair; and erasing it for good."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from textwrap import wrap
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from server.services import joining
from server.services.errors import NotFound, Refusal
from server.services.joining import Kept
from server.services.notebooks import erasing, exporting, fileform, ways
from server.services.notebooks.erasing import Held, Receipt
from server.services.notebooks.fileform import FieldWords
from server.services.notebooks.ways import Way
from server.storage.scrubbing import scrub_if_due
from server.storage.sessions import reading
from server.web import throttles
from server.web.maker.device import device_of, put_away, put_away_lost, remember
from server.web.maker.facts import address
from server.web.maker.shelf import NoNotebook
from server.web.moments import Moment, moment
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession, database_of

router = APIRouter()


@dataclass(frozen=True)
class WayIn:
    """A way in as the page tells it."""

    key_id: int | None
    name: str
    since: Moment
    here: bool


@dataclass(frozen=True)
class KeepPage:
    """Context of maker/keep.html."""

    kept: Kept
    ways: tuple[WayIn, ...]
    held: Held


@dataclass(frozen=True)
class AgainPage:
    """Context of maker/again.html: the same parts once more, in a notebook of their own."""

    kept: Kept
    nickname: str
    secret: str
    error: str


@dataclass(frozen=True)
class ErasePage:
    """Context of maker/erase.html: what goes, and the nickname to write as the second step."""

    kept: Kept
    held: Held
    typed: str
    error: str


@dataclass(frozen=True)
class ReceiptPage:
    """Context of maker/erased.html.

    lines   the receipt: pairs of a name and what stands there
    left    what is left of the notebook and where, in sentences
    """

    receipt: Receipt
    lines: tuple[tuple[str, str], ...]
    left: str
    href: str


@dataclass(frozen=True)
class FormPage:
    """Context of maker/file_form.html: every field of a notebook's file."""

    fields: tuple[FieldWords, ...]
    kinds: tuple[FieldWords, ...]
    entry_columns: tuple[str, ...]
    round_columns: tuple[str, ...]
    version: int


class AgainForm(BaseModel):
    """Another pair, as sent."""

    notebook: int = 0
    nickname: str = ""
    secret: str = ""


class EraseForm(BaseModel):
    """The second step, as sent."""

    notebook: int = 0
    nickname: str = ""


GONE = "Nothing of the notebook is left in the database or its files."
NOT_GONE_YET = (
    "The notebook cannot be read or found any more. Traces of it may still be in the database’s files: they "
    "were in use, or the disk was full, when they were to be written anew. That is tried again whenever this "
    "receipt is looked at and when the server starts."
)
LEFT = (
    "The database keeps this receipt, and of each way in a "
    "fingerprint (SHA-256), so that a device that still has one is told; both go after 400 days. Copies of "
    "the whole database that were made before (backups) may hold the notebook until they are thrown away. "
    "One that is put back here has it erased again."
)
NAMES = {"link": "The notebook’s link", "device": "A device it was moved to", "card": "A card with a QR code"}


@router.get("/notebook/keep")
def keep(request: Request, session: ReadSession) -> Response:
    """All that can be done with the notebook as a whole."""
    kept = device_of(request, session).current
    if kept is None:
        return render(request, "maker/no_notebook.html", NoNotebook())
    open_ways = ways.ways_in(session, kept.notebook_id, kept.secret)
    now = datetime.now(UTC)
    page = KeepPage(
        kept, tuple(_way(each, now) for each in open_ways), erasing.held(session, kept.notebook_id)
    )
    return render(request, "maker/keep.html", page)


def _way(way: Way, now: datetime) -> WayIn:
    return WayIn(way.key_id, NAMES[way.how], moment(way.made_at, now), way.here)


# --- taking it along ---------------------------------------------------------------------------------------


@router.get("/notebook/file-form")
def file_form(request: Request) -> Response:
    """What a notebook's file holds."""
    page = FormPage(
        fileform.FIELDS, fileform.KINDS, exporting.ENTRY_COLUMNS, exporting.ROUND_COLUMNS, fileform.VERSION
    )
    return render(request, "maker/file_form.html", page)


@router.get("/notebook/export.json")
def export_json(request: Request, session: ReadSession) -> Response:
    """The whole notebook, to be kept or read in elsewhere."""
    kept = _current(request, session)
    now = datetime.now(UTC)
    text = exporting.as_json(exporting.whole(session, kept.notebook_id), now)
    return _download(text.encode(), "application/json", f"{kept.nickname} notebook {now:%Y-%m-%d}.json")


@router.get("/notebook/entries.csv")
def entries_csv(request: Request, session: ReadSession) -> Response:
    """A line for every entry."""
    kept = _current(request, session)
    text = exporting.entries_csv(exporting.desks(session, kept.notebook_id))
    return _csv(text, f"{kept.nickname} entries {datetime.now(UTC):%Y-%m-%d}.csv")


@router.get("/notebook/rounds.csv")
def rounds_csv(request: Request, session: ReadSession) -> Response:
    """A line for every round as made."""
    kept = _current(request, session)
    text = exporting.rounds_csv(exporting.desks(session, kept.notebook_id))
    return _csv(text, f"{kept.nickname} rounds {datetime.now(UTC):%Y-%m-%d}.csv")


def _current(request: Request, session: ReadSession) -> Kept:
    device = device_of(request, session)
    if device.current is None:
        raise device.missing()
    return device.current


def _csv(text: str, name: str) -> Response:
    # With the mark at its beginning, spreadsheets read it as UTF-8.
    return _download(text.encode("utf-8-sig"), "text/csv; charset=utf-8", name)


def _download(content: bytes, media_type: str, name: str) -> Response:
    disposition = f"attachment; filename*=UTF-8''{quote(name.replace(' ', '-'))}"
    headers = {"Content-Disposition": disposition, "Cache-Control": "no-store"}
    return Response(content, media_type=media_type, headers=headers)


# --- another pair ------------------------------------------------------------------------------------------


@router.get("/notebook/again")
def ask_again(request: Request, session: ReadSession) -> Response:
    """The one question of another pair: what it is called."""
    kept = device_of(request, session).current
    if kept is None:
        return render(request, "maker/no_notebook.html", NoNotebook())
    return render(request, "maker/again.html", AgainPage(kept, "", joining.new_secret(), ""))


@router.post("/notebook/again")
def again(request: Request, session: WriteSession, form: Annotated[AgainForm, Form()]) -> Response:
    """Begins another notebook in the same along, on this device."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    try:
        joined = joining.join_again(session, kept.notebook_id, form.nickname, form.secret, datetime.now(UTC))
    except NotFound:
        raise
    except Refusal as refusal:
        page = AgainPage(kept, form.nickname[:200], form.secret, refusal.message)
        return render(request, "maker/again.html", page, 422)
    response = RedirectResponse("/notebook?joined=1", 303)
    remember(response, request, device, joined.secret)
    return response


# --- erasing -----------------------------------------------------------------------------------------------


@router.get("/notebook/erase")
def before_erase(request: Request, session: ReadSession) -> Response:
    """What will go, before anything does."""
    kept = device_of(request, session).current
    if kept is None:
        return render(request, "maker/no_notebook.html", NoNotebook())
    return render(
        request, "maker/erase.html", ErasePage(kept, erasing.held(session, kept.notebook_id), "", "")
    )


@router.post("/notebook/erase")
def erase(request: Request, form: Annotated[EraseForm, Form()]) -> Response:
    """Erases the notebook and has the database's file written anew before it answers."""
    throttles.take_or_answer(request, "erase")
    database = database_of(request)
    with reading(database.engine) as session:
        device = device_of(request, session)
        kept = device.notebook(form.notebook)
        going = erasing.held(session, kept.notebook_id)
    try:
        receipt = database.write_from_thread(
            lambda session: erasing.erase(session, kept.notebook_id, form.nickname, datetime.now(UTC))
        )
    except NotFound:
        raise
    except Refusal as refusal:
        page = ErasePage(kept, going, form.nickname[:200], refusal.message)
        return render(request, "maker/erase.html", page, 422)
    scrub_if_due(database.engine)
    response = RedirectResponse(f"/erased/{receipt.number}", 303)
    put_away(response, request, device, kept.notebook_id)
    return response


@router.get("/erased/{number}")
def receipt(request: Request, number: str) -> Response:
    """The receipt, as long as it is kept."""
    found, left = _found(request, number)
    page = ReceiptPage(found, _receipt_lines(request, found), left, f"/erased/{found.number}/receipt.txt")
    return render(request, "maker/erased.html", page)


@router.get("/erased/{number}/receipt.txt")
def receipt_text(request: Request, number: str) -> Response:
    """The receipt as a text to keep."""
    found, left = _found(request, number)
    headers = {"Content-Disposition": f'attachment; filename="receipt-{found.number}.txt"'}
    return PlainTextResponse(_receipt_text(request, found, left), headers=headers)


def _found(request: Request, number: str) -> tuple[Receipt, str]:
    """The receipt, and what is left of the notebook; the files are written anew first, where that is due."""
    database = database_of(request)
    with reading(database.engine) as session:
        found = erasing.receipt_of(session, number)
    return found, f"{GONE if scrub_if_due(database.engine) else NOT_GONE_YET} {LEFT}"


def _receipt_text(request: Request, receipt: Receipt, left: str) -> str:
    lines = [f"{name:<10}{words}" for name, words in _receipt_lines(request, receipt)]
    return "\n".join(["Receipt: a notebook was erased for good", "", *lines, "", *wrap(left, 78), ""])


def _receipt_lines(request: Request, receipt: Receipt) -> tuple[tuple[str, str], ...]:
    gone = (
        f"{receipt.projects} begun part{'' if receipt.projects == 1 else 's'}, "
        f"{receipt.entries} entr{'y' if receipt.entries == 1 else 'ies'} of the log, "
        f"{receipt.keys} way{'' if receipt.keys == 1 else 's'} in"
    )
    return (
        ("Number", receipt.number),
        ("When", moment(receipt.erased_at, receipt.erased_at).full),
        ("Where", address(request, "/")),
        ("Erased", gone),
    )


@router.post("/notebook/told")
def told(request: Request, session: ReadSession) -> Response:
    """She has read what became of notebooks that this device has no way into any more."""
    response = RedirectResponse("/notebook", 303)
    put_away_lost(response, request, device_of(request, session))
    return response
