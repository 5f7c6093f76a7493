"""The live room's fan-out: what happens in a room goes to all its listeners, whichever process they are at.

It knows rooms by name, what happened by number, and listeners by where to write; nothing of patterns, hosts
or the database.
"""

from server.broadcast.bus import Bus, Redis, RedisMissing
from server.broadcast.frames import Happening, frame
from server.broadcast.hub import Hub, Listener
from server.broadcast.presence import Here

__all__ = ["Bus", "Happening", "Here", "Hub", "Listener", "Redis", "RedisMissing", "frame"]
