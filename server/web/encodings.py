"""Which encodings of an answer a browser takes."""

from __future__ import annotations

import re
from functools import lru_cache

GZIP = re.compile(r"gzip(\s*;\s*q\s*=\s*(1(\.0*)?|0\.\d*[1-9]\d*))?", re.IGNORECASE)


@lru_cache(maxsize=64)
def takes_gzip(accepted: str) -> bool:
    """Whether gzip is among what an Accept-Encoding header names, and not with q=0."""
    return any(GZIP.fullmatch(each.strip()) for each in accepted.split(","))
