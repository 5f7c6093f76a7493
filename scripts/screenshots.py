"""`python -m scripts.screenshots`: takes the README's pictures anew, of the demo, into docs/."""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, ViewportSize, sync_playwright

from tests.serving import Served

DOCS = Path(__file__).parents[1] / "docs"
PHONE = ViewportSize(width=390, height=844)
DESK = ViewportSize(width=1280, height=860)


def main() -> None:
    """Serves a fresh demo and takes the pictures."""
    DOCS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        data = Path(folder) / "var"
        chromium = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        with Served(data, "--demo") as served:
            ways = json.loads((data / "demo.json").read_text())
            glove_two(
                chromium, served.url, next(m["secret"] for m in ways["makers"] if m["nickname"] == "Aurel")
            )
            pattern(chromium, served.url, ways["sign_in_name"], ways["password"])
        chromium.close()


def glove_two(chromium: Browser, url: str, secret: str) -> None:
    """A maker's phone, one round too far in glove two."""
    page = chromium.new_page(viewport=PHONE, device_scale_factor=2)
    page.goto(f"{url}/n/{secret}")
    page.locator("main a[href*='/notebook/']").first.click()
    page.wait_for_load_state("networkidle")
    page.screenshot(path=DOCS / "glove-two.png")


def pattern(chromium: Browser, url: str, name: str, password: str) -> None:
    """The host's page of a pattern, proved."""
    page = chromium.new_page(viewport=DESK)
    page.goto(f"{url}/host/sign-in")
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Password").fill(password)
    page.locator("form button").first.click()
    page.locator("a[href^='/host/alongs/']").first.click()
    page.locator("a[href^='/host/parts/']").first.click()
    page.wait_for_load_state("networkidle")
    page.screenshot(path=DOCS / "pattern.png")


if __name__ == "__main__":
    main()
