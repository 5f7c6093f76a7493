"""Patience with whoever tries codes and words, or sends much: so many at once, then one every so often.

By network address (an IPv6 address by its /64, which one household has): a whole class behind one address
joins without waiting, since a try that was right does not count. Where a guess would open something, all
addresses together are limited too; joining is not, so that nobody can keep the others out.
"""

from __future__ import annotations

from dataclasses import dataclass
from ipaddress import IPv6Address, ip_address
from time import monotonic

from starlette.exceptions import HTTPException
from starlette.requests import Request

from server.services.patience import Allowance, Patience

EVERYBODY = "everybody"


@dataclass(frozen=True)
class Allowances:
    """What one address may try, and all of them together (None: no limit to that)."""

    address: Allowance
    everybody: Allowance | None = None


ALLOWANCES = {
    "join code": Allowances(Allowance(tries=20, refill_s=10)),
    "move": Allowances(Allowance(tries=12, refill_s=15), Allowance(tries=300, refill_s=1)),
    "offer": Allowances(Allowance(tries=20, refill_s=30)),
    "file": Allowances(Allowance(tries=10, refill_s=60), Allowance(tries=60, refill_s=5)),
    "erase": Allowances(Allowance(tries=10, refill_s=60), Allowance(tries=60, refill_s=5)),
    "pdf": Allowances(Allowance(tries=30, refill_s=5), Allowance(tries=100, refill_s=1)),
}


@dataclass(frozen=True)
class _Throttle:
    address: Patience
    everybody: Patience | None


def take(request: Request, what: str) -> int:
    """Take one try. 0 where there was one, else the seconds to wait for it."""
    throttle = _throttle(request, what)
    wait_s = throttle.address.take(_address(request))
    if not wait_s and throttle.everybody is not None:
        wait_s = throttle.everybody.take(EVERYBODY)
        if wait_s:
            throttle.address.give_back(_address(request))
    return wait_s


def give_back(request: Request, what: str) -> None:
    """The try was a right one: it does not count."""
    throttle = _throttle(request, what)
    throttle.address.give_back(_address(request))
    if throttle.everybody is not None:
        throttle.everybody.give_back(EVERYBODY)


def take_or_answer(request: Request, what: str) -> None:
    """Take one try; where there is none left, a page with 429 that says how long to wait."""
    wait_s = take(request, what)
    if wait_s:
        raise HTTPException(429, headers={"Retry-After": str(wait_s)})


def wait_words(wait_s: int) -> str:
    """What somebody who has to wait is told in a form."""
    return f"Several tries did not fit. Wait {wait_s} second{'' if wait_s == 1 else 's'}, then try again."


def _throttle(request: Request, what: str) -> _Throttle:
    state = request.app.state
    if not hasattr(state, "throttles"):
        state.throttles = {}
    throttles: dict[str, _Throttle] = state.throttles
    if what not in throttles:
        allowed = ALLOWANCES[what]
        everybody = Patience(allowed.everybody, monotonic) if allowed.everybody else None
        throttles.setdefault(what, _Throttle(Patience(allowed.address, monotonic), everybody))
    return throttles[what]


def _address(request: Request) -> str:
    host = request.client.host if request.client else ""
    try:
        address = ip_address(host)
    except ValueError:
        return host
    return str(int(address) >> 64) if isinstance(address, IPv6Address) else host
