"""The form of a notebook's file: version 1, in JSON (RFC 8259), every field with its unit and meaning.

What a file may hold is said here once: the page and docs/notebook-file.md are made from it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

FORM = "evenhand notebook"
VERSION = 1
PROJECTS_MOST = 60
ENTRIES_MOST = 20_000
TEXT_MOST = 60_000  # characters of a pattern; no longer one can be published
VALUES_MOST = 20_000  # characters of an entry's values, written as JSON


@dataclass(frozen=True)
class FieldWords:
    """One field of the file: where it stands, what it holds, what it means."""

    path: str
    holds: str
    means: str


MOMENT_HOLDS = "text, ISO 8601 in UTC with microseconds: 2026-03-01T19:04:05.000000Z"
FIELDS: tuple[FieldWords, ...] = (
    FieldWords("form", f"text, “{FORM}”", "that this is a notebook's file"),
    FieldWords("version", f"whole number, {VERSION}", "the version of this form"),
    FieldWords("exported_at", MOMENT_HOLDS, "when the file was made; no import keeps it"),
    FieldWords("notebook.nickname", "text, 1 to 30 characters", "what the maker is called in her along"),
    FieldWords("notebook.terms", "text, “US” or “UK”", "the crochet terms she reads"),
    FieldWords("notebook.units", "text, “cm” or “in”", "the unit that lengths are shown in"),
    FieldWords("notebook.wording", "text, “short” or “full”", "steps with abbreviations, or in full words"),
    FieldWords("notebook.joined_at", MOMENT_HOLDS, "when she joined"),
    FieldWords("along.title", "text, 1 to 200 characters", "the along's title"),
    FieldWords("along.host", "text, 1 to 100 characters", "the name its host shows"),
    FieldWords("along.welcome", "text, up to 4000 characters", "the host's words of welcome"),
    FieldWords("projects", f"list, up to {PROJECTS_MOST}", "the parts she has begun, in the along's order"),
    FieldWords("projects[].part.title", "text, 1 to 200 characters", "the part's title"),
    FieldWords("projects[].part.position", "whole number from 1", "the part's place in the along"),
    FieldWords("projects[].pattern.number", "whole number from 1", "the version of the pattern she is on"),
    FieldWords("projects[].pattern.title", "text, 1 to 200 characters", "the pattern's title"),
    FieldWords("projects[].pattern.published_at", MOMENT_HOLDS, "when the host published that version"),
    FieldWords(
        "projects[].pattern.text",
        f"text, up to {TEXT_MOST} characters",
        "the whole pattern as published, so that the log can be read anywhere",
    ),
    FieldWords("projects[].started_at", MOMENT_HOLDS, "when the server got her first entry"),
    FieldWords(
        "projects[].entries",
        f"list, up to {ENTRIES_MOST} in the whole file",
        "the log: every entry ever made, those undone too, in the order of at, device, order, id",
    ),
    FieldWords(
        "projects[].entries[].id", "text, 8 to 64 letters, digits, - _ .", "made on the device, unique"
    ),
    FieldWords(
        "projects[].entries[].piece", "whole number, 0 to 2", "0 both pieces, 1 glove one, 2 glove two"
    ),
    FieldWords("projects[].entries[].kind", "text", "what was logged; the kinds are listed below"),
    FieldWords("projects[].entries[].values", "object", "what that kind needs; listed below"),
    FieldWords(
        "projects[].entries[].at",
        "text, ISO 8601 in UTC with milliseconds: 2026-03-01T19:04:05.678Z",
        "the device's own clock; the log is worked in this order",
    ),
    FieldWords("projects[].entries[].device", "text, 1 to 64 characters", "a random name of the device"),
    FieldWords("projects[].entries[].order", "whole number from 0", "the device's own count"),
    FieldWords("projects[].entries[].received_at", MOMENT_HOLDS, "when the server got it"),
)

SPOT = "spot: a round's place, “section.line.turn”; section and line count from 0, turn from 1"
KINDS: tuple[FieldWords, ...] = (
    FieldWords(
        "tried",
        "foundation: chains · verdict: “too long”, “too short”, “fits” · by_mm, where it was said",
        "a ring tried on, and by how much it was off",
    ),
    FieldWords("settled", "foundation: chains, or null · size: a size's name, or null", "her number"),
    FieldWords(
        "hook", "hook_mm: millimetres · spot, or null", "the hook, from that round on or from the beginning"
    ),
    FieldWords("worked", "spot", "a round worked"),
    FieldWords("taken_out", "spot", "that round and all after it taken out"),
    FieldWords("fit_ended", "fit: “section.line” · rounds: how many", "rounds to fit ended"),
    FieldWords("fit_reopened", "fit", "rounds to fit gone on with"),
    FieldWords("counted", "spot · name: what, in US terms · count", "stitches counted at a round"),
    FieldWords("note", "spot, or null · text", "a note"),
    FieldWords("accepted", "difference: its key", "a difference between the pieces that is meant"),
    FieldWords("finished", "nothing", "the piece is finished"),
    FieldWords(
        "place", "spot · text · step, repeat: whole numbers, or null", "where she stopped within a round"
    ),
    FieldWords(
        "counted_in", "rounds: “section.line” to how many · ended: list of those ended", "a piece counted in"
    ),
    FieldWords("measured", "what: “width” or “length” · mm: millimetres · spot", "measured, laid flat"),
    FieldWords("weighed", "grams · spot", "weighed, with the rounds up to that one"),
    FieldWords(
        "hand",
        "known: “measured”, “size”, “age”, “group” · around_mm · wrist_mm · to_thumb_mm · to_end_mm · size · "
        "age_years · group: “women”, “men”, “adults”, “child”; null what was not said",
        "the hand it is for: around the knuckles, around the wrist, and along from the wrist",
    ),
    FieldWords(
        "gauge",
        "source: “swatch”, “pattern”, “category” · stitches · over_mm · rounds · rounds_over_mm · category: "
        "0 to 7 · hook_mm; null what was not said",
        "the gauge to go by",
    ),
    FieldWords("yarn", "category: 0 to 7 · grams · metres, of one ball; or null", "the yarn she has"),
    FieldWords("left", "grams", "yarn left on the scale, without the pieces"),
    FieldWords(
        "sampled",
        "what: “weighed”, “unravelled”, “counted” · stitch, in US terms · count · grams · metres; or null",
        "yarn that so many stitches took",
    ),
    FieldWords(
        "felt",
        "foundation: chains · verdict: “too loose”, “too tight”, “right” · by_mm, hook_mm, or null",
        "how round one fits",
    ),
    FieldWords("ease", "smaller_percent: 0 to 10", "how much smaller than the hand it shall be"),
    FieldWords("undo", "entry: the id", "takes that entry back"),
)


@dataclass(frozen=True)
class FileEntry:
    """An entry as the file has it. `where` is its place in the file, for messages."""

    id: str
    piece: int
    kind: str
    values: dict[str, Any]
    at: str
    device: str
    order: int
    received_at: datetime
    where: str = ""


@dataclass(frozen=True)
class FileProject:
    """A project as the file has it."""

    part_title: str
    part_position: int
    number: int
    title: str
    published_at: datetime
    text: str
    started_at: datetime
    entries: tuple[FileEntry, ...] = field(repr=False)
    where: str = ""


@dataclass(frozen=True)
class NotebookFile:
    """A notebook as its file has it."""

    nickname: str
    terms: str
    units: str
    wording: str
    joined_at: datetime
    along_title: str
    along_host: str
    along_welcome: str
    projects: tuple[FileProject, ...]

    @property
    def entries(self) -> int:
        """How many entries it has."""
        return sum(len(project.entries) for project in self.projects)


def exact(moment: datetime) -> str:
    """A moment as the file has it."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
