"""Static files: read once, compressed once, and served from memory.

An address with the sign of the file's content in it (server.web.pages.static) is kept by browsers for good;
any other is asked for again with its ETag. They hold nothing secret, so that compressing them gives nothing
away.
"""

from __future__ import annotations

import gzip
import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from urllib.parse import parse_qs

from starlette.datastructures import Headers
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from server.web.encodings import WORTH_BYTES, takes_gzip
from server.web.pages import SIGN_CHARACTERS, build

TEXT = (".css", ".js", ".svg", ".html", ".json", ".webmanifest", ".txt", ".md")
MEDIA_TYPES = {".js": "text/javascript", ".webmanifest": "application/manifest+json", ".woff2": "font/woff2"}
UNKNOWN = "application/octet-stream"
FOR_GOOD = "public, max-age=31536000, immutable"
A_WEEK = "public, max-age=604800"
ASK_AGAIN = "no-cache"


@dataclass(frozen=True)
class File:
    """A file as it is served. `packed`: as gzip, where that is shorter."""

    sign: str
    media_type: str
    plain: bytes
    packed: bytes | None

    @classmethod
    def of(cls, path: Path) -> File:
        """The file as it is on the disk now."""
        plain = path.read_bytes()
        packed = None
        if path.suffix in TEXT and len(plain) >= WORTH_BYTES:
            packed = gzip.compress(plain, 9, mtime=0)
        media_type = (
            MEDIA_TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
        )
        sign = sha256(plain).hexdigest()
        return cls(sign, media_type, plain, packed if packed and len(packed) < len(plain) else None)


class KeptFiles(StaticFiles):
    """The files of a folder."""

    def __init__(self, folder: Path) -> None:
        super().__init__(directory=folder)
        self._folder = folder
        self._files: dict[str, File] = {}
        self._build: tuple[int, int] | None = None

    async def get_response(self, path: str, scope: Scope) -> Response:
        """The answer for a path below the folder; what is not there is Starlette's to answer."""
        answer = None
        if scope["method"] in ("GET", "HEAD"):
            signs = parse_qs(scope.get("query_string", b"").decode("latin-1")).get("v", [""])
            answer = self.answer(path, Headers(scope=scope), signs[0])
        return answer or await super().get_response(path, scope)

    def answer(
        self, path: str, headers: Mapping[str, str], sign: str = "", *, immutable: bool = False
    ) -> Response | None:
        """The file as whoever sent these headers can take it; None where there is none. `sign`: the one its
        address has; `immutable`: the address is one that never means another content.
        """
        file = self._file(path)
        if file is None:
            return None
        packed = file.packed is not None and takes_gzip(headers.get("accept-encoding", ""))
        etag = f'"{file.sign[:32]}{"-gzip" if packed else ""}"'
        for_good = immutable or sign == file.sign[:SIGN_CHARACTERS]
        # Style sheets name the fonts without a sign, and fonts do not change.
        otherwise = A_WEEK if path.endswith(".woff2") else ASK_AGAIN
        answered = {"ETag": etag, "Cache-Control": FOR_GOOD if for_good else otherwise}
        if file.packed is not None:
            answered["Vary"] = "Accept-Encoding"
        if etag in (each.strip().removeprefix("W/") for each in headers.get("if-none-match", "").split(",")):
            return Response(status_code=304, headers=answered)
        if packed:
            answered["Content-Encoding"] = "gzip"
        body = file.packed if packed and file.packed is not None else file.plain
        return Response(body, media_type=file.media_type, headers=answered)

    def _file(self, path: str) -> File | None:
        if self._build != build():
            self._build = build()
            self._files = {}
        if path not in self._files:
            # Only what is listed below the folder: no path that anybody sends is ever opened as it is.
            found = {str(file.relative_to(self._folder)): file for file in self._folder.rglob("*.*")}
            if path not in found or not found[path].is_file():
                return None
            self._files[path] = File.of(found[path])
        return self._files[path]
