"""The worker, the manifest and the scripts' own addresses, as they are served."""

from __future__ import annotations

import gzip
import json
import re

import pytest
from starlette.testclient import TestClient

from server.web import installing, modules
from server.web.pages import STATIC


def test_the_worker_is_asked_for_anew_and_may_have_the_whole_site(client: TestClient) -> None:
    answer = client.get("/sw.js")
    assert answer.status_code == 200
    assert answer.headers["cache-control"] == "no-cache"
    assert answer.headers["service-worker-allowed"] == "/"
    assert answer.headers["content-type"].startswith("text/javascript")


def test_the_worker_has_another_version_where_a_file_has_another_content(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = client.get("/sw.js").text
    assert client.get("/sw.js").text == before
    monkeypatch.setattr(modules, "_scripts", lambda build: (("copy.js", "notebook/store.js"), "0123456789ab"))
    after = client.get("/sw.js").text
    version = re.compile(r'const VERSION = "(\w+)";')
    assert version.match(before)[1] != version.match(after)[1]  # type: ignore[index]


def test_every_file_of_the_worker_is_there(client: TestClient) -> None:
    files = json.loads(re.search(r"const FILES = (.*);", client.get("/sw.js").text)[1])  # type: ignore[index]
    assert any(address.endswith("page.js") for address in files)  # with all that it imports
    for address in files:
        assert client.get(address).status_code == 200, address


def test_no_host_s_file_and_no_page_with_a_secret_is_kept(client: TestClient) -> None:
    for address in installing.shell():
        assert re.match(r"/(static|js)/|/offline\?", address), address
        assert "host" not in address


def test_scripts_have_an_address_for_each_version(client: TestClient) -> None:
    address = modules.module("notebook/store.js")
    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.text == modules.without_comments((STATIC / "js/notebook/store.js").read_text())
    assert "immutable" in answer.headers["cache-control"]
    assert client.get(address.replace(modules.version(), "0123456789ab")).status_code == 404
    assert client.get(f"/js/{modules.version()}/../css/page.css").status_code == 404
    assert client.get(f"/js/{modules.version()}/nothing.js").status_code == 404


def test_scripts_are_sent_without_their_comments() -> None:
    told = "// why\n/**\n * @param {number} a\n */\nexport const f = (a) => {\n"
    told += "  /** @type {x} */ let b;\n\n  // and\n};\n"
    assert modules.without_comments(told) == "export const f = (a) => {\nlet b;\n};\n"


def test_what_is_left_out_by_lines_is_never_within_a_text() -> None:
    """No text goes over several lines: every line has its backticks in pairs, and no block comment begins
    after code."""
    for name in modules.scripts():
        for number, line in enumerate((STATIC / "js" / name).read_text().splitlines(), 1):
            assert line.count("`") % 2 == 0, f"{name}:{number}"
            assert not re.search(r"[;{},)]\s*/\*", line), f"{name}:{number}"


def test_the_store_is_small() -> None:
    """All that a working page loads of it, as it comes over the network."""
    sent = "".join(
        modules.without_comments((STATIC / "js" / name).read_text())
        for name in modules.scripts()
        if name.startswith("notebook/")
    )
    assert len(gzip.compress(sent.encode(), 9)) < 20_000


def test_the_manifest(client: TestClient) -> None:
    """W3C Web Application Manifest: what a browser wants before it offers to install."""
    answer = client.get("/manifest.webmanifest")
    assert answer.headers["content-type"].startswith("application/manifest+json")
    told = answer.json()
    assert (told["start_url"], told["scope"], told["display"]) == ("/notebook", "/", "standalone")
    assert {(icon["sizes"], icon["purpose"]) for icon in told["icons"]} >= {
        ("192x192", "any"), ("512x512", "any"), ("512x512", "maskable"),
    }  # fmt: skip
    for icon in told["icons"]:
        picture = client.get(icon["src"])
        assert picture.status_code == 200
        assert picture.headers["content-type"].split(";")[0] == icon["type"]
        if icon["type"] == "image/png":  # width and height stand at 16 and 20 in a PNG (its IHDR)
            width, height = (int.from_bytes(picture.content[at : at + 4]) for at in (16, 20))
            assert icon["sizes"] == f"{width}x{height}"


def test_the_offline_page(client: TestClient) -> None:
    answer = client.get("/offline")
    assert "No network just now" in answer.text
