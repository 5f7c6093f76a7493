"""`python -m scripts.fileform`: writes docs/notebook-file.md from the fields that the server knows."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from server.services.notebooks.exporting import ENTRY_COLUMNS, ROUND_COLUMNS
from server.services.notebooks.fileform import FIELDS, KINDS, SPOT, VERSION, FieldWords

PAGE = Path(__file__).parents[1] / "docs" / "notebook-file.md"
WORDS = """# A notebook's file, field by field

Version {version}: JSON (RFC 8259) in UTF-8, as `/notebook/export.json` gives it and `/notebook/import` reads
it. Every field is always there, and no other. The same notebook always gives the same bytes, apart from
`exported_at`. This page is made by `.venv/bin/python -m scripts.fileform` from
`server/services/notebooks/fileform.py`.

{fields}

## Kinds of entries and their values

{kinds}

A {spot}. A fit is the line alone, “section.line”.

Not in the file: the notebook's keys, and the settings of a device (large print, which hand, rests).

## What reading a file in does

- All of it or nothing, in one transaction. Every field is checked; what is wrong is said with its place.
- A file whose entries are in a notebook on this device adds what is missing there. Known ids bring nothing
  twice, and what was logged is never changed.
- Otherwise it makes a notebook, with the same entries, ids, moments and preferences; exported again it is
  equal byte by byte, apart from `exported_at`. Its link is new: a file holds no secrets.
- Where the entries' ids are in a notebook that is on the server and not on this device, it becomes a copy:
  new ids, made from the old ones, in `id` and in the `entry` of undos; all else is equal.
- With the code of an along whose parts have patterns of the same words, it takes its place there. Without a
  code it keeps an along of its own with the patterns of the file: the log is read and gone on with as before.
  The host's later versions, her list and the live evenings do not reach it there.
- An entry of an earlier version of the pattern may name a round that the version in the file does not have,
  as long as no such round stands.

## Tables

CSV (RFC 4180) in UTF-8 with the mark at its beginning. Moments are UTC; lengths mm, weights g, hooks mm. A
cell that a spreadsheet would take for a formula has an apostrophe before it. Tables cannot be read in.

- `entries.csv`, a line for every entry: {entry_columns}.
- `rounds.csv`, a line for every round that stands: {round_columns}.
"""


def text() -> str:
    """The whole page."""
    return WORDS.format(
        version=VERSION,
        fields=_table("Field", FIELDS),
        kinds=_table("Kind", KINDS),
        spot=SPOT,
        entry_columns=_names(ENTRY_COLUMNS),
        round_columns=_names(ROUND_COLUMNS),
    )


def _table(first: str, fields: Sequence[FieldWords]) -> str:
    rows = [f"| `{each.path}` | {each.holds} | {each.means} |" for each in fields]
    return "\n".join([f"| {first} | Holds | Means |", "| --- | --- | --- |", *rows])


def _names(columns: Sequence[str]) -> str:
    return ", ".join(f"`{column}`" for column in columns)


if __name__ == "__main__":
    PAGE.write_text(text(), encoding="utf-8")
