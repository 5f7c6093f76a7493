"""Files by others are the ones we say they are; colours can be read; a style names roles."""

from __future__ import annotations

import base64
import re
from hashlib import sha256, sha384
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from server.web.pages import STATIC, static

ROW = re.compile(r"^\| `([^`]+)` \|.*\| `([A-Za-z0-9+/=]+)` \|$", re.MULTILINE)


def noted(page: Path) -> dict[str, str]:
    return dict(ROW.findall(page.read_text(encoding="utf-8")))


def test_files_by_others_are_unchanged() -> None:
    sums = noted(STATIC / "vendor" / "README.md")
    assert set(sums) == {"htmx/htmx.min.js", "htmx/hx-sse.min.js"}
    for name, kept in sums.items():
        digest = sha384((STATIC / "vendor" / name).read_bytes()).digest()
        assert base64.b64encode(digest).decode() == kept, name


def test_the_font_is_the_one_that_is_noted_and_has_its_licence() -> None:
    sums = noted(STATIC / "fonts" / "README.md")
    assert {name for name in sums if name.endswith(".woff2")} == {
        p.name for p in STATIC.glob("fonts/*.woff2")
    }
    for name, kept in sums.items():
        assert sha256((STATIC / "fonts" / name).read_bytes()).hexdigest() == kept, name
    assert "SIL OPEN FONT LICENSE Version 1.1" in (STATIC / "fonts" / "LICENSE.txt").read_text(
        encoding="utf-8"
    )


def test_a_files_address_changes_with_its_content_and_is_served(client: TestClient) -> None:
    address = static("css/roles.css")
    assert re.fullmatch(r"/static/css/roles\.css\?v=[0-9a-f]{12}", address)
    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("text/css")
    assert (
        static("fonts/atkinson-next-latin.woff2", stamped=False) == "/static/fonts/atkinson-next-latin.woff2"
    )
    with pytest.raises(FileNotFoundError):
        static("css/none.css")


# Contrast by WCAG 2.2: relative luminance of sRGB colours, (L1 + 0.05) / (L2 + 0.05); success criteria 1.4.3
# (text, 4.5) and 1.4.11 (outlines of what can be used, 3).
def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, two: str) -> float:
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def roles(dark: bool) -> dict[str, str]:
    text = (STATIC / "css" / "roles.css").read_text(encoding="utf-8")
    light_text, _, dark_text = text.partition("@media (prefers-color-scheme: dark)")
    found = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", light_text))
    return found | dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", dark_text)) if dark else found


TEXT_ON = [
    *(
        (ink, on)
        for ink in ("ink", "quiet-ink", "accent-ink", "good", "differs")
        for on in ("ground", "sheet")
    ),
    *(("ink", on) for on in ("good-wash", "accent-wash", "differs-wash")),
    *(("accent-ink", on) for on in ("accent-wash", "differs-wash")),
    ("good", "good-wash"),
    ("differs", "differs-wash"),
    ("on-accent", "accent"),
    ("hush-ink", "hush"),
]


@pytest.mark.parametrize("dark", [False, True])
def test_what_is_read_stands_out(dark: bool) -> None:
    role = roles(dark)
    low = {pair: round(contrast(role[pair[0]], role[pair[1]]), 2) for pair in TEXT_ON}
    assert {pair: value for pair, value in low.items() if value < 4.5} == {}


@pytest.mark.parametrize("dark", [False, True])
def test_what_can_be_used_has_an_outline_that_stands_out(dark: bool) -> None:
    role = roles(dark)
    pairs = [
        ("edge", "ground"),
        ("edge", "sheet"),
        ("accent-ink", "ground"),
        ("ink", "ground"),
        ("differs", "sheet"),
    ]
    assert [pair for pair in pairs if contrast(role[pair[0]], role[pair[1]]) < 3] == []


def test_dark_has_every_colour_of_its_own() -> None:
    text = (STATIC / "css" / "roles.css").read_text(encoding="utf-8")
    light, _, dark = text.partition("@media (prefers-color-scheme: dark)")
    names = [re.findall(r"--([\w-]+): #", part) for part in (light, dark)]
    assert names[0] == names[1]


@pytest.mark.parametrize("sheet", ["ground.css", "page.css", "forms.css", "pieces.css", "host.css"])
def test_styles_name_roles_and_not_colours(sheet: str) -> None:
    text = re.sub(r"/\*.*?\*/", "", (STATIC / "css" / sheet).read_text(encoding="utf-8"), flags=re.DOTALL)
    colours = re.findall(r"#[0-9a-fA-F]{3,8}\b|\brgba?\(|\bhsla?\(", text)
    assert [c for c in colours if (sheet, c) != ("host.css", "#fff")] == [], (
        "white is the QR code's own paper"
    )


def test_own_scripts_evaluate_nothing_and_load_nothing_from_elsewhere() -> None:
    for script in STATIC.glob("js/*.js"):
        text = script.read_text(encoding="utf-8")
        assert not re.search(r"\beval\(|new Function|innerHTML|https?://", text), script.name
