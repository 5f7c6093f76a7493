"""The commands and what they take. Each gives its exit code: 0 done, 1 not so, 2 could not be tried."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

from server import __version__
from server.cli import measuring


def parser() -> argparse.ArgumentParser:
    """All commands. `run` names the function that a command is, as module:function under server.cli."""
    top = argparse.ArgumentParser(
        prog="evenhand",
        description="The companion of a make-along: a pattern proved at every size, and a second glove that "
        "is the twin of the first.",
    )
    top.add_argument("--version", action="version", version=f"evenhand {__version__}")
    commands = top.add_subparsers(metavar="COMMAND", required=True)

    serve = commands.add_parser("serve", help="serve the pages; brings the database up to date first")
    serve.add_argument("--host", help="address to listen at (127.0.0.1; 0.0.0.0 lets the network in)")
    serve.add_argument("--port", type=_port, help="port to listen at (8000)")
    serve.add_argument("--demo", action="store_true", help="load the demo along into an empty database")
    serve.add_argument(
        "--workers", type=int, default=1, help="server processes (1); more than one need EVENHAND_REDIS_URL"
    )
    serve.set_defaults(run="serving:serve")

    demo = commands.add_parser("demo", help="load the demo along, if it is not there, and print the ways in")
    demo.set_defaults(run="serving:demo")

    check = commands.add_parser("check", help="prove a pattern; needs no server and no database")
    check.add_argument("file", type=Path, metavar="FILE", help="the pattern's text; - reads standard input")
    check.add_argument(
        "--foundation", type=_count, nargs="+", action="extend", default=[], metavar="N",
        help="custom foundation counts to show besides the sizes",
    )  # fmt: skip
    check.add_argument("--json", action="store_true", help="print the report as JSON")
    check.set_defaults(run="checking:check")

    measuring.add_fit(commands)
    measuring.add_yarn(commands)

    host = commands.add_parser("host", help="host accounts")
    actions = host.add_subparsers(metavar="ACTION", required=True)
    add = actions.add_parser("add", help="print a link that makes one host account, once")
    add.set_defaults(run="serving:host_add")

    backup = commands.add_parser("backup", help="copy the database to a file, also while the server runs")
    backup.add_argument("file", type=Path, metavar="FILE")
    backup.add_argument("--force", action="store_true", help="replace FILE if it is there")
    backup.set_defaults(run="keeping:backup")

    restore = commands.add_parser("restore", help="put a backup in the database's place")
    restore.add_argument("file", type=Path, metavar="FILE")
    restore.add_argument("--force", action="store_true", help="replace a database that is there")
    restore.set_defaults(run="keeping:restore")
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; gives its exit code."""
    options = parser().parse_args(arguments)
    module, _, function = str(options.run).partition(":")
    try:
        code = getattr(import_module(f"server.cli.{module}"), function)(options)
        sys.stdout.flush()
    except BrokenPipeError:  # `evenhand check ... | head`: the reader has enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return int(code)


def _count(typed: str) -> int:
    if not (typed.isascii() and typed.isdecimal() and 0 < int(typed) <= 100_000):
        raise argparse.ArgumentTypeError(f"a foundation count is a whole number of chains, not {typed!r}")
    return int(typed)


def _port(typed: str) -> int:
    if not (typed.isascii() and typed.isdecimal() and 0 < int(typed) <= 65_535):
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, not {typed!r}")
    return int(typed)
