"""Takes away the marks that a post has for looks: bold labels, a table's bars, numbers before labels.

Each sign gives way to another one, so that every place in the text stays what it was.
"""

from __future__ import annotations

import re

from server.craft.text.labels import starts_with_label

MARKED = re.compile(
    r"[*_|<]|^[ \t]*\d{1,3}[.)][ \t]+(?:r\b|r\d|rnd|round|rd|row)", re.IGNORECASE | re.MULTILINE
)
BOLD = re.compile(
    r"(?P<mark>\*{1,3}|_{1,3})(?=[^\s*_])(?P<words>[^*_\n]{1,70}?)(?<=[^\s*_])(?P=mark)(?![\w*_])"
)
KEY = re.compile(r"^[A-Za-z][\w '’/&-]{1,40}:?$")
CELLS = re.compile(
    r"^[ \t]*(?P<open>\|?)[ \t]*(?:(?:rounds?|rnds?|rds?|rows?|r)\.?[ \t]*)?\d{1,3}"
    r"(?:[ \t]*(?:[-–]|to)[ \t]*\d{1,3})?[ \t]*(?P<first>\|)[^|\n]*[^\s|]"
    r"(?:[ \t]*(?P<second>\|)[ \t]*(?P<count>[^|\n]*?))?[ \t]*(?P<last>\|?)[ \t]*$",
    re.IGNORECASE,
)
ANGLES = re.compile(r"<(?=\s*=?\s*\d[^<>\n]{0,60}>)([^<>\n]*)>")
STEP = re.compile(r"^[ \t]*\d{1,3}[ \t]*[.)][ \t]+(?=\S)")


def without_marks(text: str) -> str:
    """The text without those marks, as long as it was."""
    if MARKED.search(text) is None:
        return text
    lines = text.split("\n")
    numbered = sum(_step_and_label(line) for line in lines) >= 2
    return "\n".join(_line(line, numbered=numbered) for line in lines)


def _step_and_label(line: str) -> bool:
    """`2. Row 1: …`: a number of the list, and the label behind it."""
    match = STEP.match(line)
    return match is not None and starts_with_label(line[match.end() :])


def _line(line: str, *, numbered: bool) -> str:
    if numbered and (step := STEP.match(line)) is not None:
        line = " " * step.end() + line[step.end() :]
    if "|" in line and (cells := CELLS.match(line)) is not None:
        line = _without_bars(line, cells)
    if "<" in line:
        line = ANGLES.sub(r"[\1]", line)
    if "*" in line or "_" in line:
        line = _without_bold(line)
    return line


def _without_bars(line: str, cells: re.Match[str]) -> str:
    """`3 | ch 1, … | 56` as `3 . ch 1, … = 56`: a label, what is worked, its count."""
    signs = list(line)
    for name, sign in (
        ("open", " "),
        ("first", "."),
        ("second", "=" if cells["count"] else " "),
        ("last", " "),
    ):
        if cells[name]:
            signs[cells.start(name)] = sign
    return "".join(signs)


def _without_bold(line: str) -> str:
    """`**Rnd 1:** ch 1` as `Rnd 1: ch 1`; a repeat's stars are left: `*sc, ch 1* around`."""
    match = BOLD.search(line)
    if match is None or re.search(r"\w", line[: match.start()]):
        return line
    words, mark = match["words"], len(match["mark"])
    behind = line[match.end() :]
    whole = not re.search(r"\w", behind) and (mark > 1 or KEY.match(words) is not None)
    if not (starts_with_label(words) or whole or (mark > 1 and _is_key(words, behind))):
        return line
    blank = " " * mark
    return line[: match.start()] + blank + words + blank + behind


def _is_key(words: str, behind: str) -> bool:
    """`**Gauge:** …`, `__Yarn__ : …`."""
    if re.search(r"\brep(?:eat)?\b", behind, re.IGNORECASE):
        return False
    return KEY.match(words) is not None and (words.endswith(":") or behind.lstrip().startswith(":"))
