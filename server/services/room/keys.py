"""The key of a room, and the marks made from it: who may listen, and as whom."""

from __future__ import annotations

import hmac
import secrets
from hashlib import sha256

from sqlmodel import Session

from server.storage.roomkeys import RoomKey

KEY_LETTERS, KEY_LENGTH = "23456789abcdefghjkmnpqrstuvwxyz", 16  # 79 bits
MARK_LENGTH = 16


def key_of(session: Session, evening_id: int) -> str:
    """The key of an evening's room; "" where it has none so far."""
    row = session.get(RoomKey, evening_id)
    return row.key if row else ""


def make_key(session: Session, evening_id: int) -> str:
    """The same, made where there is none."""
    key = key_of(session, evening_id)
    if not key:
        key = _made()
        session.add(RoomKey(evening_id=evening_id, key=key))
        session.flush()
    return key


def renew_key(session: Session, evening_id: int) -> None:
    """A new key in place of the old one, where there is one."""
    row = session.get(RoomKey, evening_id)
    if row is not None:
        row.key = _made()
        session.add(row)


def _made() -> str:
    return "".join(secrets.choice(KEY_LETTERS) for _ in range(KEY_LENGTH))


def mark(key: str, who: str) -> str:
    """What shows that an address was made here, for that maker (her notebook's id) or for the "desk"."""
    return hmac.new(key.encode(), who.encode(), sha256).hexdigest()[:MARK_LENGTH]


def same(one: str, other: str) -> bool:
    """Whether a key is the one, told in the same time for every wrong one. None is the empty one."""
    return bool(one) and hmac.compare_digest(one, other)
