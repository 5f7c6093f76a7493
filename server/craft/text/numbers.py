"""Reads numbers: plain ones, one per size, and lines in N."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from math import gcd

from server.craft.text import rules
from server.craft.text.cursor import Cursor
from server.craft.text.tree import Formula, Number, Plain, SizeList, Span


def number(cursor: Cursor) -> Number | None:
    """A number, if one stands here: `24`, `24 (28, 32)`, `N`, `2N/3 + 1`."""
    start, first = cursor.at, cursor.peek()
    if first.kind not in ("num", "N") and first.value not in ("(", "-", "--"):
        return None
    if found := _formula(cursor):
        if not cursor.context.has_n:
            cursor.context.findings.append(rules.NO_N.at(cursor.context.source, found.span))
        return found
    if _dash_first(cursor):
        cursor.take()
        rest = _list_rest(cursor)
        if rest is not None and len(rest) == cursor.context.sizes - 1:
            return sized(cursor, (None, *rest), cursor.since(start))
        cursor.at = start
        return None
    if first.kind != "num":
        return None
    cursor.take()
    rest = _by_slashes(cursor) or _list_rest(cursor)
    if rest is None:
        return Plain(first.number, first.span)
    values, span = (first.number, *rest), cursor.since(start)
    return sized(cursor, values, span)


def _dash_first(cursor: Cursor) -> bool:
    """`- (2, 4)`: nothing for the smallest size."""
    if cursor.context.sizes < 2 or not (cursor.is_punct("-", "--") and cursor.is_punct("(", ahead=1)):
        return False
    return cursor.peek(2).kind == "num" or cursor.is_punct("-", "--", ahead=2)


def sized(cursor: Cursor, written: tuple[int | None, ...], span: Span) -> Number:
    """The list of one number per size; too short or too long, it is a finding, and is filled up or cut."""
    sizes = cursor.context.sizes
    values = tuple(value or 0 for value in written)
    absent = tuple(index for index, value in enumerate(written) if value is None)
    if len(values) != sizes:
        has = f"{len(values)} numbers"
        mend = _one_for_each(cursor, values, span) if not absent else None
        cursor.context.findings.append(
            rules.LIST_LENGTH.at(
                cursor.context.source, span, has=has, sizes=cursor.context.size_words(), mend=mend,
                such=f", such as “{mend}”" if mend else "",
            )
        )  # fmt: skip
        values = (values + (values[-1],) * sizes)[:sizes]
    return SizeList(values, absent, span)


def _one_for_each(cursor: Cursor, values: tuple[int, ...], span: Span) -> str | None:
    """A list with one number for each size: the foundation's, or one that goes on in the same steps."""
    sizes, foundations = cursor.context.sizes, cursor.context.foundations
    steps = {later - before for before, later in pairwise(values)}
    if len(foundations) == sizes and foundations[: len(values)] == values:
        right = foundations
    elif len(values) > sizes:
        right = values[:sizes]
    elif len(values) > 1 and len(steps) == 1 and values[-1] + (step := steps.pop()) * sizes > 0:
        right = tuple(values[0] + step * size for size in range(sizes))
    else:
        return None
    if sizes == 1:
        return str(right[0])
    plain = not re.search(r"[(\[]", cursor.context.source.slice(span))
    return ", ".join(map(str, right)) if plain else written(SizeList(right))


def _by_slashes(cursor: Cursor) -> tuple[int | None, ...] | None:
    """`/28/32` behind the first number: one for each size."""
    rest = cursor.context.sizes - 1
    pairs = [(cursor.peek(2 * ahead), cursor.peek(2 * ahead + 1)) for ahead in range(rest)]
    if not pairs or not all(sign.value == "/" and sign.glued and one.kind == "num" for sign, one in pairs):
        return None
    if cursor.is_punct("/", ahead=2 * rest):
        return None
    cursor.at += 2 * rest
    return tuple(one.number for _, one in pairs)


def _list_rest(cursor: Cursor) -> tuple[int | None, ...] | None:
    """What follows the first number of a list: `(28, 32)`, `, (28, 32)`, `[28, 32]`, `(28) (32)`."""
    back = cursor.at
    if cursor.is_punct(",") and cursor.is_punct("(", ahead=1):
        cursor.take()
    values: list[int | None] = []
    while cursor.is_punct("(", "["):
        inside = _bracketed_numbers(cursor)
        if inside is None:
            break
        values.extend(inside)
        if len(values) + 1 >= cursor.context.sizes:
            break
    if not values or (cursor.context.sizes == 1 and len(values) == 1):
        cursor.at = back
        return None
    return tuple(values)


def _bracketed_numbers(cursor: Cursor) -> list[int | None] | None:
    back = cursor.at
    close = ")" if cursor.take().value == "(" else "]"
    values: list[int | None] = []
    while cursor.peek().kind == "num" or _dash_in_list(cursor):
        token = cursor.take()
        values.append(token.number if token.kind == "num" else None)
        if not (
            cursor.punct(",", ";", "/")
            or (cursor.is_punct("-") and cursor.peek(1).kind == "num" and cursor.punct("-"))
        ):
            break
    if values and cursor.punct(close):
        return values
    cursor.at = back
    return None


def _dash_in_list(cursor: Cursor) -> bool:
    """A dash in the place of a number: this size has none of it."""
    return (
        cursor.context.sizes > 1
        and cursor.is_punct("-", "--")
        and cursor.is_punct(",", ";", "/", ")", "]", ahead=1)
    )


def _formula(cursor: Cursor) -> Formula | None:
    """`N`, `2N/3 + 1`, `(N - 1)/2`."""
    start = cursor.at
    if cursor.is_punct("(") and (inside := _formula_in_brackets(cursor)):
        return inside
    slope = Fraction(1)
    if cursor.peek().kind == "num" and (
        cursor.peek(1).kind == "N" or (cursor.is_punct("x", ahead=1) and cursor.peek(2).kind == "N")
    ):
        slope = Fraction(cursor.take().number)
        cursor.punct("x")
    if cursor.peek().kind != "N":
        cursor.at = start
        return None
    cursor.take()
    if cursor.is_punct("/", "÷") and cursor.peek(1).kind == "num":
        cursor.take()
        divisor = cursor.take().number
        if divisor == 0:
            expected = "a number other than 0 after the /"
            span = cursor.since(start)
            cursor.context.findings.append(
                rules.UNREAD.at(cursor.context.source, span, expected=expected, near="")
            )
        slope /= divisor or 1
    shift = Fraction(0)
    if cursor.is_punct("+", "-") and cursor.peek(1).kind == "num":
        sign = -1 if cursor.take().value == "-" else 1
        shift = Fraction(sign * cursor.take().number)
    return Formula(slope, shift, cursor.since(start))


def _formula_in_brackets(cursor: Cursor) -> Formula | None:
    """`(N - 1)/2`; a bracket that no division follows is something else."""
    start = cursor.at
    cursor.take()
    inside = _formula(cursor)
    if inside is not None and cursor.punct(")") and cursor.punct("/", "÷") and cursor.peek().kind == "num":
        divisor = cursor.take().number
        if divisor:
            return Formula(inside.slope / divisor, inside.shift / divisor, cursor.since(start))
    cursor.at = start
    return None


def plus(value: Number, more: int) -> Number:
    """The number and so many more."""
    if isinstance(value, Plain):
        return Plain(value.value + more, value.span)
    if isinstance(value, SizeList):
        return SizeList(tuple(one + more for one in value.values), value.absent, value.span)
    return Formula(value.slope, value.shift + more, value.span)


def written(value: Number) -> str:
    """The number in the published form: `24 (28, 32)`, `2N/3 + 1`."""
    if isinstance(value, Plain):
        return str(value.value)
    if isinstance(value, SizeList):
        head, *rest = ["-" if at in value.absent else str(one) for at, one in enumerate(value.values)]
        return f"{head} ({', '.join(rest)})" if rest else head
    return line_in_n(value.slope, value.shift)


def line_in_n(slope: Fraction, shift: Fraction) -> str:
    """A line in N as patterns write it: `N`, `N/3`, `2N/3 + 1`, `N/3 - 1`, `13`."""
    if slope == 0:
        return str(shift) if shift.denominator == 1 else f"{shift.numerator}/{shift.denominator}"
    if shift.denominator != 1:
        whole = slope.denominator * shift.denominator // gcd(slope.denominator, shift.denominator)
        return f"({line_in_n(slope * whole, shift * whole)})/{whole}"
    head = "N" if slope.numerator == 1 else "-N" if slope.numerator == -1 else f"{slope.numerator}N"
    if slope.denominator != 1:
        head += f"/{slope.denominator}"
    if shift == 0:
        return head
    return f"{head} {'+' if shift > 0 else '-'} {abs(shift)}"


def ordinal(number: int) -> str:
    """ "1st", "2nd", "23rd"."""
    suffix = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{suffix}"
