"""Server-sent events as bytes (HTML Standard, "Server-sent events"): made once, written to every listener.

Lines end in LF alone: a reader that gets a CR and its LF in two pieces may take them for two line ends.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from random import randrange
from typing import Any

HEARTBEAT = b":\n\n"
HELD_UP = b"retry: 1500\n"
GOODBYES = 8  # so many different times to come back, so that not all do at once


def frame(number: int, kind: str, values: Mapping[str, Any]) -> bytes:
    """One event: its number as the id that a listener resumes by, its kind, and its values in JSON."""
    data = json.dumps(values, ensure_ascii=False, separators=(",", ":"))
    return f"id: {number}\nevent: {kind}\ndata: {data}\n\n".encode()


def goodbye() -> bytes:
    """The last thing written when a server goes: come back in half a second to four seconds."""
    return f"retry: {500 + 500 * randrange(GOODBYES)}\nevent: bye\ndata:\n\n".encode()  # noqa: S311  # no secret


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that happened in a room.

    number   rises from one to the next
    after    the number of the one before: who has seen that one needs only `change`
    change   the event alone
    whole    the room as it is now, for all others
    """

    number: int
    after: int
    change: bytes
    whole: bytes

    def packed(self) -> bytes:
        """As bytes that `unpacked` reads, to send to other processes."""
        head = f"{self.number} {self.after} {len(self.change)}\n".encode()
        return head + self.change + self.whole


def unpacked(packed: bytes) -> Happening:
    """What `packed` made."""
    head, _, rest = packed.partition(b"\n")
    number, after, length = map(int, head.split())
    return Happening(number, after, rest[:length], rest[length:])
