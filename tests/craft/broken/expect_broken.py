"""What a broken pattern must bring: one finding, at its words, and a mend that holds."""

import re
from collections.abc import Callable, Sequence
from typing import Any

Check = Callable[..., dict[str, Any]]
Report = dict[str, Any]
Finding = dict[str, Any]

FINDING_KEYS = {
    "severity", "code", "kind", "line", "column", "words",
    "foundations", "stated", "worked", "message", "mend",
}  # fmt: skip
KINDS = {"syntax", "count", "closing", "place", "join", "header"}


def line_of(text: str, piece: str) -> int:
    """The 1-based number of the one line of `text` that has `piece`."""
    lines = [number for number, line in enumerate(text.split("\n"), 1) if piece in line]
    assert len(lines) == 1, f"the test's own pattern has {piece!r} on lines {lines}"
    return lines[0]


def round_lines(text: str, label: str) -> range:
    """The lines of the one round that begins with `label`: its own and the indented ones after it."""
    first = line_of(text, label)
    more = 0
    for line in text.split("\n")[first:]:
        if not line.startswith(" "):
            break
        more += 1
    return range(first, first + more + 1)


def offset_of(text: str, finding: Finding) -> int:
    """Where the words at fault begin in `text`, as a 0-based index."""
    lines = text.split("\n")
    return sum(len(line) + 1 for line in lines[: finding["line"] - 1]) + int(finding["column"]) - 1


def mended(text: str, finding: Finding) -> str:
    """The text with the finding's mend in the place of its words."""
    begin = offset_of(text, finding)
    return text[:begin] + str(finding["mend"]) + text[begin + len(finding["words"]) :]


def brief(report: Report) -> str:
    """The findings in a few words each, for a failing assertion."""
    return "\n" + "\n".join(
        f"{found['severity']} {found['kind']} {found['code']} {found['line']}:{found['column']} "
        f"{found['words']!r} at {found['foundations']}: {found['message']} (mend {found['mend']!r})"
        for found in report["findings"]
    )


def whole(report: Report) -> None:
    """The report has its parts, each finding its own, in calm words; `proved` agrees with them."""
    tried = report["counts_tried"]
    if all(isinstance(count, int) for count in tried):
        assert tried == sorted(set(tried)), f"counts tried are not ascending: {tried}"
    for found in report["findings"]:
        assert set(found) == FINDING_KEYS, found
        assert found["kind"] in KINDS, found
        assert found["severity"] in {"error", "warning"}, found
        assert found["line"] >= 1, found
        assert found["column"] >= 1, found
        assert found["message"].strip(), found
        own_words = found["message"].replace(found["words"], "")
        assert not re.search(r"!|\boops|\binvalid\b", own_words, re.IGNORECASE), found["message"]
    errors = [found for found in report["findings"] if found["severity"] == "error"]
    assert report["proved"] is (not errors), brief(report)


def sound(report: Report, text: str) -> None:
    """The report is whole, and every finding stands where it says."""
    whole(report)
    for found in report["findings"]:
        assert found["line"] <= text.count("\n") + 1, found
        begin = offset_of(text, found)
        assert text[begin : begin + len(found["words"])] == found["words"], f"words not there: {found}"


def mend_removes(check: Check, text: str, finding: Finding) -> None:
    """Replacing the words by the mend makes this finding go away."""
    assert finding["mend"] != finding["words"], finding
    after = check(mended(text, finding))
    left = [
        found
        for found in after["findings"]
        if (found["code"], found["line"]) == (finding["code"], finding["line"])
    ]
    assert not left, f"still there after the mend {finding['mend']!r}:{brief(after)}"


def only_fault(
    check: Check,
    text: str,
    *kinds: str,
    on: str = "",
    words: str = "",
    severity: str = "error",
    at: Sequence[int | str] | None = None,
) -> Finding:
    """The one finding of `text`, held against what is expected of it.

    `kinds` are the kinds it may have (none: any); `on` is a piece of the line it must be on; `words` a
    piece of its words, case apart; `severity` "" leaves it open; `at` are the foundations it holds for.
    """
    report = check(text)
    sound(report, text)
    assert len(report["findings"]) == 1, f"not exactly one finding:{brief(report)}"
    found: Finding = report["findings"][0]
    if severity:
        assert found["severity"] == severity, brief(report)
    if kinds:
        assert found["kind"] in kinds, brief(report)
    if on:
        assert found["line"] == line_of(text, on), brief(report)
    assert words.lower() in found["words"].lower(), brief(report)
    if at is not None:
        assert found["foundations"] == list(at), brief(report)
    if found["mend"] is not None:
        mend_removes(check, text, found)
    return found


def only_warning(
    check: Check, text: str, *kinds: str, on: str = "", words: str = "", at: Sequence[int | str] | None = None
) -> Finding:
    """As `only_fault`, for a pattern that is proved with exactly one warning."""
    return only_fault(check, text, *kinds, on=on, words=words, severity="warning", at=at)


def states(finding: Finding, stated: int, worked: int) -> None:
    """The finding says what the pattern stated and what the engine worked, in numbers."""
    for number, key in ((stated, "stated"), (worked, "worked")):
        said = finding[key]
        assert said is not None, f"{key} is missing: {finding}"
        assert re.search(rf"(?<!\d){number}(?!\d)", said), f"{key} is {said!r}, not {number}"


def clean(check: Check, text: str) -> None:
    """The pattern is proved without any finding."""
    report = check(text)
    sound(report, text)
    assert report["proved"] is True, brief(report)
    assert not report["findings"], brief(report)
