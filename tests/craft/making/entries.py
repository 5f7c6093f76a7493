"""Makes entries for the tests: one clock, one device, ids in a row, unless said otherwise."""

from __future__ import annotations

from typing import Any

from server.craft.making import Entry


def entry(number: int, kind: str, piece: int = 1, device: str = "phone", **values: Any) -> Entry:
    """The entry number `number` of a device, made in that second."""
    return Entry(
        id=f"{device}-{number}",
        piece=piece,
        kind=kind,
        values=values,
        at=f"2026-11-03T19:{number // 60:02d}:{number % 60:02d}.000Z",
        device=device,
        order=number,
    )


def log(*told: tuple[str, int, dict[str, Any]]) -> list[Entry]:
    """Entries in a row from (kind, piece, values)."""
    return [
        entry(number, kind, piece, **values) for number, (kind, piece, values) in enumerate(told, start=1)
    ]


def worked(*spots: str, piece: int = 1) -> list[tuple[str, int, dict[str, Any]]]:
    """Rounds worked one after another, for `log`."""
    return [("worked", piece, {"spot": spot}) for spot in spots]
