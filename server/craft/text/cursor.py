"""A cursor over the tokens of one line, and what the reader must know of the pattern while it reads."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from server.craft.text.findings import Finding
from server.craft.text.lexer import Lexicon, Token
from server.craft.text.source import Source
from server.craft.text.tree import Span, SpecialStitch, Terms

END = Token("punct", "", Span(0, 0))
FILLERS = ("the", "a", "an", "your", "of", "made", "work", "now")


class Unread(Exception):
    """The words at `span` do not read; `expected` says in a maker's words
    what would. Never leaves the reader.
    """

    def __init__(self, span: Span, expected: str) -> None:
        super().__init__(expected)
        self.span = span
        self.expected = expected


@dataclass(frozen=True, slots=True)
class Spread:
    """Which rounds a label names that are not one after another.

    numbers   `Rnds 3, 5 and 7`: all of them; empty for `Even rnds`, which have no end of their own
    parity    1 for odd rounds, 0 for even ones, from `first` on
    """

    numbers: tuple[int, ...] = ()
    parity: int = 0
    first: int = 1


@dataclass(slots=True)
class Context:
    """What is known of the pattern: its source, terms, number of sizes, special stitches."""

    source: Source
    terms: Terms
    sizes: int
    lexicon: Lexicon
    groups: dict[str, SpecialStitch]
    rows: bool = False
    has_n: bool = True
    findings: list[Finding] = field(default_factory=list)
    aliens: set[str] = field(default_factory=set)
    spread: dict[Span, Spread] = field(default_factory=dict)
    for_sizes: dict[Span, tuple[int, ...]] = field(default_factory=dict)
    size_names: tuple[str, ...] = ()
    foundations: tuple[int, ...] = ()
    by_steps: bool = False
    counting: dict[Span, bool] = field(default_factory=dict)  # chains that a round takes to count, or not

    def size_words(self) -> str:
        """ "1 size", "3 sizes"."""
        return f"{self.sizes} size{'' if self.sizes == 1 else 's'}"


class Cursor:
    """Reads tokens one after another; every method that takes answers what it took."""

    def __init__(self, tokens: list[Token], context: Context) -> None:
        self.tokens = tokens
        self.at = 0
        self.context = context

    def peek(self, ahead: int = 0) -> Token:
        """The token so far ahead; END beyond the last."""
        index = self.at + ahead
        return self.tokens[index] if 0 <= index < len(self.tokens) else END

    @property
    def done(self) -> bool:
        """Whether all is read."""
        return self.at >= len(self.tokens)

    def take(self) -> Token:
        """The next token."""
        token = self.peek()
        self.at += 1
        return token

    def is_word(self, *values: str, ahead: int = 0) -> bool:
        """Whether the token ahead is one of these words."""
        # asked of every token many times over: it does not call `peek`
        index = self.at + ahead
        if not 0 <= index < len(self.tokens):
            return False
        token = self.tokens[index]
        return token.kind == "word" and token.value in values

    def is_punct(self, *values: str, ahead: int = 0) -> bool:
        """Whether the token ahead is one of these signs."""
        index = self.at + ahead
        if not 0 <= index < len(self.tokens):
            return END.value in values
        token = self.tokens[index]
        return token.kind == "punct" and token.value in values

    def word(self, *values: str) -> bool:
        """Takes one of these words, if it stands here."""
        if self.at < len(self.tokens):
            token = self.tokens[self.at]
            if token.kind == "word" and token.value in values:
                self.at += 1
                return True
        return False

    def words(self, *values: str) -> bool:
        """Takes all these words in order, if they stand here."""
        if all(self.is_word(value, ahead=ahead) for ahead, value in enumerate(values)):
            self.at += len(values)
            return True
        return False

    def punct(self, *values: str) -> bool:
        """Takes one of these signs, if it stands here."""
        if self.is_punct(*values):
            self.at += 1
            return True
        return False

    def skip_words(self, values: Collection[str]) -> None:
        """Passes any of these words."""
        tokens = self.tokens
        while self.at < len(tokens) and tokens[self.at].kind == "word" and tokens[self.at].value in values:
            self.at += 1

    def take_before(self, offset: int) -> None:
        """Passes the tokens that begin before an offset of the source."""
        while not self.done and self.peek().span.start < offset:
            self.at += 1

    def here(self) -> Span:
        """The span of the next token; at the end, of the last one."""
        if self.done:
            return self.tokens[-1].span if self.tokens else Span(0, 0)
        return self.peek().span

    def since(self, start: int) -> Span:
        """The span from the token at index `start` to the last one taken."""
        if self.at <= start:
            return self.tokens[start].span if start < len(self.tokens) else self.here()
        return self.tokens[start].span.to(self.tokens[min(self.at, len(self.tokens)) - 1].span)

    def unread(self, expected: str, span: Span | None = None) -> Unread:
        """The complaint that something else was expected here."""
        return Unread(span or self.here(), expected)

    def clause_end(self, start: int) -> int:
        """Index of the token that ends the clause: a separator outside brackets, or the end."""
        depth = 0
        at = start
        while at < len(self.tokens):
            token = self.tokens[at]
            if token.kind == "punct":
                if token.value in "([{":
                    depth += 1
                elif token.value in ")]}":
                    if depth == 0:
                        return at
                    depth -= 1
                elif depth == 0 and token.value in (",", ";", ".", "*", "**"):
                    return at
            at += 1
        return at
