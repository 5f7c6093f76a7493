"""A sheet as plain text, in the form that `server.craft.text.read` reads."""

from __future__ import annotations

from collections.abc import Iterator

from server.craft.making.sheets import CustomRule, Sheet, SheetLine, SheetSection


def sheet_text(sheet: Sheet) -> str:
    """The sheet as text. Read again, it has the same sections, and is right at the same counts."""
    parts = [
        _header(sheet),
        "\n".join(f"{fact.label} = {fact.text}" for fact in sheet.abbreviations),
        "\n".join(_custom(sheet.custom, sheet.sections)) if sheet.custom is not None else "",
        "\n".join(_notes(sheet)),
        *(_section(section) for section in sheet.sections),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _header(sheet: Sheet) -> str:
    lines = [f"Title: {sheet.title}"] if sheet.title else []
    lines += [f"Terms: {sheet.terms}"]
    lines += [f"{fact.label}: {fact.text}" for fact in (*sheet.facts, *sheet.materials)]
    lines += [f"Special stitch: {words}" for words in sheet.special]
    return "\n".join(lines)


def _notes(sheet: Sheet) -> Iterator[str]:
    if sheet.notes and sheet.terms != sheet.written_in:
        yield f"The host’s own words, in {sheet.written_in} terms."
    yield from sheet.notes


def _custom(rule: CustomRule, sections: tuple[SheetSection, ...]) -> Iterator[str]:
    low, high = rule.proved
    yield f"A count of your own may be {rule.rule}; those from {low} to {high} are proved. N is your count."
    if rule.by_size:
        yield "Where numbers go by size and N is not named, take those of the next smaller size."
    for section in sections:
        for line in section.lines:
            if line.custom:
                yield f"In {_where(section, line)}: {line.custom}."


def _where(section: SheetSection, line: SheetLine) -> str:
    """ "Cuff, rnds 3 to 6 (6, 7)"; never without a comma or a number, so that it is no line of the header."""
    label = line.label.split(", or ")[0] or "beginning"
    words = label[:1].lower() + label[1:]
    return f"{section.title}, {words}" if section.title else f"the piece, {words}"


def _section(section: SheetSection) -> str:
    head = f"# {section.title} - {section.purpose}" if section.purpose else f"# {section.title}"
    lines = [head] if section.title else []
    for line in section.lines:
        if line.kind == "round" and not line.label and line is not section.lines[0]:
            lines.append("")  # without a label it would go on with the line above
        lines.append(_line(line))
    return "\n".join(lines)


def _line(line: SheetLine) -> str:
    if line.kind == "note":
        return f"Note: {line.text}"
    if line.kind == "end":
        return line.text
    label = f"{line.label}: " if line.label else ""
    count = f" [{line.count}]" if line.count else ""
    return f"{label}{line.text}.{count}"
