"""Answers as gzip, where a browser takes it.

Only for what has no secret in it, or repeats nothing that a request brings: the length of a compressed answer
that has both tells the secret bit by bit (BREACH).
"""

from __future__ import annotations

import gzip
import re
from functools import lru_cache

from starlette.requests import Request
from starlette.responses import Response

WORTH_BYTES = 500  # below it, a packet is a packet
LEVEL = 6  # for what is compressed once for each answer

GZIP = re.compile(r"gzip(\s*;\s*q\s*=\s*(1(\.0*)?|0\.\d*[1-9]\d*))?", re.IGNORECASE)


@lru_cache(maxsize=64)
def takes_gzip(accepted: str) -> bool:
    """Whether gzip is among what an Accept-Encoding header names, and not with q=0."""
    return any(GZIP.fullmatch(each.strip()) for each in accepted.split(","))


def compressed(request: Request, response: Response) -> Response:
    """The same answer as gzip, where that is understood and worth it."""
    response.headers.add_vary_header("Accept-Encoding")
    body = bytes(response.body)
    if len(body) >= WORTH_BYTES and takes_gzip(request.headers.get("accept-encoding", "")):
        response.body = gzip.compress(body, LEVEL, mtime=0)
        response.headers["Content-Encoding"] = "gzip"
        response.headers["Content-Length"] = str(len(response.body))
    return response
