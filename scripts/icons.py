"""The pictures that devices show for the installed notebook, from static/img/icon.svg:
`python -m scripts.icons` draws them anew, in the system's Chromium.
"""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

IMAGES = Path(__file__).parents[1] / "static" / "img"
NAMES = ("chromium", "chromium-browser", "google-chrome")
SAFE = 0.8  # of a maskable icon's width is never cut off (W3C manifest: a circle of 80 %)


def draw() -> None:
    """Writes the icons of 192 and 512 px, and one that a device may cut to its own shape."""
    icon = (IMAGES / "icon.svg").read_text(encoding="utf-8")
    ground = re.search(r'fill="(#[0-9a-f]{6})"', icon)
    assert ground is not None
    path = next(filter(None, map(shutil.which, NAMES)))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        for name, size, part in (("192", 192, 1.0), ("512", 512, 1.0), ("512-maskable", 512, SAFE)):
            page = browser.new_page(viewport={"width": size, "height": size})
            inner = size * part
            back = ground[1] if part < 1 else "transparent"
            page.set_content(
                f'<body style="margin:0;background:{back};display:grid;place-items:center;height:{size}px">'
                f'<div style="width:{inner}px;height:{inner}px">{icon}</div></body>'
            )
            page.screenshot(path=IMAGES / f"icon-{name}.png", omit_background=True)
            page.close()
        browser.close()


if __name__ == "__main__":
    draw()
