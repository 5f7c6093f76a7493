"""`python -m scripts.migrations`: do the migrations make exactly the tables that the code has?"""

from __future__ import annotations

import logging
import sys
import tempfile
from pathlib import Path

from alembic import command
from alembic.util import CommandError

from server.storage.migrating import configuration, migrate
from server.storage.sessions import open_engine


def main() -> int:
    """1, and what a new migration would have to do, where the tables have moved on."""
    logging.getLogger("alembic").setLevel(logging.WARNING)
    with tempfile.TemporaryDirectory() as folder:
        engine = open_engine(Path(folder) / "check.db")
        migrate(engine)
        try:
            with engine.connect() as connection:
                command.check(configuration(connection))
        except CommandError as error:
            print(f'{error}\nMake a migration: .venv/bin/alembic revision --autogenerate -m "..."')
            return 1
        finally:
            engine.dispose()
    return 0


if __name__ == "__main__":
    sys.exit(main())
