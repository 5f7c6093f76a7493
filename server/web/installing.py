"""What makes the notebook an app on a device: its worker, its manifest, and the page for when there is no
network.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import sha256

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from server.web.encodings import compressed
from server.web.modules import bundled, module
from server.web.pages import STATIC, render, static, text_of

router = APIRouter()
STYLES = ("roles", "ground", "page", "forms", "pieces", "maker", "work", "fit", "chart")  # of a maker's pages
FONT = "atkinson-next-latin.woff2"  # letters beyond it are fetched where a page has some
AWAY = "notebook/away.js"
WHERE = "work/where.js"
LIVE = "room/"  # scripts of pages that are nothing without a network
ICONS = (("192", "any"), ("512", "any"), ("512-maskable", "maskable"))
GROUND = "#f2ecdf"  # as in the style sheet of roles


@dataclass(frozen=True)
class Offline:
    """Context of maker/offline.html."""


@router.get("/sw.js", include_in_schema=False)
def worker(request: Request) -> Response:
    """The worker, with the list of what it keeps: another list, and it is another worker to the browser."""
    files = shell()
    text = (STATIC / "sw.js").read_text(encoding="utf-8")
    version = sha256("\n".join([text, *files]).encode()).hexdigest()[:12]
    head = f'const VERSION = "{version}";\nconst FILES = {json.dumps(files)};\n'
    headers = {"Cache-Control": "no-cache", "Service-Worker-Allowed": "/"}
    answer = Response(head + text, media_type="text/javascript; charset=utf-8", headers=headers)
    return compressed(request, answer)


def shell() -> list[str]:
    """The addresses of all that a maker's pages are shown with, each with the sign of its content. The icons
    of an installed app are kept by the device itself; the script that takes a notebook off a device (`AWAY`)
    is large and of use only where there is a network, as are those of a live room (`LIVE`). That of "Where am
    I?" (`WHERE`) comes with its page, which a first visit does not keep.
    """
    return [
        *(static(f"css/{name}.css") for name in STYLES),
        static(f"fonts/{FONT}", stamped=False),
        *(static(path) for path in ("img/icon.svg", "img/chain.svg")),
        *(module(path) for path in bundled() if path not in (AWAY, WHERE) and not path.startswith(LIVE)),
        static("js/copy.js"),
        f"/offline?v={_offline_sign()}",
    ]


def _offline_sign() -> str:
    """A sign of the offline page: it names all that it is shown with."""
    return sha256(text_of("maker/offline.html", Offline()).encode()).hexdigest()[:12]


@router.get("/offline", include_in_schema=False)
def offline(request: Request) -> Response:
    """Shown by the worker where a page is not on the device and there is no network."""
    return render(request, "maker/offline.html", Offline())


@router.get("/manifest.webmanifest", include_in_schema=False)
def manifest() -> Response:
    """The web app manifest (W3C), with which a device offers to install the notebook."""
    icons = [
        {
            "src": static(f"img/icon-{size}.png"),
            "sizes": f"{size[:3]}x{size[:3]}",
            "type": "image/png",
            "purpose": purpose,
        }
        for size, purpose in ICONS
    ]
    return JSONResponse(
        {
            "id": "/notebook",
            "name": "Evenhand",
            "short_name": "Evenhand",
            "description": "A notebook for things made twice: every round of glove one, and its twin.",
            "lang": "en",
            "start_url": "/notebook",
            "scope": "/",
            "display": "standalone",
            "background_color": GROUND,
            "theme_color": GROUND,
            "icons": [
                *icons,
                {"src": static("img/icon.svg"), "sizes": "any", "type": "image/svg+xml", "purpose": "any"},
            ],
        },
        media_type="application/manifest+json",
        headers={"Cache-Control": "no-cache"},
    )
