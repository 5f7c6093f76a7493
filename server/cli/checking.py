"""`evenhand check FILE`: proves a pattern. Only the trade is needed for it: no database, no pages."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from server.cli import telling
from server.craft.fabric import Proof, prove, report
from server.craft.making import not_allowed


def check(options: argparse.Namespace) -> int:
    """0 where the pattern is proved, 1 where not; 2 for a file not read or a count that is not allowed."""
    text = text_of(options.file)
    if text is None:
        return 2
    foundations: list[int] = list(dict.fromkeys(options.foundation))
    proof = prove(text, foundations)
    # Where the header itself does not read, its findings say more than a count that is not allowed.
    readable = not any(finding.is_error and finding.kind == "header" for finding in proof.findings)
    refused = [count_refused(proof, n) for n in foundations if readable and not proof.allowed(n)]
    if refused:
        print(*refused, sep="\n", file=sys.stderr)
        return 2
    if options.json:
        print(json.dumps(report.as_dict(proof), ensure_ascii=False, indent=1))
    else:
        print(telling.told(proof, text))
    return 0 if proof.proved else 1


def count_refused(proof: Proof, foundation: int) -> str:
    """What to say to a count that the pattern does not allow."""
    if proof.multiple is None:
        return (
            f"{foundation} cannot be worked: this pattern allows its own sizes only (no multiple is given)."
        )
    return not_allowed(foundation, proof.multiple, proof.plus, proof.nearest(foundation))


def text_of(file: Path) -> str | None:
    """What stands in the file, or None after saying why it cannot be read."""
    try:
        raw = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        why = f"it is not UTF-8 text (byte {error.start + 1} of {len(error.object)})"
    except FileNotFoundError:
        why = "there is no such file"
    except IsADirectoryError:
        why = "it is a folder"
    except OSError as error:
        why = str(error.strerror or error).lower()
    print(f"{file} cannot be read: {why}.", file=sys.stderr)
    return None
