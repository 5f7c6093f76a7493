"""What is true of every answer and asked of every request, before any page is reached. Plain ASGI.

- SecurityHeaders: scripts, styles, pictures and forms from here only; secret links do not leak.
- SameOrigin: what changes anything has to come from one of our own pages.
- RequestSize: a request larger than any form of ours is not read into memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from server.web.problems import problem

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    # Another site never learns our addresses. Not "no-referrer" everywhere: forms would then come with
    # "Origin: null", and where the browser sends no Sec-Fetch-Site (plain http on the home network), the
    # origin is all that SameOrigin has.
    "Referrer-Policy": "same-origin",
}
SECRET_LINKS = ("/n/", "/move/")
NOT_FOR_SEARCH = ("/n/", "/move", "/join/", "/host", "/notebook", "/erased", "/screen/")
RAW = tuple((name.lower().encode(), value.encode()) for name, value in HEADERS.items())
RAW_UNLISTED = ((b"x-robots-tag", b"noindex, nofollow"), *RAW)
# A style sheet, a script, a font: nothing that could be framed or would load anything in its own name. On the
# thirty files of a first visit the others would weigh as much as the page.
FILES, DOCUMENTS = ("/static/", "/js/"), (".svg", ".html")
RAW_OF_FILES = tuple(each for each in RAW if each[0] == b"x-content-type-options")
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
READ_AND_DROP = (
    10  # a body up to so many times too large is read to its end, so that the browser shows our page
)


class SecurityHeaders:
    """Adds the headers to every answer; one that an answer already has stays."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        path: str = scope["path"]

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                if path.startswith(SECRET_LINKS) and message["status"] < 400:
                    headers = MutableHeaders(scope=message)
                    headers["Referrer-Policy"] = "no-referrer"
                    headers["Cache-Control"] = "no-store"
                there = {name.lower() for name, _ in message["headers"]}
                added = RAW_UNLISTED if path.startswith(NOT_FOR_SEARCH) else RAW
                if path.startswith(FILES) and message["status"] < 400 and not path.endswith(DOCUMENTS):
                    added = RAW_OF_FILES
                message["headers"] = [*message["headers"], *(each for each in added if each[0] not in there)]
            await send(message)

        await self.app(scope, receive, send_with_headers)


class SameOrigin:
    """Refuses what another site's page sends in a visitor's name. SameSite cookies are the second lock."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or scope["method"] in SAFE_METHODS or ours(Headers(scope=scope)):
            await self.app(scope, receive, send)
            return
        answer = problem(
            Request(scope),
            403,
            "This came from another site",
            "The page it was sent from is not ours, so nothing was done. Send it from our own page.",
        )
        await answer(scope, receive, send)


def ours(headers: Headers) -> bool:
    """Whether a request that changes something comes from our own pages.

    Browsers say so themselves (Sec-Fetch-Site), where they trust the connection; elsewhere their Origin has
    to be us. A client that sends neither is no browser, and has no visitor's cookies to misuse.
    """
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get("origin")
    return origin is None or urlsplit(origin).netloc == headers.get("host", "")


class _TooLarge(Exception):
    pass


class _Body:
    """Counts what has come of a request's body."""

    def __init__(self, receive: Receive, most_bytes: int) -> None:
        self.receive = receive
        self.most_bytes = most_bytes
        self.got = 0
        self.ended = False
        self.over = False

    async def next(self) -> Message:
        """The next message as it comes."""
        message = await self.receive()
        self.got += len(message.get("body", b""))
        self.ended = not message.get("more_body", False)
        self.over = self.over or self.got > self.most_bytes
        return message

    async def next_within(self) -> Message:
        """The next message, or _TooLarge."""
        message = await self.next()
        if self.over:
            raise _TooLarge
        return message

    async def drop_rest(self) -> None:
        """Reads on to the end, within reason: a browser that is cut off while sending shows no page."""
        while not self.ended and self.got <= self.most_bytes * READ_AND_DROP:
            await self.next()


class RequestSize:
    """Answers 413 to a request with a body of more than `most_bytes`; `larger` says other bounds by path."""

    def __init__(self, app: ASGIApp, most_bytes: int, larger: Mapping[str, int] | None = None) -> None:
        self.app = app
        self.most_bytes = most_bytes
        self.larger = larger or {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        most_bytes = self.larger.get(scope["path"], self.most_bytes)
        headers = Headers(scope=scope)
        stated = "" if "transfer-encoding" in headers else headers.get("content-length", "")
        if stated.isdecimal() and int(stated) <= most_bytes:
            await self.app(scope, receive, send)  # no server lets more through than was stated
            return
        body = _Body(receive, most_bytes)
        answering = False

        async def send_unless_over(message: Message) -> None:
            nonlocal answering
            if not body.over or answering:  # what the app makes of a body cut short is no answer
                answering = True
                await send(message)

        if stated.isdecimal():
            body.over = True
        else:
            with suppress(_TooLarge):
                await self.app(scope, body.next_within, send_unless_over)
        if body.over and not answering:
            await body.drop_rest()
            await self._answer(scope, receive, send, most_bytes)

    async def _answer(self, scope: Scope, receive: Receive, send: Send, most_bytes: int) -> None:
        answer = problem(
            Request(scope),
            413,
            "That is too much at once",
            f"This page takes up to {most_bytes / 1e6:g} MB, far more than the longest pattern needs. "
            "Go back: what you typed is still there. Send less of it.",
        )
        answer.headers["Connection"] = "close"
        await answer(scope, receive, send)
