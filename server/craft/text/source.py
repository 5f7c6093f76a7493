"""The source text: ranges of it, lines, columns, slices."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """Half-open range of offsets in the source text."""

    start: int
    end: int

    def to(self, other: Span) -> Span:
        """The span from the beginning of this one to the end of the other."""
        return Span(self.start, max(self.end, other.end))


NOWHERE = Span(0, 0)


class Source:
    """A text and where its lines begin."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._starts = [0]
        for at, char in enumerate(text):
            if char == "\n":
                self._starts.append(at + 1)

    def line_column(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both from 1."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1

    def offset(self, line: int, column: int) -> int:
        """Offset of a line and column, both from 1."""
        return self._starts[line - 1] + column - 1

    def line(self, offset: int) -> int:
        """Line of an offset, from 1."""
        return bisect_right(self._starts, offset)

    def slice(self, span: Span) -> str:
        """The words at a span, without white space around them."""
        return self.text[span.start : span.end]

    def lines(self) -> list[Span]:
        """Every line without its line end."""
        ends = [start - 1 for start in self._starts[1:]] + [len(self.text)]
        return [Span(start, max(start, end)) for start, end in zip(self._starts, ends, strict=True)]

    def trimmed(self, span: Span) -> Span:
        """The span without white space at both ends."""
        words = self.text[span.start : span.end]
        lead = len(words) - len(words.lstrip())
        return Span(span.start + lead, span.start + lead + len(words.strip()))
