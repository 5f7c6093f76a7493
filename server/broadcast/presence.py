"""Who is in a room: everybody whose page was open there lately.

A telephone that lies dark beside the hook closes its stream, and its maker is still there: she counts for a
while after it was last open.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable

HERE_FOR_S = 600.0


class Here:
    """Who is in which room, in this process. `clock` gives the seconds since the epoch."""

    def __init__(self, clock: Callable[[], float] = time.time) -> None:
        self._clock = clock
        self._seen: dict[str, dict[int, float]] = {}

    async def seen(self, room: str, members: Iterable[int]) -> None:
        """Their pages are open now."""
        at = self._clock()
        self._seen.setdefault(room, {}).update(dict.fromkeys(members, at))

    async def members(self, room: str) -> frozenset[int]:
        """Everybody who was there within the last ten minutes."""
        since = self._clock() - HERE_FOR_S
        present = {member: at for member, at in self._seen.get(room, {}).items() if at >= since}
        if present:
            self._seen[room] = present
        else:
            self._seen.pop(room, None)
        return frozenset(present)
