"""Secrets that open a notebook, and what is kept of them."""

from __future__ import annotations

import re
import secrets
from hashlib import sha256

SECRET_SHAPE = re.compile(r"[A-Za-z0-9_-]{43}")  # secrets.token_urlsafe(32)


def new_secret() -> str:
    """A fresh secret for a notebook's link: 32 random bytes, url-safe."""
    return secrets.token_urlsafe(32)


def secret_hash(secret: str) -> str:
    """What is stored of a secret: its SHA-256 in hex. The secret has 256 random bits, so no salt is
    needed.
    """
    return sha256(secret.encode()).hexdigest()
