"""What the engine understood of a text, laid out for the page: findings at their words, the table of counts,
the sum.

Pure: a checked text in, frozen values for the templates out. Columns and lines are counted from 1, in
characters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.fabric import Proof
from server.craft.text.findings import CountKey, Finding
from server.services.patterns import Checked, missing
from server.web.host_counts import Column, Section, columns_of, custom_words, sections_of
from server.web.host_header import Offered, offered

# A page shows so many findings at once: whoever has more begins with the first ones.
FINDINGS_MOST = 60
NOTE = "Note: "


@dataclass(frozen=True)
class FindingView:
    """A finding in words.

    number   its place in the list, from 1; key: names it over a reload ("12:5:closing-over:…")
    length   characters at fault; may be 0 where something is missing
    holds    "at 24, 28 and 32", "at every count"
    can_be_note  whether its line may be words for the maker instead: it does not read
    """

    number: int
    key: str
    is_error: bool
    line: int
    column: int
    length: int
    words: str
    message: str
    stated: str
    worked: str
    holds: str
    mend: str | None
    can_be_note: bool


@dataclass(frozen=True)
class Piece:
    """A stretch of a line; finding: the number of the finding whose words these are, 0 for none."""

    text: str
    finding: int
    is_error: bool


@dataclass(frozen=True)
class Line:
    """A line of the text with its marked words; findings: all that stand on it."""

    number: int
    pieces: tuple[Piece, ...]
    findings: tuple[FindingView, ...]


@dataclass(frozen=True)
class Understanding:
    """All that stands beside the text.

    state      "empty", "proved", "unproved"
    summary    one sentence: what was proved, or how much is to be mended; it is also read out
    reach      how far the proof goes: every multiple, or the counts that were worked; empty while unproved
    findings   the first FINDINGS_MOST of them; more: how many there are beyond
    missing    what stands between the text and its publication
    custom     how custom counts go, "multiple of 4"; empty where there are none
    offered    header lines that the text lacks and something in it speaks for
    totals     stitches in one piece, in the order of the columns
    """

    state: str
    summary: str
    reach: str
    title: str
    missing: tuple[str, ...]
    findings: tuple[FindingView, ...]
    more: int
    lines: tuple[Line, ...]
    columns: tuple[Column, ...]
    sections: tuple[Section, ...]
    totals: tuple[str, ...]
    custom: str
    offered: tuple[Offered, ...]


def understand(checked: Checked) -> Understanding:
    """Lay out a checked text."""
    proof = checked.proof
    empty = not checked.text.strip()
    findings = () if empty else _views(proof)
    first = findings[:FINDINGS_MOST]
    columns = columns_of(proof)
    lacking = missing(checked)
    return Understanding(
        state="empty" if empty else "proved" if not lacking else "unproved",
        summary=_summary(proof, findings, empty),
        reach="" if empty or lacking else _reach(proof),
        title=proof.title,
        missing=lacking,
        findings=first,
        more=len(findings) - len(first),
        lines=tuple(_lines(checked.text, first)) if first else (),
        columns=columns,
        sections=sections_of(proof, columns),
        totals=tuple(f"{proof.stitches[c.key]:,}" if c.key in proof.stitches else "" for c in columns),
        custom=custom_words(proof),
        offered=offered(checked.text),
    )


def mended(checked: Checked, key: str) -> str | None:
    """The text with the mend of one finding in the place of its words; None where that finding is not there
    any more."""
    for view in _views(checked.proof):
        if view.key == key and view.mend is not None:
            lines = checked.text.split("\n")
            at = sum(len(line) + 1 for line in lines[: view.line - 1]) + view.column - 1
            return checked.text[:at] + view.mend + checked.text[at + view.length :]
    return None


def noted(checked: Checked, key: str) -> str | None:
    """The text with the line of one finding made a note; None where that finding is not there any more."""
    for view in _views(checked.proof):
        if view.key == key and view.can_be_note:
            lines = checked.text.split("\n")
            line = lines[view.line - 1]
            words = line.lstrip()
            lines[view.line - 1] = f"{line[: len(line) - len(words)]}{NOTE}{words}"
            return "\n".join(lines)
    return None


def _views(proof: Proof) -> tuple[FindingView, ...]:
    return views(proof.findings, proof.counts_tried)


def views(findings: Sequence[Finding], tried: Sequence[CountKey]) -> tuple[FindingView, ...]:
    """Findings in the order of the text; `tried`: all counts there are."""
    ordered = sorted(findings, key=lambda f: (f.line, f.column))
    return tuple(_finding(number, finding, tried) for number, finding in enumerate(ordered, 1))


def _finding(number: int, finding: Finding, tried: Sequence[CountKey]) -> FindingView:
    return FindingView(
        number=number,
        key=f"{finding.line}:{finding.column}:{finding.code}:{len(finding.words)}",
        is_error=finding.is_error,
        line=finding.line,
        column=finding.column,
        length=len(finding.words),
        words=_short(finding.words),
        message=finding.message,
        stated=finding.stated or "",
        worked=finding.worked or "",
        holds=_holds(finding, tried),
        mend=finding.mend,
        can_be_note=finding.kind == "syntax",
    )


def _short(words: str, most: int = 120) -> str:
    one_line = " ".join(words.split())
    return one_line if len(one_line) <= most else one_line[: most - 1].rstrip() + "…"


def _holds(finding: Finding, tried: Sequence[CountKey]) -> str:
    counts = [str(count) for count in finding.foundations]
    if not counts:
        return ""
    if len(counts) > 1 and set(finding.foundations) >= set(tried):
        return "at every count"
    if len(counts) > 6:
        return f"at {', '.join(counts[:5])} and {len(counts) - 5} more counts"
    return "at " + in_words(counts)


def in_words(things: Sequence[str]) -> str:
    """ "24", "24 and 28", "24, 28 and 32"."""
    return " and ".join([", ".join(things[:-1]), things[-1]] if len(things) > 1 else list(things))


def _summary(proof: Proof, findings: Sequence[FindingView], empty: bool) -> str:
    if empty:
        return "Nothing to read yet."
    errors = sum(1 for f in findings if f.is_error)
    loose = len(findings) - errors
    parts = []
    if errors:
        parts.append("1 thing to mend" if errors == 1 else f"{errors} things to mend")
    if loose:
        parts.append("1 to look at" if loose == 1 else f"{loose} to look at")
    if not proof.proved:
        return (", ".join(parts) or "Not proved") + "."
    return "Proved " + _tried(proof) + (f"; {parts[0]}." if parts else ".")


def _tried(proof: Proof) -> str:
    tried = len(proof.counts_tried)
    if proof.every_multiple is not None:
        return f"at every {custom_words(proof)} from {proof.every_multiple.least} on, every size among them"
    if proof.multiple is None or not tried:
        return "at every size"
    numbers = [count for count in proof.counts_tried if isinstance(count, int)]
    low, high = numbers[0], numbers[-1]
    return "at 1 count" if tried == 1 else f"at {tried} counts from {low} to {high}, every size among them"


def _reach(proof: Proof) -> str:
    """What stands behind the sum: an induction over the repeat, or the counts that were worked."""
    every, words = proof.every_multiple, custom_words(proof)
    if proof.multiple is None or not proof.counts_tried:
        return "No other count is allowed, so this is all there is to prove."
    if every is not None:
        return (
            f"Worked at {len(proof.counts_tried)} counts up to {every.upto}. From there each further "
            f"{every.step} chains only work the repeats of every round once more, so it comes out at every "
            f"{words}, however large."
        )
    return (
        f"These counts were worked one by one, and no other {words}: the rounds do not all grow by one same "
        "repeat, so what holds here is not proved beyond. With `Custom:` in the header you say which to work."
    )


def _lines(text: str, findings: Sequence[FindingView]) -> list[Line]:
    lines = text.split("\n")
    on: dict[int, list[FindingView]] = {}
    for finding in findings:
        on.setdefault(min(max(finding.line, 1), len(lines)), []).append(finding)
    marks = _marks(lines, findings)
    return [
        Line(number, _pieces(line, marks.get(number, ())), tuple(on.get(number, ())))
        for number, line in enumerate(lines, 1)
    ]


def _marks(
    lines: Sequence[str], findings: Sequence[FindingView]
) -> dict[int, list[tuple[int, int, FindingView]]]:
    """Where marks lie: by line, from and to (columns from 0, half-open). Words over several lines are marked
    on each."""
    marks: dict[int, list[tuple[int, int, FindingView]]] = {}
    for finding in findings:
        number, start, left = finding.line, finding.column - 1, finding.length
        while left > 0 and number <= len(lines):
            end = min(start + left, len(lines[number - 1]))
            if end > start:
                marks.setdefault(number, []).append((start, end, finding))
            left -= end - start + 1
            number, start = number + 1, 0
    return marks


def _pieces(line: str, marks: Sequence[tuple[int, int, FindingView]]) -> tuple[Piece, ...]:
    """The line cut at its marks. Where two overlap, the later one begins where the earlier ends."""
    pieces, at = [], 0
    for start, end, finding in sorted(marks, key=lambda mark: mark[:2]):
        start = max(start, at)
        if end <= start:
            continue
        if start > at:
            pieces.append(Piece(line[at:start], 0, False))
        pieces.append(Piece(line[start:end], finding.number, finding.is_error))
        at = end
    if at < len(line):
        pieces.append(Piece(line[at:], 0, False))
    return tuple(pieces)
