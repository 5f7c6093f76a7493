"""Parts a line that has its heading before it: `Thumb: Join yarn in any st. Sc in each st around.`"""

from __future__ import annotations

import re

HEADED = re.compile(
    r"^\W*(?P<title>(?:optional\s+)?(?:thumb|edging|edge|border|trim|cuff|hand|wrist|palm|body|brim|crown|band|finger|top"
    r"|(?:top|bottom|upper|lower|wrist|finger|hand|side)\s+(?:edge|edging|border|trim|band))s?)"
    r"\s*(?::|\s[–—-])\s+(?=\S)",
    re.IGNORECASE,
)
WORKS = re.compile(
    r"\b(?:sc|dc|hdc|tr|htr|dtr)\b[^.;]*\b(?:in|into|around|across|evenly|each|to\s+(?:the\s+)?end)\b",
    re.IGNORECASE,
)
EVEN = re.compile(
    r"(?<=[.;)\]])\s+(?=(?:then\s+)?(?:work\s+)?(?:\d+\s+(?:more\s+)?(?:rounds?|rnds?|rows?)\s+(?:even|straight)"
    r"|(?:even|straight)\s+for\s+\d))",
    re.IGNORECASE,
)


def headed(text: str) -> tuple[int, int, int, int] | None:
    """Where the heading begins and ends, where the round begins, where rounds `even` behind it do.

    None for a line that has no heading before a round; the last is its length where none are worked even.
    """
    match = HEADED.match(text)
    if match is None or not WORKS.search(text, match.end()):
        return None
    even = EVEN.search(text, match.end())
    return match.start("title"), match.end("title"), match.end(), even.end() if even else len(text)
