"""A guard against an engine that hangs: no test waits for it for ever, and none asserts how long it takes."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

HANGS_AFTER_S = 60
"""Far beyond what any text takes; only a call that would never end comes to it."""


class Hangs(BaseException):
    """The engine was still at it long after it should have answered."""


@contextmanager
def guarded(seconds: int = HANGS_AFTER_S) -> Iterator[None]:
    """Breaks off a call that hangs, so that the other tests still run. Main thread only, as signals are."""

    def stop(signum: int, frame: FrameType | None) -> None:
        raise Hangs(f"no answer within {seconds} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
