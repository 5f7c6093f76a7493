"""Header lines that a pasted text lacks and that something in it speaks for, each put in by a button."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.proposing import propose, with_proposed


@dataclass(frozen=True)
class Offered:
    """A header line that is offered.

    key     names it in the form
    line    as it would stand in the header
    why     the words of the text that it was read from
    length  characters at the beginning of the text that `put` takes the place of
    """

    key: str
    line: str
    why: str
    length: int
    put: str


def offered(text: str) -> tuple[Offered, ...]:
    """What is offered for a text; nothing for an empty one."""
    if not text.strip():
        return ()
    return tuple(_offered(text, one.key, one.line, one.why) for one in propose(text))


def _offered(text: str, key: str, line: str, why: str) -> Offered:
    better = with_line(text, key) or text
    alike = 0
    while alike < min(len(text), len(better)) and text[-1 - alike] == better[-1 - alike]:
        alike += 1
    return Offered(key, line, " ".join(why.split()), len(text) - alike, better[: len(better) - alike])


def with_line(text: str, key: str) -> str | None:
    """The text with the offered line of that key in its header; None where it is not offered any more."""
    lines = [one for one in propose(text) if one.key == key]
    return with_proposed(text, lines) if lines else None
