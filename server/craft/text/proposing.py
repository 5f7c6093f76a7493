"""Header lines that a pasted text lacks, proposed from what stands in it.

A post says its hook, gauge and sizes somewhere in its prose. Nothing is taken as said: a host looks at each
line and puts it in, or not.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from server.craft.text.blocks import CHAIN_LEAD, begins_chain, split
from server.craft.text.header import header_key
from server.craft.text.labels import starts_with_label
from server.craft.text.marks import without_marks
from server.craft.text.raw_tokens import is_picture
from server.craft.text.reader import MAX_CHARACTERS
from server.craft.text.source import Source
from server.craft.text.vocabulary import ONLY_UK, ONLY_US

NUMBER = r"\d+(?:\.\d+)?"
LIST = rf"{NUMBER}(?:\s*[(\[]\s*{NUMBER}(?:\s*,\s*{NUMBER})*\s*[)\]]|(?:/{NUMBER})+)?"
STARTS = (
    "ch|chain|fsc|fhdc|fdc|foundation single crochet|foundation double crochet|foundation half double crochet"
)
UNITS = r"(?:cm|inches|inch|in\b(?!\s+(?:each|every|the|next|same|first|last|a\b|any))|\"|”)"
SIZE_WORDS = (
    r"(?:xxs|xs|s|m|l|xl|xxl|newborn|baby|toddler|child|children|kids|teen|adult|small|medium"
    r"|large|women|men)"
)


SLASHES = re.compile(r"^(\d+(?:\.\d+)?)((?:/\d+(?:\.\d+)?)+)(?=[\s,]|$)")


def _in_brackets(match: re.Match[str]) -> str:
    """`40/44/48` as `40 (44, 48)`."""
    return f"{match[1]} ({', '.join(match[2].strip('/').split('/'))})"


@dataclass(frozen=True, slots=True)
class Proposed:
    """A header line to put in: its key and value, and the words of the text that it was read from."""

    key: str
    value: str
    why: str

    @property
    def line(self) -> str:
        """The line as it stands in a header."""
        return f"{self.key}: {self.value}"


LONGEST_LINE = 600
"""Characters of a line that are looked at: who says a yarn or a gauge says it in fewer."""


def propose(text: str) -> tuple[Proposed, ...]:
    """The header lines that the text lacks and that something in it speaks for."""
    text = without_marks(text[:MAX_CHARACTERS])
    header, _, _ = split(Source(text))
    has = {line.key for line in header.header().lines}
    lines = [" ".join(line[:LONGEST_LINE].split()) for line in text.splitlines()]
    found: list[Proposed] = []
    for key, rule in RULES:
        if key in has:
            continue
        hit = rule(lines)
        if hit is not None and hit[0]:
            found.append(Proposed(key, SLASHES.sub(_in_brackets, hit[0]), hit[1]))
    return tuple(found)


def with_proposed(text: str, proposed: Iterable[Proposed]) -> str:
    """The text with those lines at its head, the title first."""
    lines = sorted((one for one in proposed), key=lambda one: ORDER.index(one.key))
    head = "\n".join(one.line for one in lines)
    if not head:
        return text
    first = next((one for one in lines if one.key == "Title"), None)
    rest = text.lstrip("\n")
    if first is not None and " ".join(without_marks(rest.split("\n", 1)[0]).split()) == first.why:
        # the title line itself becomes the header's
        rest = rest.split("\n", 1)[1] if "\n" in rest else ""
    return f"{head}\n{rest}"


Hit = tuple[str, str] | None


def _title(lines: list[str]) -> Hit:
    for line in lines:
        if not line:
            continue
        words = "".join(sign for sign in line if not is_picture(sign)).strip("#*_~=- ")
        short = 1 <= len(words.split()) <= 9 and not starts_with_label(line) and ":" not in line
        return (" ".join(words.rstrip(".").split()), line) if short else None
    return None


def _terms(lines: list[str]) -> Hit:
    for line in lines:
        if match := re.search(
            r"\b(US|U\.S\.|American|U[Kk]|uk|U\.K\.|[Bb]ritish)\b[^.]{0,20}\b(?:[Tt]erms?|terminology)\b",
            line,
        ):
            return (
                "UK" if match[1][:2].upper() in ("UK", "U.", "BR") and "S" not in match[1] else "US"
            ), match[0]
    words = set(re.findall(r"[a-z]+", " ".join(lines).lower()))
    for terms, names in (("US", ONLY_US), ("UK", ONLY_UK)):
        if seen := sorted(words & {name for name in names if " " not in name}):
            return terms, ", ".join(seen)
    said = " ".join(lines).lower()
    if re.search(r"\bd\.?c\b", said) and re.search(r"\btr\b|\btrebles?\b", said):
        british = re.search(r"\b(?:tension|miss|yoh|s\.s)\b", said)
        if british and not re.search(r"\bs\.?c\b|\bskip\b", said):
            return "UK", british[0]
    return None


def _sizes(lines: list[str]) -> Hit:
    for line in lines:
        match = re.search(
            rf"\b({SIZE_WORDS})\s*[(\[]\s*({SIZE_WORDS}(?:\s*,\s*{SIZE_WORDS})*)\s*[)\]]", line, re.IGNORECASE
        )
        if match:
            return f"{match[1]} ({match[2]})", match[0]
        slashed = re.search(
            rf"\bsizes?\b[\s:–-]*({SIZE_WORDS}(?:\s*/\s*{SIZE_WORDS})+)\b", line, re.IGNORECASE
        )
        if slashed:
            first, *rest = re.split(r"\s*/\s*", slashed[1])
            return f"{first} ({', '.join(rest)})", slashed[0]
    return None


def _foundation(lines: list[str]) -> Hit:
    multiple = ""
    for line in lines:
        if match := re.search(r"\bmultiples? of (\d+)(?:\s*(?:\+|plus)\s*(\d+))?", line, re.IGNORECASE):
            multiple = f", multiple of {match[1]}" + (f" + {match[2]}" if match[2] else "")
            break
    if multiple and _counts_of_one_size(lines):
        multiple = ""
    for line in lines:
        if re.search(
            r"\b(?:magic|adjustable|sliding)\s+(?:ring|circle|loop)\b|\bin\s+(?:a\s+)?m\.?r\b",
            line,
            re.IGNORECASE,
        ):
            return "none", line[:60]
        if lead := CHAIN_LEAD.match(line):
            said = re.match(
                rf"(?:(?:ch|chain)\s+({LIST})|({LIST})\s*ch\b)", line[lead.end() :], re.IGNORECASE
            )
            if said and int(re.findall(r"\d+", said[0])[0]) > 8:
                return (said[1] or said[2]) + multiple, line[:60]
        match = re.search(
            rf"(?:^|:|-|\.|^(?:with|using|in)\s[^,;]{{1,40}},)\s*(?:\d+\s*[.)]\s*)?(?:{STARTS})\s+({LIST})"
            r"(?=[\s,.;:]|$)(?P<rest>.*)",
            line,
            re.IGNORECASE,
        )
        if match:
            ring = re.search(r"\bin(?:to)?\s+(?:the\s+)?ring\b", " ".join(lines), re.IGNORECASE)
            count = int(re.findall(r"\d+", match[1])[0])
            if ring and count <= 8:
                return "none", match[0][:60].strip(" :.-")
            if count > 8 or (multiple and count > 4):
                return match[1] + multiple, match[0][:60].strip(" :.-")
    return None


STATED = re.compile(
    r"(?:[=–—.\[(]\s*)(\d+)\s*(?:sts?|stitches|(?:[fb]p)?(?:sc|dc|hdc|htr|tr))\b[^()\[\]]{0,40}[)\].\s]*$",
    re.IGNORECASE,
)


def _counts_of_one_size(lines: list[str]) -> bool:
    """Whether rounds state plain numbers that differ: they hold at one count, and no other is meant."""
    found = {match[1] for line in lines if starts_with_label(line) and (match := STATED.search(line))}
    return len(found) > 1


def _worked(lines: list[str]) -> Hit:
    for line in lines:
        match = re.search(
            r"\b(?:continuous (?:rounds|spiral)|in a spiral"
            r"|(?:do not|don['’]t) join"
            r"(?=\s*(?:[.,;:!()\]]|$|\b(?:or|at|the|rounds?|rnds?|and|unless|after|work)\b)))",
            line,
            re.IGNORECASE,
        )
        if match:
            return "spiral", match[0]
    labels = [line for line in lines if starts_with_label(line)]
    rows = [line for line in labels if re.match(r"^\W*(?:foundation )?rows?\b", line, re.IGNORECASE)]
    chains = [line for line in lines if begins_chain(line)]
    joins = any(re.search(r"\bjoin", line, re.IGNORECASE) for line in (*labels, *chains))
    return ("rows", rows[0][:40]) if rows and len(rows) == len(labels) and not joins else None


ONE_PIECE = re.compile(
    r"\b(hat|beanie|cap|beret|slouch|bonnet|cowl|scarf|shawl|headband|snood|neck ?warmer|co[sz]y|coaster|mug"
    r"|blanket|bag|ear ?warmer)\b",
    re.IGNORECASE,
)
"""Words for what is made once, and not as a pair."""


MADE_AS_PAIR = re.compile(
    r"\b(?:mitts?|mittens?|gloves?|wristers?|wristlets?|(?:wrist|hand|leg|arm)[- ]?warmers?|gauntlets?|cuffs"
    r"|socks|slippers|sleeves)\b",
    re.IGNORECASE,
)
"""Words for what is made twice; `cozy` beside one of them says how it feels."""
TWO = re.compile(
    r"^\W*(?:make|work|crochet)\s+(?:two|2|both|another|a\s+second|a\s+2nd|the\s+second|the\s+other)\b"
    r"|\bmake\s+(?:two|2)\b(?!\s*(?:sc|hdc|dc|htr|tr|st|ch|more\s+r))|\bsecond\s+(?:mitt|cuff|glove|sock|one)\b",
    re.IGNORECASE,
)


def _pieces(lines: list[str]) -> Hit:
    first = next((line for line in lines if line), "")
    if MADE_AS_PAIR.search(first) or any(TWO.search(line) for line in lines):
        return None
    for line in lines[:12]:
        if match := ONE_PIECE.search(line):
            return "one", match[0]
    return None


WEIGHTS = r"worsted|aran|dk|fingering|sport|bulky|chunky|light|medium"
NAMES_WEIGHT = re.compile(rf"\b(?:{WEIGHTS})\b", re.IGNORECASE)


def _yarn(lines: list[str]) -> Hit:
    found = [hit for line in lines if (hit := _yarn_of(line)) is not None]
    # a line of the materials' list before a sentence that only speaks of yarn
    return min(found, key=lambda hit: (not YARN_LINE.match(hit[1]), _is_sentence(hit[0]))) if found else None


YARN_LINE = re.compile(r"^\W*(?:the\s+)?(?:yarns?|wool|materials?)\b\s*[-–—:]", re.IGNORECASE)
"""A line of the materials' list that begins with what it is about."""


def _is_sentence(words: str) -> bool:
    return len(words.split()) > 9 and re.search(SPEAKS, words, re.IGNORECASE) is not None


SPEAKS = r"\b(?:i|i['’]ve|they|it|you|we|she|he|these|this|was|were|is|are|love|made|take|takes|works?)\b"


def _yarn_of(line: str) -> Hit:
    """What a line says of the yarn; None where it says nothing."""
    line = re.sub(r"\bD\.\s?K\.", "DK", line)
    if not NAMES_WEIGHT.search(line):
        return None
    match = re.search(
        rf"(?:\byarn\b\s*[-–:]\s*|\bof\s+)?((?:[^.;:]|\.(?=\d))*\b(?:{WEIGHTS})\b(?:[^.;]|\.(?=\d))*)",
        line, re.IGNORECASE,
    )  # fmt: skip
    if not match or not re.search(
        r"\b(?:yarn|yards?|yds?|m\b|g\b|weight|skeins?|balls?)", line, re.IGNORECASE
    ):
        return None
    words = re.split(rf"[,;]?\s*{NUMBER}\s*-?\s*mm\b", match[1])[0]
    words = re.sub(r",\s*\d+$|\s*\([^()]*$", "", words)
    words = re.sub(r"[,;]?\s*(?:\b(?:and|with|an?|size|hook)\s*)*(?:\b[A-Z]?[-–]?\d*\s*/\s*)?$", "", words)
    return words.strip(" ,-–*•·>(\t"), line[:60]


def _hook(lines: list[str]) -> Hit:
    for line in lines:
        if match := re.search(rf"({LIST})\s*-?\s*mm\b", line):
            return f"{match[1]} mm", match[0]
    return None


def _gauge(lines: list[str]) -> Hit:
    for line in lines:
        match = re.search(
            rf"({NUMBER})\s*(?:sts?|stitches|[hs]?dc|sc|tr)\b[^.;]*?(?:({NUMBER})\s*(?:rnds?|rounds?|rows?)\b)?[^.;]*?"
            rf"(?:=|\bto\b|\bin\b|\bover\b|\bper\b)[^\d.;]*({NUMBER})\s*({UNITS})",
            line, re.IGNORECASE,
        )  # fmt: skip
        if match:
            rounds = f" and {match[2]} rnds" if match[2] else ""
            unit = "cm" if match[4].lower() == "cm" else "in"
            return f"{match[1]} sts{rounds} = {match[3]} {unit}", match[0]
    return None


def _fits(lines: list[str]) -> Hit:
    for line in lines:
        match = re.search(
            rf"({LIST})\s*-?({UNITS})\s*(?:around|in circumference|circumference)(?!\w)", line, re.IGNORECASE
        ) or re.search(
            rf"\b(?:fits?|to fit|circumference|around)\b[^\d.;]*({LIST})\s*({UNITS})", line, re.IGNORECASE
        )
        if match:
            return f"{match[1]} {'cm' if match[2].lower() == 'cm' else 'in'}", match[0]
    return None


ORDER = ("Title", "Terms", "Sizes", "Foundation", "Worked", "Pieces", "Yarn", "Hook", "Gauge", "Fits")
RULES: tuple[tuple[str, Callable[[list[str]], Hit]], ...] = (
    ("Title", _title), ("Terms", _terms), ("Sizes", _sizes), ("Foundation", _foundation), ("Worked", _worked),
    ("Pieces", _pieces), ("Yarn", _yarn), ("Hook", _hook), ("Gauge", _gauge), ("Fits", _fits),
)  # fmt: skip
"""How each header line is found in prose, in the order of a header."""

assert tuple(key for key, _ in RULES) == ORDER
assert all(header_key(f"{key}: x") == key for key in ORDER)
