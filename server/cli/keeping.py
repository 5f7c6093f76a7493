"""`evenhand backup FILE` and `evenhand restore FILE`."""

from __future__ import annotations

import argparse
import sys

from server.services import backup as backups
from server.services.errors import Refusal
from server.settings import Settings
from server.storage.tables import now


def backup(options: argparse.Namespace) -> int:
    """0 with the copy made, 1 with the reason on standard error."""
    try:
        backups.back_up(Settings().database, options.file, force=options.force)
    except (Refusal, OSError) as refusal:
        print(refusal, file=sys.stderr)
        return 1
    print(f"Everything is in {options.file}. It holds private notebooks: keep it where only you get at it.")
    return 0


def restore(options: argparse.Namespace) -> int:
    """0 with the backup in place, 1 with the reason on standard error."""
    settings = Settings()
    settings.make_data_dir()
    try:
        kept = backups.restore(options.file, settings.database, now(), force=options.force)
    except (Refusal, OSError) as refusal:
        print(refusal, file=sys.stderr)
        return 1
    print(f"{options.file} is in place." + (f" What was there before is in {kept}." if kept else ""))
    return 0
