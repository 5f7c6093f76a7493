"""The demo: one along with two parts and one to come, its host, its evenings, and four makers in different
places. All of it is invented.

It goes through the same services as everybody's own doings, at moments in the days before `now`.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from sqlmodel import Session, col, select

from server.craft.making import Place
from server.services import accounts, alongs, joining, notebooks, patterns, room, series
from server.storage.tables import FILES_HOST, Host

DATA = Path(__file__).parents[1] / "demo_data"
PATTERN = DATA / "ferry_mitts.txt"
COWL = DATA / "ferry_cowl.txt"
SIGN_IN_NAME = "solveig"
SHOWN_NAME = "Solveig Brandt"
ALONG = "Harbour evenings"
WELCOME = (
    "Three Thursday evenings, one pair of mitts for standing on deck. Bring 120 m of a light yarn, a 4 mm "
    "hook, scissors and a blunt needle. Rest your hands in between: wrists straight, a stretch each half "
    "hour."
)
PART, SECOND_PART, COMING_PART = "Ferry Mitts", "Ferry Cowl", "Ferry Hat"
THURSDAY, WEEK = 3, timedelta(days=7)
EVENINGS = (
    ("The cuff", "The foundation chain, two rounds, and trying it on."),
    ("The gap and the hand", "Have the cuff done to the base of the thumb."),
    ("Edges and the thumb", "Scissors and a blunt needle, for the ends."),
)
# Of the first evening: minutes after it began, and the round that was shown then.
SHOWN_THEN = (
    (1, (0, 0, 1)), (14, (0, 1, 1)), (27, (0, 2, 1)), (46, (0, 3, 1)), (62, (0, 3, 2)), (78, (0, 3, 3)),
    (92, (0, 3, 4)),
)  # fmt: skip
ASKED, ANSWERED = "Under one loop or both?", "Both: it gives a firmer edge."
SAID = "Have the cuff done to the base of the thumb. Next week we open the gap."
MINUTE = timedelta(minutes=1)
# What is read off a screen and typed: no look-alikes.
EASY_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
ROUND_TAKES = timedelta(minutes=6)


@dataclass(frozen=True)
class DemoMaker:
    """A maker's way in: whoever has the secret opens her notebook."""

    nickname: str
    whereabouts: str
    secret: str


@dataclass(frozen=True)
class Demo:
    """All ways into the demo. The secrets are not in the database: they are known here only."""

    sign_in_name: str
    password: str
    join_code: str
    makers: tuple[DemoMaker, ...]


def is_loaded(session: Session) -> bool:
    """Whether the demo is in this database."""
    return session.exec(select(Host.id).where(Host.sign_in_name == SIGN_IN_NAME)).first() is not None


def has_other_hosts(session: Session) -> bool:
    """Whether anybody besides the demo's host has an account."""
    others = select(Host.id).where(col(Host.sign_in_name).not_in((SIGN_IN_NAME, FILES_HOST)))
    return session.exec(others).first() is not None


def load(session: Session, now: datetime) -> Demo:
    """Puts the demo into a database that does not have it."""
    password = "-".join("".join(secrets.choice(EASY_LETTERS) for _ in range(4)) for _ in range(3))
    begun = now - timedelta(days=8)
    token = accounts.invite(session, begun)
    account = accounts.NewAccount(SIGN_IN_NAME, SHOWN_NAME, password)
    host_id = accounts.make_account(session, token, account, begun)
    along_id = alongs.make(session, host_id, ALONG, WELCOME, begun)
    part_id = alongs.add_part(session, host_id, along_id, PART)
    checked = patterns.check(PATTERN.read_text(encoding="utf-8"))
    patterns.publish(session, host_id, part_id, checked, None, begun)
    _series(session, host_id, along_id, part_id, now)
    code = alongs.one(session, host_id, along_id).join_code
    mina = _Maker(session, code, part_id, "Mina", now - timedelta(days=6))
    _first_evening(session, host_id, along_id, part_id, mina)
    makers = (
        _tilly(_Maker(session, code, part_id, "Tilly", now - timedelta(minutes=50))),
        _noor(_Maker(session, code, part_id, "Noor", now - timedelta(hours=3))),
        _aurel(_Maker(session, code, part_id, "Aurel", now - timedelta(days=2))),
        _mina(mina),
    )
    return Demo(SIGN_IN_NAME, password, code, makers)


def _series(session: Session, host_id: int, along_id: int, part_id: int, now: datetime) -> None:
    """The cowl of the set, the hat to come, three Thursdays of which the first is over, and the page."""
    cowl_id = alongs.add_part(session, host_id, along_id, SECOND_PART)
    cowl = patterns.check(COWL.read_text(encoding="utf-8"))
    patterns.publish(session, host_id, cowl_id, cowl, None, now - timedelta(days=2))
    alongs.add_part(session, host_id, along_id, COMING_PART)
    # Never today, whatever the hour is: one Thursday is over, the others are to come.
    yesterday, tomorrow = now.date() - timedelta(days=1), now.date() + timedelta(days=1)
    over = yesterday - timedelta(days=(yesterday.weekday() - THURSDAY) % 7)
    coming = tomorrow + timedelta(days=(THURSDAY - tomorrow.weekday()) % 7)
    days = (over, coming, coming + WEEK)
    for day, (title, note) in zip(days, EVENINGS, strict=True):
        form = series.EveningForm(
            title, day.isoformat(), "19:30", "120", "Europe/Oslo", part=str(part_id),
            place="Brandt’s loft, and on the screen", note=note,
        )  # fmt: skip
        series.evenings.add(session, host_id, along_id, form, now - WEEK)
    series.announcing.save(session, host_id, along_id, series.PageForm(is_shown=True), None, now - WEEK)


def _first_evening(session: Session, host_id: int, along_id: int, part_id: int, mina: _Maker) -> None:
    """The room of the Thursday that is over: the cuff round by round, a question where somebody was there."""
    evening = series.evenings.of_along(session, along_id)[0]
    begun = evening.wall.moment
    room.open_room(session, host_id, evening.id, begun)
    for minutes, (section, line, turn) in SHOWN_THEN:
        room.go(
            session, host_id, evening.id, part_id, room.Spot(section, line, turn), begun + minutes * MINUTE
        )
        if line == 1 and mina.at < begun:
            asked_at = begun + (minutes + 2) * MINUTE
            room.raise_hand(session, mina.notebook_id, evening.id, ASKED, None, asked_at)
            hand = room.hands_up(session, evening.id)[1][0]
            room.answer(session, host_id, evening.id, hand.id, ANSWERED, asked_at + MINUTE, for_all=True)
    room.announce(session, host_id, evening.id, SAID, begun + 100 * MINUTE)
    room.close(session, host_id, evening.id, begun + evening.minutes * MINUTE)


class _Maker:
    """Someone at her part, doing one thing after another from the moment she joined."""

    def __init__(self, session: Session, code: str, part_id: int, nickname: str, joined_at: datetime) -> None:
        self.session = session
        self.part_id = part_id
        self.nickname = nickname
        self.at = joined_at
        joined = joining.join(session, code, nickname, joining.new_secret(), joined_at)
        self.notebook_id, self.secret = joined.notebook_id, joined.secret

    def log(self, kind: str, piece: int, takes: timedelta = ROUND_TAKES, **values: Any) -> None:
        """Logs one thing, so long after the one before."""
        self.at += takes
        entry = notebooks.NewEntry(uuid4().hex, piece, kind, values)
        notebooks.log(
            self.session, self.notebook_id, self.part_id, [entry], state=None, device="demo", now=self.at
        )

    def place(self, piece: int) -> Place:
        """Where she is in that piece."""
        return notebooks.open_desk(self.session, self.notebook_id, self.part_id).place(piece)

    def try_on(self, foundation: int, verdict: str) -> None:
        """Joins a ring of so many chains and slips it on."""
        self.log("tried", 0, foundation=foundation, verdict=verdict)

    def settle(self, foundation: int, size: str | None, hook_mm: float) -> None:
        """Settles on her numbers and picks up the hook."""
        self.log("settled", 0, timedelta(minutes=1), foundation=foundation, size=size)
        self.log("hook", 1, timedelta(minutes=1), hook_mm=hook_mm, spot=None)

    def work(self, piece: int, fits: tuple[int, ...], rounds: int | None = None) -> None:
        """Works so many rounds (None: to the end), with so many in each section to fit, in order."""
        ends = list(fits)
        while rounds is None or rounds > 0:
            place = self.place(piece)
            if place.kind not in ("round", "end fit"):
                break
            if place.can_end is not None and ends and place.in_fit == ends[0]:
                self.log(
                    "fit_ended", piece, timedelta(seconds=20), fit=place.can_end.fit, rounds=place.in_fit
                )
                ends.pop(0)
                continue
            self.log("worked", piece, spot=self.spot(piece))
            rounds = None if rounds is None else rounds - 1

    def spot(self, piece: int) -> str:
        """The round at hand."""
        at_hand = self.place(piece).round
        assert at_hand is not None
        return at_hand.spot

    def way(self, whereabouts: str) -> DemoMaker:
        """Her way in."""
        return DemoMaker(self.nickname, whereabouts, self.secret)


def _tilly(maker: _Maker) -> DemoMaker:
    maker.try_on(33, "too long")
    maker.try_on(30, "too long")
    return maker.way("trying on, between 27 chains and 30")


def _noor(maker: _Maker) -> DemoMaker:
    maker.log("hand", 0, known="measured", group="women", around_mm=203, to_thumb_mm=55, to_end_mm=130)
    maker.try_on(30, "too short")
    maker.try_on(33, "too short")
    maker.try_on(36, "fits")
    maker.settle(36, None, 4.0)
    maker.log("left", 0, timedelta(minutes=1), grams=62)
    maker.work(1, fits=(), rounds=6)
    maker.log("note", 1, spot=maker.spot(1), text="Looser from here: I crochet tight when I talk.")
    return maker.way("in glove one, the cuff, with a count of her own")


def _aurel(maker: _Maker) -> DemoMaker:
    maker.try_on(30, "fits")
    maker.settle(30, "medium", 4.0)
    maker.work(1, fits=(5, 4))
    maker.log("finished", 1, timedelta(minutes=15))
    maker.at += timedelta(days=1)
    maker.log("hook", 2, timedelta(minutes=1), hook_mm=4.0, spot=None)
    maker.work(2, fits=(), rounds=9)  # foundation, rounds 1 and 2, five to fit as in glove one, and one more
    return maker.way("in glove two, one round of cuff more than glove one has")


def _mina(maker: _Maker) -> DemoMaker:
    maker.try_on(27, "fits")
    maker.settle(27, "small", 4.5)
    maker.work(1, fits=(6, 3), rounds=8)
    maker.log("note", 1, spot=maker.spot(1), text="To here in the first evening.")
    maker.work(1, fits=(6, 3))
    maker.log("finished", 1, timedelta(minutes=15))
    maker.at += timedelta(days=1)
    maker.log("hook", 2, timedelta(minutes=1), hook_mm=4.5, spot=None)
    maker.work(2, fits=(6, 3))
    maker.log("finished", 2, timedelta(minutes=15))
    return maker.way("with a finished pair")
