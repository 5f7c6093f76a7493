"""Reads special stitches: `Perch = (2 dc, ch 1, 2 dc) in one place`."""

from __future__ import annotations

import re
from collections.abc import Mapping

from server.craft.text import rules
from server.craft.text.cursor import Context, Cursor
from server.craft.text.findings import Finding
from server.craft.text.lexer import CLOSED_SPELLINGS, Lexicon, tokens
from server.craft.text.source import Source
from server.craft.text.terms import alien
from server.craft.text.tree import HeaderLine, Span, SpecialStitch, Terms
from server.craft.text.vocabulary import CLOSED

DEFAULTS: tuple[SpecialStitch, ...] = (
    SpecialStitch("V-st", ("dc", 1, "dc")),
    SpecialStitch("shell", ("dc",) * 5),
    SpecialStitch("picot", (3,)),
    *(SpecialStitch(name, (), one_stitch=True) for name in CLOSED),
)
"""Special stitches that need no line of their own, as notation and common practice have them."""

MAX_ITEMS = 60


def read_special(
    source: Source,
    line: HeaderLine,
    terms: Terms,
    known: Mapping[str, SpecialStitch],
    findings: list[Finding],
) -> SpecialStitch | None:
    """The special stitch of a header line; a finding and None where it does not read."""
    head, equals, _ = line.value.partition("=")
    if not equals:
        head, equals, _ = line.value.partition(":")
    name = _known_name(re.sub(r"\(.*\)", "", head).strip(" .,"), known)
    if not equals or not name or len(name) > 40 or not re.search(r"[A-Za-z]", name):
        findings.append(rules.SPECIAL_UNREAD.at(source, line.span))
        return None
    lexicon = Lexicon(terms, tuple(known.values()))
    context = Context(source, terms, 1, lexicon, dict(known))
    value = Span(line.span.start + len(head) + 1, line.span.end)
    cursor = Cursor(tokens(source.text, value, lexicon), context)
    items = _items(cursor, known)
    words = source.slice(value).lower()
    if any(words.count(opens) != words.count(closes) for opens, closes in ("()", "[]")):
        findings.append(rules.SPECIAL_UNREAD.at(source, line.span))
        return SpecialStitch(name, items or ("dc",), span=line.span)
    findings.extend(context.findings)
    if name == "picot":
        return SpecialStitch(
            "picot", items[:1] if items and isinstance(items[0], int) else (3,), span=line.span
        )
    if name in CLOSED or re.search(
        r"\btog(ether)?\b|closed|2tog|3tog|pull(ed)? through|yarn over|yo\b", words
    ):
        return SpecialStitch(name, items or (), one_stitch=True, span=line.span)
    if not items or len(items) > MAX_ITEMS:
        findings.append(rules.SPECIAL_UNREAD.at(source, line.span))
        return None
    return SpecialStitch(name, items, span=line.span)


def _known_name(name: str, known: Mapping[str, SpecialStitch]) -> str:
    """The name as the pattern knows it: `Shell` is the `shell` of the standing ones, `pc` a popcorn."""
    low = name.lower()
    if low in CLOSED_SPELLINGS:
        return CLOSED_SPELLINGS[low]
    if low in ("v-stitch", "v st", "vst", "v-st"):
        return "V-st"
    return next((one for one in known if one.lower() == low), name)


def _items(cursor: Cursor, known: Mapping[str, SpecialStitch]) -> tuple[str | int, ...]:
    """Stitches and chains in order, groups within the group spelled out."""
    items: list[str | int] = []
    while not cursor.done and len(items) <= MAX_ITEMS:
        if cursor.punct("(", "[", ")", "]", ",", "+", "&", ".", ";") or cursor.word("and", "work", "then"):
            continue
        if cursor.word("ch"):
            if cursor.peek().kind != "num":
                break
            items.append(min(cursor.take().number, 1000))
            continue
        many = 1
        if cursor.peek().kind == "num":
            many = min(cursor.take().number, MAX_ITEMS + 1)
        token = cursor.peek()
        if token.kind not in ("stitch", "group"):
            break
        cursor.take()
        alien(cursor, token)
        inside = (
            known[token.value].items if token.kind == "group" and token.value in known else (token.value,)
        )
        items.extend(inside * many)
    return tuple(items)
