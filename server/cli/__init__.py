"""The console: `evenhand` or `python -m server`. One module a command, imported only when it is asked for."""
