"""Pattern text to tree: `read` with findings, `write` back to text."""

from server.craft.text.findings import Finding
from server.craft.text.printer import write
from server.craft.text.reader import Reading, read
from server.craft.text.tree import Pattern

__all__ = ["Finding", "Pattern", "Reading", "read", "write"]
