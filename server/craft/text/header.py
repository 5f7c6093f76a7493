"""Reads the header: `Key: value` lines up to the first section."""

from __future__ import annotations

import re
from difflib import get_close_matches
from fractions import Fraction
from math import gcd

from server.craft.text import rules
from server.craft.text.findings import Finding
from server.craft.text.rules import Rule
from server.craft.text.sizes import size_names
from server.craft.text.source import Source
from server.craft.text.special import DEFAULTS, read_special
from server.craft.text.tree import Gauge, Header, HeaderLine, Pieces, Span, SpecialStitch, Terms, Worked

KEYS = (
    "Title", "Terms", "Sizes", "Foundation", "Custom", "Worked", "Pieces", "Yarn", "Hook", "Gauge", "Fits",
    "Special stitch",
)  # fmt: skip
OTHER_KEYS = {
    "special stitches": "Special stitch", "special st": "Special stitch", "size": "Sizes", "hooks": "Hook",
    "tension": "Gauge", "fit": "Fits", "name": "Title", "piece": "Pieces", "custom counts": "Custom",
}  # fmt: skip
KEY_LINE = re.compile(r"^\s*(?P<key>[A-Za-z][A-Za-z ]{1,30}?)\s*:\s*(?P<value>.*?)\s*$")
DECIMAL = r"\d+(?:[.,]\d+)?"
CM_PER_IN = Fraction(254, 100)
MAX_CHAINS = 2000
MAX_CUSTOM_COUNTS = 400
MAX_SPECIALS = 60


def header_key(line: str) -> str | None:
    """The key of a header line, as it is known; None for any other line."""
    match = KEY_LINE.match(line)
    if not match:
        return None
    low = " ".join(match["key"].lower().split())
    known = {key.lower(): key for key in KEYS} | OTHER_KEYS
    return known.get(low)


def near_key(line: str) -> str | None:
    """The known key that a misspelt one is nearest to."""
    match = KEY_LINE.match(line)
    if not match or len(match["key"].split()) > 2:
        return None
    close = get_close_matches(match["key"].strip().lower(), [key.lower() for key in KEYS], n=1, cutoff=0.78)
    return next(key for key in KEYS if key.lower() == close[0]) if close else None


class HeaderReader:
    """Collects header lines; `header()` reads their values. A fault in a
    value is a finding, the rest is read on.
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.lines: list[HeaderLine] = []
        self.findings: list[Finding] = []

    def add(self, line: Span) -> bool:
        """Takes a line if it is a header line, known or misspelt."""
        text = self.source.slice(line)
        match = KEY_LINE.match(text)
        key = header_key(text)
        if match is None:
            return False
        if key == "Special stitch" and not match["value"] and match["key"].lower().endswith("stitches"):
            return False  # a post's heading, with words below it
        if key is None:
            near = near_key(text)
            if near is None:
                return False
            span = Span(line.start + match.start("key"), line.start + match.end("key"))
            self.findings.append(rules.UNKNOWN_KEY.at(self.source, span, near=near, mend=near))
            key = near
        elif key != "Special stitch" and any(known.key == key for known in self.lines):
            self.findings.append(rules.TWICE.at(self.source, line, key=key))
            return True
        span = Span(line.start + match.start("value"), line.start + match.end("value"))
        self.lines.append(HeaderLine(key, match["value"], span))
        return True

    def takes_foundation(self, text: str) -> bool:
        """Whether a line is the header's `Foundation: 24`, not a foundation round's `Foundation: Ch 24`."""
        return header_key(text) == "Foundation" and not re.search(
            r":\s*(?:ch|chain|fsc)\b", text, re.IGNORECASE
        )

    def header(self) -> Header:
        """The header as read."""
        values = {line.key: line for line in self.lines if line.key != "Special stitch"}
        terms = self._terms(values.get("Terms"))
        foundations, multiple, plus = self._foundation(values.get("Foundation"))
        sizes = self._sizes(values.get("Sizes"), foundations, values.get("Foundation"))
        if foundations:
            foundations = (foundations + (foundations[-1],) * len(sizes))[: len(sizes)]
        if "Title" not in values or not values["Title"].value:
            self._fault(rules.NO_TITLE, values["Title"].span if "Title" in values else Span(0, 0))
        self._check_multiple(values.get("Foundation"), foundations, multiple, plus)
        custom = self._custom(values.get("Custom"), multiple, plus) if foundations else None
        self._check_yarn(values.get("Yarn"), len(sizes))
        return Header(
            title=values["Title"].value if "Title" in values else "",
            terms=terms,
            sizes=sizes,
            foundations=foundations,
            multiple=multiple,
            plus=plus,
            custom=custom,
            worked=self._worked(values.get("Worked")),
            pieces=self._pieces(values.get("Pieces")),
            hook_mm=self._hook(values.get("Hook"), len(sizes)),
            gauge=self._gauge(values.get("Gauge")),
            fits_cm=self._fits(values.get("Fits"), len(sizes)),
            yarn=values["Yarn"].value if "Yarn" in values else "",
            special=self._special(terms),
            lines=tuple(self.lines),
        )

    def _fault(self, rule: Rule, span: Span, **values: str) -> None:
        self.findings.append(
            rule.at(self.source, span, mend=None, stated=None, worked=None, foundations=(), **values)
        )

    def _unread(self, line: HeaderLine, key: str, expected: str) -> None:
        span = line.span if line.value else Span(max(0, line.span.start - 1), line.span.start)
        self._fault(rules.UNREAD_VALUE, span, key=key, expected=expected)

    def _terms(self, line: HeaderLine | None) -> Terms:
        if line is None:
            return "US"
        low = line.value.lower().strip(" .")
        if re.match(r"^(uk|british|u\.k)", low):
            return "UK"
        if not re.match(r"^(us|american|u\.s)", low):
            self._unread(line, "terms", "`US` or `UK`")
        return "US"

    def _foundation(self, line: HeaderLine | None) -> tuple[tuple[int, ...], int | None, int]:
        expected = (
            "chains for each size and which counts are allowed, "
            "such as `24 (28, 32), multiple of 4`, or `none`"
        )
        if line is None:
            self._fault(rules.NO_FOUNDATION, Span(0, 0))
            return (), None, 0
        if line.value.lower().strip(" .") in ("none", "ring", "magic ring", "no"):
            return (), None, 0
        match = re.match(
            r"^(?P<counts>[\d\s,()\[\]/]+?)\s*(?:chains?|chs?|sts?)?\s*"
            r"(?:[,;]?\s*(?:any\s+)?(?:a\s+)?multiples? of\s+(?P<multiple>\d+)"
            r"(?:\s*(?:\+|plus)\s*(?P<plus>\d+))?)?\s*\.?$",
            line.value,
            re.IGNORECASE,
        )
        counts = tuple(int(number[:9]) for number in re.findall(r"\d+", match["counts"])) if match else ()
        multiple = int(match["multiple"][:9]) if match and match["multiple"] else None
        if not counts or multiple == 0:
            self._unread(line, "a foundation", expected)
            return (), None, 0
        if max(counts) > MAX_CHAINS or min(counts) < 1:
            self._unread(line, "a foundation", f"between 1 and {MAX_CHAINS} chains")
            return (), None, 0
        return counts, multiple, int(match["plus"][:9]) if match and match["plus"] else 0

    def _sizes(
        self, line: HeaderLine | None, foundations: tuple[int, ...], foundation: HeaderLine | None
    ) -> tuple[str, ...]:
        if line is None:
            if len(foundations) <= 1:
                return ("one size",)
            return tuple(f"size {number}" for number in range(1, len(foundations) + 1))
        names = size_names(line.value)
        if not names or len(set(names)) < len(names):
            self._unread(
                line, "sizes", "a name for each size, smallest first, such as `small (medium, large)`"
            )
            names = (names and tuple(dict.fromkeys(names))) or ("one size",)
        if foundations and len(foundations) != len(names):
            whole = size_names(line.value, by_slash=False)
            names = whole if len(whole) == len(foundations) else names  # `S/M (L/XL)`: two sizes
        if foundations and foundation is not None and len(foundations) != len(names):
            self._differ("Foundation", foundation, len(foundations), len(names))
        return names

    def _differ(self, key: str, line: HeaderLine, has: int, sizes: int) -> None:
        numbers = f"{has} number{'' if has == 1 else 's'}"
        self._fault(
            rules.SIZES_DIFFER,
            line.span,
            key=key,
            has=numbers,
            sizes=f"{sizes} size{'' if sizes == 1 else 's'}",
        )

    def _check_multiple(
        self, line: HeaderLine | None, foundations: tuple[int, ...], multiple: int | None, plus: int
    ) -> None:
        if line is None or multiple is None:
            return
        given = (line, foundations, multiple, plus)
        if self._wrong_plus(*given) or self._none_fits(*given):
            return
        for match in re.finditer(r"\d+", re.split(r"multiple", line.value, flags=re.IGNORECASE)[0]):
            number = int(match[0][:9])
            if (number - plus) % multiple == 0 and number >= multiple:
                continue
            below = (number - plus) // multiple * multiple + plus
            near = [count for count in (below, below + multiple) if count >= multiple] or [multiple + plus]
            words = f"a multiple of {multiple}" + (f" + {plus}" if plus else "")
            span = Span(line.span.start + match.start(), line.span.start + match.end())
            self.findings.append(
                rules.NOT_A_MULTIPLE.at(
                    self.source, span, number=number, multiple=words, nearest=" or ".join(map(str, near)),
                    foundations=(number,), mend=str(min(near, key=lambda count: abs(count - number))),
                )
            )  # fmt: skip

    def _none_fits(self, line: HeaderLine, foundations: tuple[int, ...], multiple: int, plus: int) -> bool:
        """No size is a multiple of it, and all are of another number: that is one fault, in the multiple."""
        words = re.search(r"multiples?\s+of.*?(?=\s*\.?$)", line.value, re.IGNORECASE)
        right = gcd(*(count - plus for count in foundations))
        if len(set(foundations)) < 2 or right < 2 or words is None:
            return False
        if any((count - plus) % multiple == 0 for count in foundations):
            return False
        mend = f"multiple of {right}" + (f" + {plus}" if plus else "")
        span = Span(line.span.start + words.start(), line.span.start + words.end())
        self.findings.append(
            rules.PLUS_DIFFERS.at(
                self.source, span, numbers=", ".join(map(str, foundations)), right=mend, mend=mend,
                foundations=foundations,
            )
        )  # fmt: skip
        return True

    def _wrong_plus(self, line: HeaderLine, foundations: tuple[int, ...], multiple: int, plus: int) -> bool:
        """All sizes are multiples of it, only not with what is added: that is one fault, in the multiple."""
        over = {count % multiple for count in foundations}
        words = re.search(r"multiples?\s+of.*?(?=\s*\.?$)", line.value, re.IGNORECASE)
        if len(set(foundations)) < 2 or len(over) > 1 or plus % multiple in over or words is None:
            return False
        rest = over.pop()
        mend = f"multiple of {multiple}" + (f" + {rest}" if rest else "")
        span = Span(line.span.start + words.start(), line.span.start + words.end())
        self.findings.append(
            rules.PLUS_DIFFERS.at(
                self.source, span, numbers=", ".join(map(str, foundations)), right=mend, mend=mend,
                foundations=foundations,
            )
        )  # fmt: skip
        return True

    def _custom(self, line: HeaderLine | None, multiple: int | None, plus: int) -> tuple[int, int] | None:
        if line is None:
            return None
        if line.value.lower().strip(" .") in ("none", "no"):
            return (1, 0)
        match = re.match(r"^(\d+)\s*(?:to|-|–|—)\s*(\d+)\s*(?:chains?|chs?|sts?)?\s*\.?$", line.value)
        if not match:
            self._unread(line, "custom counts", "a range such as `16 to 60`, or `none`")
            return None
        if multiple is None:
            self._fault(rules.CUSTOM_NEEDS_MULTIPLE, line.span)
            return (1, 0)
        low, high = int(match[1][:9]), int(match[2][:9])
        if high > MAX_CHAINS or (high - low) // multiple > MAX_CUSTOM_COUNTS:
            self._unread(
                line, "custom counts", f"at most {MAX_CUSTOM_COUNTS} counts, none above {MAX_CHAINS} chains"
            )
            return None
        if not any((count - plus) % multiple == 0 and count > plus for count in range(low, high + 1)):
            self._fault(
                rules.CUSTOM_EMPTY, line.span, expected="a range such as `16 to 60`, the smaller number first"
            )
            return None
        return low, high

    def _worked(self, line: HeaderLine | None) -> Worked:
        low = line.value.lower() if line else "joined rounds"
        if "spiral" in low or "continuous" in low:
            return "spiral"
        if re.search(r"\brows?\b", low):
            return "rows"
        if line is not None and not re.search(r"join|round", low):
            self._unread(line, "a way of working", "`joined rounds`, `spiral` or `rows`")
        return "joined rounds"

    def _pieces(self, line: HeaderLine | None) -> Pieces:
        low = line.value.lower().strip(" .") if line else "pair"
        if low in ("one", "1", "single"):
            return "one"
        if low not in ("pair", "a pair", "two", "2") and line is not None:
            self._unread(line, "pieces", "`pair` or `one`")
        return "pair"

    def _hook(self, line: HeaderLine | None, sizes: int) -> tuple[float, ...]:
        if line is None:
            return ()
        head = re.split(r"\bmm\b", line.value)[0]
        found = tuple(float(number.replace(",", ".")) for number in re.findall(r"\d+(?:\.\d+)?", head))
        if not found or not all(0.4 <= hook_mm <= 50 for hook_mm in found):
            self._unread(line, "a hook", "its size in mm, such as `5 mm` or `4.5 (5, 5.5) mm`")
            return ()
        if len(found) not in (1, sizes):
            self._differ("Hook", line, len(found), sizes)
            return ()
        return found

    def _gauge(self, line: HeaderLine | None) -> Gauge | None:
        if line is None:
            return None
        stitches = re.search(rf"({DECIMAL})\s*(?:sts?|stitches|[a-zA-Z-]+)\b", line.value)
        rounds = re.search(rf"({DECIMAL})\s*(?:rnds?|rounds?|rows?)\b", line.value, re.IGNORECASE)
        length = re.search(rf"({DECIMAL})\s*(cm|in\b|inch|inches|\"|”|″)", line.value)
        if (
            not (stitches and length)
            or not Fraction(stitches[1].replace(",", "."))
            or not Fraction(length[1].replace(",", "."))
        ):
            self._unread(
                line, "a gauge", "stitches and rounds over a length, such as `14 sts and 8 rnds = 10 cm`"
            )
            return None
        unit = Fraction(1) if length[2] == "cm" else CM_PER_IN
        return Gauge(
            Fraction(stitches[1].replace(",", ".")),
            Fraction(rounds[1].replace(",", ".")) if rounds else None,
            Fraction(length[1].replace(",", ".")) * unit,
            "cm" if length[2] == "cm" else "in",
            line.span,
        )

    def _fits(self, line: HeaderLine | None, sizes: int) -> tuple[float, ...]:
        if line is None:
            return ()
        match = re.match(r"^([\d\s.,()\[\]/-]+?)\s*(cm|in\b|inch|inches|\"|”|″)", line.value)
        found = tuple(float(number) for number in re.findall(r"\d+(?:\.\d+)?", match[1])) if match else ()
        if not found or match is None or not all(found):
            self._unread(line, "what it fits", "a measure for each size, such as `16 (18, 20) cm hand`")
            return ()
        if len(found) not in (1, sizes):
            self._differ("Fits", line, len(found), sizes)
            return ()
        return tuple(round(value * (1 if match[2] == "cm" else float(CM_PER_IN)), 2) for value in found)

    def _check_yarn(self, line: HeaderLine | None, sizes: int) -> None:
        """The yarn is kept as written; an amount that goes by size has one number for each."""
        for match in re.finditer(r"\d+(?:\.\d+)?\s*\((\s*\d[\d.,\s]*)\)", line.value if line else ""):
            has = 1 + len(re.findall(r"\d+(?:\.\d+)?", match[1]))
            if line is not None and has != sizes:
                self._differ("Yarn", line, has, sizes)
                return

    def _special(self, terms: Terms) -> tuple[SpecialStitch, ...]:
        specials: dict[str, SpecialStitch] = {one.name: one for one in DEFAULTS}
        own: list[SpecialStitch] = []
        for line in self.lines:
            if line.key != "Special stitch":
                continue
            if len(own) == MAX_SPECIALS:
                self.findings.append(
                    rules.TOO_MANY_SPECIALS.at(self.source, line.span, most=f"{MAX_SPECIALS}")
                )
                break
            special = read_special(self.source, line, terms, specials, self.findings)
            if special is not None:
                specials[special.name] = special
                own = [one for one in own if one.name != special.name] + [special]
        return tuple(own)
