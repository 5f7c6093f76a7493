"""`evenhand serve`, `evenhand demo` and `evenhand host add`."""

from __future__ import annotations

import argparse
import json
import logging
import os
import signal
import socket
import sys
from dataclasses import asdict
from pathlib import Path

import uvicorn
from sqlalchemy import Engine
from uvicorn.supervisors import Multiprocess

from server.app import create_serving_app
from server.services import accounts
from server.services import demo as demos
from server.services.demo import Demo, DemoMaker
from server.settings import Settings
from server.storage.migrating import known, migrate, revision
from server.storage.scrubbing import scrub_if_due
from server.storage.sessions import open_engine, reading, writing
from server.storage.tables import now

BACKLOG = 4096  # all of a room come back at once after a restart
CLOSE_WITHIN_S = 3  # how long open requests may take once the server has been told to stop


def serve(options: argparse.Namespace) -> int:
    """Serves until it is told to stop: 0; 1 where it cannot, with the reason on standard error."""
    given = {"host": options.host, "port": options.port}
    settings = Settings(**{name: value for name, value in given.items() if value is not None})
    if options.workers > 1 and not settings.redis_url:
        print(
            "Several workers share the live rooms through Redis: set EVENHAND_REDIS_URL, such as "
            "redis://127.0.0.1:6379/0, or serve with one.",
            file=sys.stderr,
        )
        return 1
    listening = _listen(settings)
    if listening is None:
        return 1
    with listening:
        engine = _open(settings)
        if engine is None:
            return 1
        if options.demo:
            with reading(engine) as session:
                fresh = not accounts.any_host(session)
            if fresh:
                _load_demo(engine, settings)
        print(_ways_in(engine, settings), flush=True)
        engine.dispose()
        return _run(settings, listening, max(options.workers, 1))


def demo(options: argparse.Namespace) -> int:
    """Loads the demo where it is not there yet, and says where to go in."""
    del options
    settings = Settings()
    engine = _open(settings)
    if engine is None:
        return 1
    with reading(engine) as session:
        loaded = demos.is_loaded(session)
    if not loaded:
        _load_demo(engine, settings)
    print("\n".join(_demo_lines(engine, settings)))
    return 0


def host_add(options: argparse.Namespace) -> int:
    """Prints a link that makes one host account."""
    del options
    settings = Settings()
    engine = _open(settings)
    if engine is None:
        return 1
    print(f"{_invite(engine, settings)}\nIt works once, within {accounts.INVITE_DAYS} days.")
    return 0


def _open(settings: Settings) -> Engine | None:
    """The database, brought up to date; None after saying why not."""
    settings.make_data_dir()
    engine = open_engine(settings.database)
    at = revision(engine)
    if at is not None and not known(at):
        print(
            f"{settings.database} was made by a newer version of Evenhand. Serve it with that.",
            file=sys.stderr,
        )
        return None
    migrate(engine)
    scrub_if_due(engine)
    settings.database.chmod(0o600)
    return engine


def _listen(settings: Settings) -> socket.socket | None:
    """The socket to serve on, taken before anything else is done; None after saying why not."""
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((settings.host, settings.port))
        listening.listen(BACKLOG)
    except OSError as error:
        listening.close()
        why = (error.strerror or str(error)).lower()
        print(
            f"Port {settings.port} at {settings.host} cannot be used: {why}. "
            f"Serve at another: make run PORT={settings.port % 65_535 + 1}",
            file=sys.stderr,
        )
        return None
    return listening


def _run(settings: Settings, listening: socket.socket, workers: int) -> int:
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    os.environ.update(EVENHAND_HOST=settings.host, EVENHAND_PORT=str(settings.port))  # for the workers
    config = uvicorn.Config(
        create_serving_app(settings) if workers == 1 else "server.app:create_serving_app",
        factory=workers > 1,
        workers=workers,
        log_level="warning",
        access_log=False,  # it would write down the makers' secret links
        server_header=False,
        timeout_graceful_shutdown=CLOSE_WITHIN_S,
    )
    if workers > 1:
        Multiprocess(config, sockets=[listening]).run()
        return 0
    # uvicorn stops in good order and then passes the signal on to whoever handled it before: to nobody.
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda *_: None)
    server = uvicorn.Server(config)
    server.run(sockets=[listening])
    return 0 if server.started else 1


def _ways_in(engine: Engine, settings: Settings) -> str:
    lines = [f"Evenhand is at {settings.url}", ""]
    with reading(engine) as session:
        settled = demos.has_other_hosts(session)
    if settled:
        lines.append(f"Hosts sign in at  {settings.url}/host/sign-in")
    else:
        lines.append(f"Make your host account (once, within {accounts.INVITE_DAYS} days):")
        lines.append(f"  {_invite(engine, settings)}")
    lines += [f"Makers join at    {settings.url}/join  with the code of their along", ""]
    lines += _demo_lines(engine, settings)
    return "\n".join([*lines, f"All of it is kept in {_shown(settings.data_dir)}. Ctrl+C stops the server."])


def _invite(engine: Engine, settings: Settings) -> str:
    with writing(engine) as session:
        token = accounts.invite(session, now())
    return f"{settings.url}/host/new/{token}"


def _shown(path: Path) -> str:
    here = Path.cwd()
    return f"{path.relative_to(here)}/" if path.is_relative_to(here) else str(path)


def _demo_file(settings: Settings) -> Path:
    return settings.data_dir / "demo.json"


def _load_demo(engine: Engine, settings: Settings) -> None:
    with writing(engine) as session:
        loaded = demos.load(session, now())
        # Before the commit: a demo that nobody can get into is worse than none. The database has hashes only.
        file = _demo_file(settings)
        file.touch(mode=0o600)
        file.write_text(json.dumps(asdict(loaded), indent=1), encoding="utf-8")


def _demo_lines(engine: Engine, settings: Settings) -> list[str]:
    """Where to go into the demo; nothing where it is not loaded."""
    with reading(engine) as session:
        if not demos.is_loaded(session):
            return []
    known_demo = _read_demo(_demo_file(settings))
    if known_demo is None:
        return [
            f"There is a demo, but its ways in were in {_shown(_demo_file(settings))}, which is gone.",
            "",
        ]
    wide = max(len(maker.nickname) for maker in known_demo.makers)
    return [
        f"The demo along. Its host signs in at {settings.url}/host/sign-in",
        f"  as {known_demo.sign_in_name}, password {known_demo.password}",
        f"  A new maker joins at {settings.url}/join/{known_demo.join_code}",
        "  Four have begun:",
        *(
            f"  {maker.nickname:{wide}}  {maker.whereabouts}\n  {'':{wide}}  {settings.url}/n/{maker.secret}"
            for maker in known_demo.makers
        ),
        "",
    ]


def _read_demo(file: Path) -> Demo | None:
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
        return Demo(**{**kept, "makers": tuple(DemoMaker(**maker) for maker in kept["makers"])})
    except (OSError, ValueError, TypeError, KeyError):
        return None
