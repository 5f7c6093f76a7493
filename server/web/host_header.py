"""Header lines that a pasted text lacks and that something in it speaks for, each put in by a button."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.proposing import Proposed, propose, with_proposed


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
    proposed = propose(text)
    return tuple(
        _offered(text, one, with_proposed(text, [each for each in proposed if each.key == one.key]))
        for one in proposed
    )


def _offered(text: str, one: Proposed, better: str) -> Offered:
    alike = 0
    while alike < min(len(text), len(better)) and text[-1 - alike] == better[-1 - alike]:
        alike += 1
    why = " ".join(one.why.split())
    return Offered(one.key, one.line, why, len(text) - alike, better[: len(better) - alike])


def with_line(text: str, key: str) -> str | None:
    """The text with the offered line of that key in its header; None where it is not offered any more."""
    lines = [one for one in propose(text) if one.key == key]
    return with_proposed(text, lines) if lines else None
