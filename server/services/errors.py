"""What a use case answers when it cannot do what was asked: the web makes pages of it, the console lines."""

from __future__ import annotations


class Refusal(Exception):
    """It was not done; `message` tells the person what would be right, `field` names the form's field."""

    def __init__(self, message: str, field: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.field = field


class NotFound(Refusal):
    """There is nothing at that address, or nothing that may be told about. Both read the same."""


class Gone(NotFound):
    """It was here and is not any more. Said only to a device that had the key to it."""


class NotAllowed(Refusal):
    """Known, and not hers to do: another host's along, a session that has ended."""
