"""`python -m server`, and the console command `evenhand`."""

from __future__ import annotations

import sys

from server.cli.commands import main

if __name__ == "__main__":
    sys.exit(main())
