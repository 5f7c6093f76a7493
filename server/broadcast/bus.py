"""How what happened reaches the other processes: not at all, where there is one; through Redis, where there
are several.
"""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable, Iterable
from contextlib import suppress
from typing import Any

from server.broadcast.presence import HERE_FOR_S, Here

Take = Callable[[str, bytes], None]
Again = Callable[[], Awaitable[None]]
log = logging.getLogger(__name__)
RETRY_S = 0.5
AHEAD_S = 0.02  # so much the other processes may hear ahead of this one


class RedisMissing(RuntimeError):
    """A Redis address is set, and the package that speaks to it is not installed."""


class Bus:
    """The bus of one process: what is sent is taken here."""

    def __init__(self) -> None:
        self.here = Here()
        self._take: Take | None = None

    async def open(self, take: Take, again: Again) -> None:
        """From now on everything that anybody sends is given to `take`. `again` is called after a time in
        which something may have been missed."""
        del again
        self._take = take

    async def send(self, room: str, packed: bytes) -> None:
        """To every process, this one among them."""
        if self._take is not None:
            self._take(room, packed)

    async def close(self) -> None:
        """Nothing is taken any more."""
        self._take = None


class Redis(Bus):
    """A bus of several processes, on one or more machines. `prefix` begins every name that it uses there.

    Redis only passes on: what it loses while it is away is in the database, and every process looks there
    again once it is back. What happens here is told here at once, whether Redis answers or not.
    """

    def __init__(self, url: str, prefix: str = "evenhand") -> None:
        super().__init__()
        try:
            from redis.asyncio import from_url
        except ImportError as error:
            raise RedisMissing(
                "EVENHAND_REDIS_URL is set, and the package redis is not installed: "
                "pip install -r requirements.txt"
            ) from error
        self._prefix = prefix
        self._redis: Any = from_url(
            url, socket_connect_timeout=5, health_check_interval=15, client_name=prefix
        )
        self._listening: asyncio.Task[None] | None = None
        self.here = RedisHere(self._redis, prefix)

    async def open(self, take: Take, again: Again) -> None:
        """As `Bus.open`; comes back once Redis has been asked for everything, or does not answer."""
        await super().open(take, again)
        first = asyncio.Event()
        self._listening = asyncio.create_task(self._listen(take, again, first))
        with suppress(TimeoutError):
            await asyncio.wait_for(first.wait(), 5)

    async def send(self, room: str, packed: bytes) -> None:
        """To every process, the others first: they write while this one does. Where Redis does not answer, or
        takes its time, those of this one hear it all the same."""
        telling = asyncio.ensure_future(self._redis.publish(f"{self._prefix}:{room}", packed))
        await asyncio.wait({telling}, timeout=AHEAD_S)
        await super().send(room, packed)
        try:
            await telling
        except Exception as error:  # the library raises its own, the system's and asyncio's
            log.warning("Redis does not answer; other workers will hear of it later: %s", error)

    async def close(self) -> None:
        """Lets go of Redis."""
        await super().close()
        if self._listening is not None:
            self._listening.cancel()
            with suppress(asyncio.CancelledError):
                await self._listening
        await self._redis.aclose()

    async def _listen(self, take: Take, again: Again, first: asyncio.Event) -> None:
        missed = False
        while True:
            try:
                async with self._redis.pubsub() as heard:
                    await heard.psubscribe(f"{self._prefix}:*")
                    first.set()
                    if missed:
                        await again()
                    async for message in heard.listen():
                        if message["type"] == "pmessage":
                            room = message["channel"].decode().removeprefix(f"{self._prefix}:")
                            take(room, message["data"])
            except asyncio.CancelledError:
                raise
            except Exception as error:  # as in `send`
                log.warning("Redis does not answer; trying again: %s", error)
            missed = True
            await asyncio.sleep(RETRY_S)


class RedisHere(Here):
    """Who is in which room, in all processes: a sorted set for each room, by when each was seen last."""

    def __init__(self, redis: Any, prefix: str, clock: Callable[[], float] = time.time) -> None:
        super().__init__(clock)
        self._redis = redis
        self._prefix = prefix

    async def seen(self, room: str, members: Iterable[int]) -> None:
        """As `Here.seen`, for all processes."""
        now = {str(member): self._clock() for member in members}
        await super().seen(room, map(int, now))
        if not now:
            return
        key = f"{self._prefix}-here:{room}"
        try:
            async with self._redis.pipeline(transaction=False) as pipe:
                pipe.zadd(key, now)
                pipe.expire(key, int(HERE_FOR_S))
                await pipe.execute()
        except Exception as error:
            log.warning("Redis does not answer; who is here is known to this worker alone: %s", error)

    async def members(self, room: str) -> frozenset[int]:
        """As `Here.members`, of all processes; of this one alone where Redis does not answer."""
        own = await super().members(room)
        key, since = f"{self._prefix}-here:{room}", self._clock() - HERE_FOR_S
        try:
            await self._redis.zremrangebyscore(key, "-inf", since)
            return own | {int(member) for member in await self._redis.zrange(key, 0, -1)}
        except Exception as error:
            log.warning("Redis does not answer; who is here is known to this worker alone: %s", error)
            return own
