"""Static files: compressed where that is understood, kept for good where the address says which content."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from server.settings import ROOT
from server.web import pages
from server.web.pages import static
from server.web.staticfiles import KeptFiles

STATIC = ROOT / "static"


def names() -> list[str]:
    return sorted(str(file.relative_to(STATIC)) for file in STATIC.rglob("*") if file.is_file())


@pytest.mark.parametrize("name", names())
def test_every_file_is_itself(client: TestClient, name: str) -> None:
    content = (STATIC / name).read_bytes()
    plain = client.get(f"/static/{name}", headers={"Accept-Encoding": "identity"})
    packed = client.get(f"/static/{name}", headers={"Accept-Encoding": "gzip"})
    assert plain.status_code == packed.status_code == 200
    assert plain.content == packed.content == content
    assert "content-encoding" not in plain.headers
    if name.endswith((".css", ".js", ".svg")) and len(content) >= 500:
        assert packed.headers["content-encoding"] == "gzip"
        assert int(packed.headers["content-length"]) < len(content)
        assert plain.headers["vary"] == packed.headers["vary"] == "Accept-Encoding"
        assert plain.headers["etag"] != packed.headers["etag"]
    if name.endswith(".woff2"):
        assert "content-encoding" not in packed.headers
    head = client.head(f"/static/{name}", headers={"Accept-Encoding": "gzip"})
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["content-length"] == packed.headers["content-length"]


def test_types_are_those_that_browsers_insist_on(client: TestClient) -> None:
    types = {name: client.get(f"/static/{name}").headers["content-type"] for name in names()}
    for name, of in types.items():
        if name.endswith(".js"):
            assert of.startswith("text/javascript"), name
        if name.endswith(".css"):
            assert of.startswith("text/css"), name
        if name.endswith(".svg"):
            assert of == "image/svg+xml", name


def test_kept_for_good_only_under_the_sign_of_its_content(client: TestClient) -> None:
    address = static("css/roles.css")
    assert client.get(address).headers["cache-control"] == "public, max-age=31536000, immutable"
    for other in ("/static/css/roles.css", f"{address}0", "/static/css/roles.css?v=000000000000"):
        assert client.get(other).headers["cache-control"] == "no-cache", other


def test_asked_for_again_it_is_not_sent_again(client: TestClient) -> None:
    for encoding in ("gzip", "identity"):
        headers = {"Accept-Encoding": encoding}
        first = client.get("/static/css/roles.css", headers=headers)
        for sent in (first.headers["etag"], f'"x", W/{first.headers["etag"]}'):
            again = client.get("/static/css/roles.css", headers={**headers, "If-None-Match": sent})
            assert (again.status_code, again.content) == (304, b"")
            assert again.headers["etag"] == first.headers["etag"]
        other = client.get("/static/css/roles.css", headers={**headers, "If-None-Match": '"other"'})
        assert other.status_code == 200


@pytest.mark.parametrize(
    "path",
    [
        "nothing.css",
        "css",
        "css/",
        "../server/app.py",
        "..%2fserver%2fapp.py",
        "%2e%2e/pyproject.toml",
        "css/../../README.md",
    ],
)  # fmt: skip
def test_nothing_else_is_served(client: TestClient, path: str) -> None:
    assert client.get(f"/static/{path}").status_code == 404


def test_only_reading(client: TestClient) -> None:
    assert client.post("/static/css/roles.css").status_code == 405


def test_a_file_that_changed_is_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pages, "STATIC", tmp_path)
    monkeypatch.setattr(pages, "LOOK_EVERY_S", -1.0)
    files = KeptFiles(tmp_path)
    (tmp_path / "a.css").write_text("a {}")
    first = files.answer("a.css", {})
    (tmp_path / "a.css").write_text("b {}" * 200)
    second = files.answer("a.css", {"accept-encoding": "gzip"})
    assert first is not None
    assert second is not None
    assert first.body == b"a {}"
    assert gzip.decompress(bytes(second.body)) == b"b {}" * 200
    assert re.fullmatch(r'"[0-9a-f]{32}-gzip"', second.headers["etag"])
