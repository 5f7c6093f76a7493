"""What everyone may read of an along: its page, under an address that cannot be guessed.

The address is made of the title, for people, and of a key of 16 letters (79 bits), which alone counts: it
stays when the title changes, and a host can have a new one. It is not the join code: that is short, to be
read aloud, and lets people in; the page is for passing on, and shows the way in only where its host wants
that.
"""

from __future__ import annotations

import re
import secrets
import unicodedata
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from server.services.errors import NotFound, Refusal
from server.services.series import cohosts, owning
from server.services.series.evenings import Set, of_along, parts
from server.services.series.materials import PartNeeds, SetNeeds, needs_of, together
from server.services.series.waiting import rows_waiting
from server.storage import hosting
from server.storage.tables import Along, AlongPage, PatternVersion

TEXT_MOST = 2000
KEY_LETTERS, KEY_LENGTH = "23456789abcdefghjkmnpqrstuvwxyz", 16
SLUG_MOST = 40
SPELLED = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"})
NOTHING = "Nothing is shown at this address. It may have changed: ask whoever gave it to you."
SKILL = "You can make chains and single and double crochet. All else is shown as it comes."
MATERIALS = "Scissors, a blunt needle for the ends, something that marks a stitch, and a tape measure."
# What is known of mittens, cords, small parts, hands and wool, in calm words; a host makes it hers.
CAUTIONS = "\n".join(
    (
        "Rest your hands: many short breaks do more than one long one. Stop where it hurts; pain that stays "
        "is for a health professional.",
        "Keep hooks, needles and scissors out of little hands.",
        "For a baby: trim and hide every loose end inside, no elastic and no tied wrists, and look at the "
        "fingers often, for a thread can wind around one.",
        "Under three years: no cords or ties, and no small buttons.",
        "Coarse wool itches on some skins; a fine one, or cotton, mostly does not.",
    )
)


@dataclass(frozen=True)
class PageForm:
    """The page's settings, as kept or as typed."""

    is_shown: bool = False
    is_findable: bool = False
    lets_join: bool = True
    names_waiting: bool = True
    skill: str = SKILL
    materials: str = MATERIALS
    cautions: str = CAUTIONS


@dataclass(frozen=True)
class PageSettings:
    """The page of an along as its hosts see it. address: "" before it was first saved."""

    along_id: int
    along_title: str
    address: str
    form: PageForm
    mark: str
    changed_at: datetime | None
    changed_by: str


@dataclass(frozen=True)
class Announced:
    """What everyone may read. address: what stands in the page's own; join_code: "" where the page does not
    show the way in; changed_at: when its host last changed the page itself."""

    address: str
    is_findable: bool
    title: str
    welcome: str
    hosts: tuple[str, ...]
    evenings: tuple[Set, ...]
    parts: tuple[PartNeeds, ...]
    waiting: tuple[str, ...]
    for_all: SetNeeds | None
    skill: str
    materials: str
    cautions: str
    join_code: str


def slug(title: str) -> str:
    """A title as it stands in an address: letters a to z and digits, at most 40 characters."""
    spelled = title.casefold().translate(SPELLED)
    plain = unicodedata.normalize("NFKD", spelled).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return words[:SLUG_MOST].strip("-") or "along"


def new_key() -> str:
    """A key for an address."""
    return "".join(secrets.choice(KEY_LETTERS) for _ in range(KEY_LENGTH))


def settings(session: Session, host_id: int, along_id: int) -> PageSettings:
    """The page of an along that she hosts: as kept, or as it would begin."""
    along = owning.hosted(session, host_id, along_id)
    row = session.get(AlongPage, along_id)
    form = _form(row) if row else PageForm()
    return PageSettings(
        along_id, along.title, f"{slug(along.title)}-{row.key}" if row else "", form, owning.mark(form),
        row.changed_at if row else None, row.changed_by if row else "",
    )  # fmt: skip


def _form(row: AlongPage) -> PageForm:
    return PageForm(
        row.is_shown,
        row.is_findable,
        row.lets_join,
        row.names_waiting,
        row.skill,
        row.materials,
        row.cautions,
    )


def save(
    session: Session, host_id: int, along_id: int, form: PageForm, mark: str | None, now: datetime
) -> None:
    """Keep the page as typed. Refusal where it was changed since the form was opened (`mark`)."""
    kept = settings(session, host_id, along_id)
    tidy = PageForm(
        form.is_shown, form.is_findable, form.lets_join, form.names_waiting,
        owning.lines(form.skill, "skill", TEXT_MOST),
        owning.lines(form.materials, "materials", TEXT_MOST),
        owning.lines(form.cautions, "cautions", TEXT_MOST),
    )  # fmt: skip
    if mark not in (None, kept.mark) and tidy != kept.form:
        raise Refusal(
            f"{kept.changed_by or 'Somebody'} changed this page since you opened the form. What you typed is "
            "still here; save again to put it in place of that.",
            "skill",
        )
    row = session.get(AlongPage, along_id) or AlongPage(along_id=along_id, key=new_key())
    row.is_shown, row.is_findable = tidy.is_shown, tidy.is_findable
    row.lets_join, row.names_waiting = tidy.lets_join, tidy.names_waiting
    row.skill, row.materials, row.cautions = tidy.skill, tidy.materials, tidy.cautions
    row.changed_at, row.changed_by = now, hosting.shown_name(session, host_id)
    session.add(row)
    session.flush()


def cautions_of(session: Session, along_id: int) -> tuple[str, ...]:
    """The along's cautions, one after another: its host's where she has written her own, else the usual."""
    row = session.get(AlongPage, along_id)
    text = row.cautions if row is not None else CAUTIONS
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def address_shown(session: Session, along_id: int) -> str:
    """What stands in the address of an along's page, for those who are in it; "" where it is not shown."""
    row = session.get(AlongPage, along_id)
    along = session.get(Along, along_id) if row is not None and row.is_shown else None
    return f"{slug(along.title)}-{row.key}" if along is not None and row is not None else ""


def new_address(session: Session, host_id: int, along_id: int) -> None:
    """Another key: the address that was handed out before leads nowhere from now on."""
    owning.hosted(session, host_id, along_id)
    row = session.get(AlongPage, along_id)
    if row is None:
        raise NotFound(owning.UNKNOWN)
    row.key = new_key()
    session.add(row)


def _shown(session: Session, address: str) -> tuple[Along, AlongPage]:
    key = address.rpartition("-")[2]
    found = session.exec(
        select(Along, AlongPage).where(AlongPage.key == key, AlongPage.along_id == Along.id)
    ).first()
    if found is None or not found[1].is_shown:
        raise NotFound(NOTHING)
    return found


def announced(session: Session, address: str) -> Announced:
    """The along of an address whose page is shown; NotFound for any other. Words before the key do not
    count."""
    along, page = _shown(session, address)
    assert along.id is not None
    published = tuple(needs_of(title, text) for title, text in _published(session, along.id))
    return Announced(
        address=f"{slug(along.title)}-{page.key}",
        is_findable=page.is_findable,
        title=along.title,
        welcome=along.welcome,
        hosts=cohosts.names(session, along),
        evenings=of_along(session, along.id),
        parts=published,
        waiting=tuple(p.title for p in rows_waiting(session, along.id)) if page.names_waiting else (),
        for_all=together(published),
        skill=page.skill,
        materials=page.materials,
        cautions=page.cautions,
        join_code=along.join_code if page.lets_join else "",
    )


def _published(session: Session, along_id: int) -> list[tuple[str, str]]:
    """(title, text) of the newest version of each part that has one, in the order of the parts."""
    every = parts(session, along_id)
    rows = session.exec(
        select(PatternVersion)
        .where(col(PatternVersion.part_id).in_([part.id for part in every]))
        .order_by(col(PatternVersion.number))
    ).all()
    newest = {row.part_id: row.text for row in rows}
    return [(part.title, newest[part.id]) for part in every if part.id in newest]


def followed(session: Session, address: str) -> tuple[str, str, tuple[Set, ...]]:
    """(address, title, evenings) for the calendar of an along whose page is shown; else NotFound."""
    along, page = _shown(session, address)
    assert along.id is not None
    return f"{slug(along.title)}-{page.key}", along.title, of_along(session, along.id)
