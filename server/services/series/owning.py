"""Alongs that a host may change, and lines of text as they are kept: shared by the parts of this package."""

from __future__ import annotations

import unicodedata
from hashlib import sha256

from sqlmodel import Session

from server.services.errors import NotAllowed, NotFound, Refusal
from server.storage import hosting
from server.storage.tables import Along

UNKNOWN = "There is nothing of yours at this address."


def hosted(session: Session, host_id: int, along_id: int) -> Along:
    """The along, where this host may change it; else NotFound."""
    along = hosting.along_hosted_by(session, host_id, along_id)
    if along is None:
        raise NotFound(UNKNOWN)
    return along


def owned(session: Session, host_id: int, along_id: int) -> Along:
    """The along, where it is this host's own; NotAllowed where she only helps to host it."""
    along = hosted(session, host_id, along_id)
    if along.host_id != host_id:
        owner = hosting.shown_name(session, along.host_id)
        raise NotAllowed(f"Only {owner}, whose along this is, can do that.")
    return along


def line(typed: str, field: str, most: int, ask: str = "") -> str:
    """One line as it is shown. Refusal at `field` where it is longer than `most`, or has no letter or digit
    and `ask` says that it should have."""
    text = unicodedata.normalize("NFC", typed)
    kept = "".join(c for c in text if c == "\u200d" or c.isspace() or unicodedata.category(c)[0] != "C")
    tidy = " ".join(kept.split())
    if ask and not any(unicodedata.category(c)[0] in "LN" for c in tidy):
        raise Refusal(ask, field)
    if len(tidy) > most:
        raise Refusal(f"That is {len(tidy)} characters. {most} or fewer fit on a page.", field)
    return tidy


def lines(typed: str, field: str, most: int) -> str:
    """Several lines as they are kept; Refusal at `field` where they are longer than `most`."""
    text = typed.replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "").strip()
    if len(text) > most:
        raise Refusal(f"That is {len(text)} characters. {most} or fewer can be kept.", field)
    return text


def mark(*values: object) -> str:
    """A short mark of values, equal for equal ones: a form has it with it to know what it was opened with."""
    return sha256(repr(values).encode("utf-8", "surrogatepass")).hexdigest()[:16]
