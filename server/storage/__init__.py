"""The tables, sessions on them, and what reads and writes them."""

from server.storage import roomkeys as roomkeys  # so that every table is known, whichever is asked for first
