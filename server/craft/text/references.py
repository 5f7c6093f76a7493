"""Finds the round that `rep rnd 3 of Cuff` means."""

from __future__ import annotations

from server.craft.text.tree import Pattern, Plain, RepeatRounds, RoundLine, SizeList


def named_section(pattern: Pattern, before: int, name: str) -> int | None:
    """Index of the nearest section of that name at or before `before`; a part of the name will do."""
    low = name.lower().strip()
    for exact in (True, False):
        for index in range(before, -1, -1):
            title = pattern.sections[index].title.lower()
            if (title == low) if exact else (bool(title) and (title in low or low in title)):
                return index
    return None


def referenced(
    pattern: Pattern, section: int, at: int, repeats: RepeatRounds, wanted: int, size: int | None = None
) -> RoundLine | None:
    """The line whose text round `wanted` has, followed through lines that
    repeat others; None where there is none. `size`: index of the size it is worked for, None for any.
    """
    index = section if repeats.section is None else named_section(pattern, section, repeats.section)
    if index is None:
        return None
    found = _line_of(pattern, index, at if index == section else None, wanted, size)
    if found is None and repeats.section is not None:
        # a section that a gap parts in two has one name
        title = pattern.sections[index].title
        for earlier in range(index - 1, -1, -1):
            same = pattern.sections[earlier].title == title
            if same and (found := _line_of(pattern, earlier, None, wanted, size)) is not None:
                index = earlier
                break
    if found is None and repeats.section is None:
        # rounds numbered through the whole piece: the nearest section before that has it
        for earlier in range(section - 1, -1, -1):
            if (found := _line_of(pattern, earlier, None, wanted, size)) is not None:
                index = earlier
                break
    if found is None:
        return None
    line_at, line = found
    if line.repeats is None:
        return line
    turn = wanted - _first(line)
    inner = line.repeats.rounds[turn % len(line.repeats.rounds)] if turn >= 0 else line.repeats.rounds[0]
    return referenced(pattern, index, line_at, line.repeats, inner, size)


def _line_of(
    pattern: Pattern, index: int, before: int | None, wanted: int, size: int | None
) -> tuple[int, RoundLine] | None:
    """The last line of a section (before line `before`) that has round `wanted`."""
    lines = pattern.sections[index].lines
    for at in range(len(lines) if before is None else before, 0, -1):
        line = lines[at - 1]
        if (
            isinstance(line, RoundLine)
            and size is not None
            and line.only is not None
            and size not in line.only
        ):
            continue
        if isinstance(line, RoundLine) and line.label is not None and not line.label.foundation:
            last = line.label.last
            top = (
                _first(line)
                if last is None
                else max(last.values)
                if isinstance(last, SizeList)
                else (last.value if isinstance(last, Plain) else _first(line))
            )
            if _first(line) <= wanted <= max(top, _first(line)):
                return at - 1, line
    return None


def _first(line: RoundLine) -> int:
    if line.label is None:
        return 0
    first = line.label.first
    return first.value if isinstance(first, Plain) else first.values[0] if isinstance(first, SizeList) else 0
