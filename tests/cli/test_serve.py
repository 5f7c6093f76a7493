"""`evenhand serve`, `demo`, `host add`, `backup` and `restore`, as processes of their own."""

from __future__ import annotations

import os
import re
import signal
import socket
import stat
import subprocess
import sys
from pathlib import Path

import httpx2
import pytest

from tests.serving import Served, browsing, free_port


def run(data_dir: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if not k.startswith("EVENHAND_")}
    return subprocess.run(
        [sys.executable, "-m", "server", *arguments],
        env=environment | {"EVENHAND_DATA_DIR": str(data_dir)},
        capture_output=True,
        text=True,
        timeout=60,
    )


def links(printed: str, pattern: str) -> list[str]:
    return re.findall(rf"http://localhost:\d+({pattern})\S*", printed)


def test_from_nothing_to_a_demo_that_opens(tmp_path: Path) -> None:
    data = tmp_path / "var"
    with Served(data, "--demo") as served:
        printed = served.printed
        assert stat.S_IMODE(data.stat().st_mode) == 0o700
        assert stat.S_IMODE((data / "evenhand.db").stat().st_mode) == 0o600
        assert stat.S_IMODE((data / "demo.json").stat().st_mode) == 0o600

        new = re.search(r"http://localhost:\d+(/host/new/\S+)", printed)
        assert new is not None
        with browsing(served.url) as browser:
            assert browser.get(new[1]).status_code == 200
            made = browser.post(
                new[1],
                data={"sign_in_name": "marit", "shown_name": "Marit", "password": "three old lamps"},
            )
            assert made.status_code == 200
            assert made.url.path == "/host"
        with browsing(served.url) as browser:
            assert browser.get(new[1]).status_code == 404, "the link works once"

        sign_in = re.search(r"as (\S+), password (\S+)", printed)
        assert sign_in is not None
        with browsing(served.url) as browser:
            desk = browser.post("/host/sign-in", data={"sign_in_name": sign_in[1], "password": sign_in[2]})
            assert desk.url.path == "/host"
            assert "Harbour evenings" in desk.text

        for nickname, path in re.findall(r"  (\w+) +[^\n]+\n +http://localhost:\d+(/n/\S+)", printed):
            with browsing(served.url) as browser:
                shelf = browser.get(path)
                assert shelf.status_code == 200
                assert nickname in shelf.text
        assert len(links(printed, "/n/")) == 4
        join = re.search(r"http://localhost:\d+(/join/\w+)", printed)
        assert join is not None
        assert httpx2.get(served.url + join[1]).status_code == 200
        assert served.stop() == 0

    with Served(data, "--demo") as again:
        assert "/host/new/" not in again.printed, "there is a host of their own now"
        assert sign_in[2] in again.printed
        with browsing(again.url) as browser:
            answer = browser.post(
                "/host/sign-in", data={"sign_in_name": "marit", "password": "three old lamps"}
            )
            assert answer.url.path == "/host", "everything has been kept"
        assert again.stop(signal.SIGINT) == 0


def test_without_the_demo(tmp_path: Path) -> None:
    with Served(tmp_path / "var") as served:
        assert "/host/new/" in served.printed
        assert "The demo" not in served.printed
        assert links(served.printed, "/n/") == []
        assert served.stop() == 0


def test_it_stops_with_a_connection_still_open(tmp_path: Path) -> None:
    with Served(tmp_path / "var") as served, socket.create_connection(("localhost", served.port)) as open_one:
        open_one.sendall(b"POST /host/sign-in HTTP/1.1\r\nHost: x\r\nContent-Length: 99\r\n\r\nhalf a fo")
        assert served.stop() == 0


def test_a_port_that_is_taken(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = run(tmp_path / "var", "serve", "--port", str(port))
    assert done.returncode == 1
    assert done.stderr.count("\n") == 1
    assert f"Port {port}" in done.stderr
    assert f"make run PORT={port % 65535 + 1}" in done.stderr
    assert not (tmp_path / "var").exists(), "nothing has been touched"


def test_demo_by_itself_and_host_add(tmp_path: Path) -> None:
    data = tmp_path / "var"
    first, second = run(data, "demo"), run(data, "demo")
    assert (first.returncode, second.returncode) == (0, 0), first.stderr + second.stderr
    assert first.stdout == second.stdout, "loaded once, told every time"
    assert len(links(first.stdout, "/n/")) == 4
    added = run(data, "host", "add")
    assert added.returncode == 0
    token = re.search(r"(/host/new/\S+)", added.stdout)
    assert token is not None
    with Served(data) as served:
        assert httpx2.get(served.url + token[1]).status_code == 200


def test_backup_and_restore(tmp_path: Path) -> None:
    data, copy = tmp_path / "var", tmp_path / "copy.db"
    assert run(data, "backup", str(copy)).returncode == 1, "there is nothing to copy yet"
    assert run(data, "demo").returncode == 0
    assert run(data, "backup", str(copy)).returncode == 0
    refused = run(data, "restore", str(copy))
    assert refused.returncode == 1
    assert "--force" in refused.stderr
    assert "Traceback" not in refused.stderr
    other = tmp_path / "other" / "var"
    assert run(other, "restore", str(copy)).returncode == 0
    with Served(other) as served:
        assert "There is a demo" in served.printed


def test_a_database_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    import sqlite3

    data = tmp_path / "var"
    assert run(data, "host", "add").returncode == 0
    with sqlite3.connect(data / "evenhand.db") as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    done = run(data, "serve", "--port", str(free_port()))
    assert done.returncode == 1
    assert "newer version" in done.stderr


@pytest.mark.parametrize("arguments", [["serve", "--port", "99999"], ["host"], ["host", "remove"]])
def test_bad_arguments(tmp_path: Path, arguments: list[str]) -> None:
    done = run(tmp_path / "var", *arguments)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_several_workers_need_redis(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("REDIS_URL", raising=False)
    done = run(tmp_path, "serve", "--workers", "2")
    assert done.returncode == 1
    assert "set EVENHAND_REDIS_URL" in done.stderr
