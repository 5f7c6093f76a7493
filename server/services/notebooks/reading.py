"""Reading a notebook's file: bytes from anybody in, a NotebookFile out, or a Refusal that says where."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, NoReturn, get_args

from server.services.errors import Refusal
from server.services.notebooks.desk import Terms, Units, Wording
from server.services.notebooks.fileform import (
    ENTRIES_MOST,
    FORM,
    PROJECTS_MOST,
    TEXT_MOST,
    VALUES_MOST,
    VERSION,
    FileEntry,
    FileProject,
    NotebookFile,
)
from server.services.notebooks.shapes import ENTRY_ID, RULES

MICROSECONDS = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z")
MILLISECONDS = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")
DEVICE = re.compile(r"[A-Za-z0-9_.-]{1,64}")
WHOLE_MOST = 2**31
NOT_OURS = (
    "This is not a notebook's file. It is the one that “Take it along” gives, and its name ends in .json."
)


def read_file(raw: bytes) -> NotebookFile:
    """The notebook in a file. Refusal with the place in the file where something is not as it has to be.

    Nothing is taken on trust: every field is there, of its kind and within its bounds, and there is none
    besides.
    """
    top = _Part(_json(raw), "The file")
    if not isinstance(top.value, dict) or top.value.get("form") != FORM:
        raise Refusal(NOT_OURS, "file")
    if top.value.get("version") != VERSION:
        raise Refusal(
            f"This file has the form {str(top.value.get('version'))[:20]}; this server reads {VERSION}. "
            "A newer one may read it.",
            "file",
        )
    top.only("form", "version", "exported_at", "notebook", "along", "projects")
    top.field("exported_at").moment()
    notebook = top.field("notebook").only("nickname", "terms", "units", "wording", "joined_at")
    along = top.field("along").only("title", "host", "welcome")
    read = NotebookFile(
        nickname=notebook.field("nickname").text(30),
        terms=notebook.field("terms").one_of(get_args(Terms)),
        units=notebook.field("units").one_of(get_args(Units)),
        wording=notebook.field("wording").one_of(get_args(Wording)),
        joined_at=notebook.field("joined_at").moment(),
        along_title=along.field("title").text(200),
        along_host=along.field("host").text(100),
        along_welcome=along.field("welcome").text(4000, least=0),
        projects=tuple(_project(each) for each in top.field("projects").items(PROJECTS_MOST, "project")),
    )
    if read.entries > ENTRIES_MOST:
        raise Refusal(f"{read.entries:,} entries; a file holds up to {ENTRIES_MOST:,}.", "file")
    _each_once(read)
    return read


def _json(raw: bytes) -> object:
    def no_number(sign: str) -> NoReturn:
        raise ValueError(f"{sign} is no number in JSON")

    try:
        return json.loads(raw.decode("utf-8"), parse_constant=no_number)
    except json.JSONDecodeError as error:
        raise Refusal(
            f"{NOT_OURS} Reading stopped at line {error.lineno}, character {error.colno}.", "file"
        ) from None
    except (ValueError, RecursionError):  # not UTF-8, a number without end, brackets without end
        raise Refusal(NOT_OURS, "file") from None


@dataclass(frozen=True)
class _Part:
    """A value in the file with its place in words: "Project 1, entry 12, at"."""

    value: Any
    where: str

    def refuse(self, should: str) -> NoReturn:
        raise Refusal(f"{self.where}: {should} Nothing was read in.", "file")

    def only(self, *names: str) -> _Part:
        """The same, once it is an object with exactly these fields."""
        if not isinstance(self.value, dict):
            self.refuse("an object with fields should stand here.")
        for name in self.value:
            if name not in names:
                self.refuse(f"“{name[:40]}” is no field of this form.")
        for name in names:
            if name not in self.value:
                self.refuse(f"“{name}” is missing.")
        return self

    def field(self, name: str) -> _Part:
        where = name if self.where == "The file" else f"{self.where}, {name}"
        return _Part(self.value[name], where)

    def items(self, most: int, name: str) -> Iterator[_Part]:
        if not isinstance(self.value, list):
            self.refuse("a list should stand here.")
        if len(self.value) > most:
            self.refuse(f"{len(self.value):,} of them; up to {most:,} can be read.")
        outer = self.where.rpartition(", ")[0]
        for number, each in enumerate(self.value, start=1):
            yield _Part(each, f"{outer}, {name} {number}" if outer else f"{name.capitalize()} {number}")

    def text(self, most: int, least: int = 1) -> str:
        if not isinstance(self.value, str):
            self.refuse("a text should stand here.")
        if not least <= len(self.value) <= most:
            self.refuse(f"{len(self.value):,} characters; {least} to {most:,} can stand here.")
        if any(unicodedata.category(c) in ("Cs", "Cc") and c not in "\n\t\r" for c in self.value):
            self.refuse("part of it is no character that could be written down.")
        return str(self.value)

    def one_of(self, known: tuple[str, ...]) -> str:
        if self.value not in known:
            self.refuse(f"one of {', '.join(known)} should stand here.")
        return str(self.value)

    def like(self, shape: re.Pattern[str], should: str) -> str:
        if not isinstance(self.value, str) or not shape.fullmatch(self.value):
            self.refuse(should)
        return str(self.value)

    def whole(self, least: int, most: int = WHOLE_MOST) -> int:
        if not isinstance(self.value, int) or isinstance(self.value, bool):
            self.refuse("a whole number should stand here.")
        if not least <= self.value <= most:
            self.refuse(f"a whole number from {least} to {most} should stand here.")
        return int(self.value)

    def moment(
        self, shape: re.Pattern[str] = MICROSECONDS, like: str = "2026-03-01T19:04:05.000000Z"
    ) -> datetime:
        text = self.like(shape, f"a moment like {like} should stand here.")
        try:
            return datetime.fromisoformat(text).astimezone(UTC)
        except ValueError:
            self.refuse(f"{text} is on no calendar and no clock.")


def _project(each: _Part) -> FileProject:
    each.only("part", "pattern", "started_at", "entries")
    part = each.field("part").only("title", "position")
    pattern = each.field("pattern").only("number", "title", "published_at", "text")
    entries = tuple(_entry(entry) for entry in each.field("entries").items(ENTRIES_MOST, "entry"))
    if not entries:
        each.refuse("a part that was begun has at least one entry.")
    return FileProject(
        part_title=part.field("title").text(200),
        part_position=part.field("position").whole(1, 10_000),
        number=pattern.field("number").whole(1, 1_000_000),
        title=pattern.field("title").text(200),
        published_at=pattern.field("published_at").moment(),
        text=pattern.field("text").text(TEXT_MOST),
        started_at=each.field("started_at").moment(),
        entries=entries,
        where=each.where,
    )


def _entry(each: _Part) -> FileEntry:
    each.only("id", "piece", "kind", "values", "at", "device", "order", "received_at")
    at = each.field("at")
    at.moment(MILLISECONDS, "2026-03-01T19:04:05.678Z")
    values = each.field("values")
    if not isinstance(values.value, dict):
        values.refuse("an object with fields should stand here.")
    try:
        json.dumps(values.value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        values.refuse("part of it is no character that could be written down.")
    if len(json.dumps(values.value)) > VALUES_MOST:
        values.refuse(f"more than {VALUES_MOST:,} characters; no entry holds as much.")
    return FileEntry(
        id=each.field("id").like(ENTRY_ID, "8 to 64 letters, digits, - _ . should stand here."),
        piece=each.field("piece").whole(0, 2),
        kind=each.field("kind").one_of(tuple(RULES)),
        values=values.value,
        at=at.value,
        device=each.field("device").like(DEVICE, "1 to 64 letters, digits, - _ . should stand here."),
        order=each.field("order").whole(0),
        received_at=each.field("received_at").moment(),
        where=each.where,
    )


def _each_once(read: NotebookFile) -> None:
    ids: set[str] = set()
    for project in read.projects:
        for entry in project.entries:
            if entry.id in ids:
                raise Refusal(f"{entry.where}: its id stands twice in the file. Nothing was read in.", "file")
            ids.add(entry.id)
