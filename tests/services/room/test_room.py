"""The room of an evening: one place for everybody, hands, what was said, and who is where."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session, select

from server.broadcast import Happening
from server.services import alongs, demo, joining, notebooks, patterns, room
from server.services.errors import NotFound, Refusal
from server.services.room import At, Spot
from server.services.series import EveningForm, evenings
from server.storage.erasure import erase_rows
from server.storage.tables import Host, RoomEvent

NOW = datetime(2026, 12, 3, 18, 30, tzinfo=UTC)
MITTS = demo.PATTERN.read_text(encoding="utf-8")
CUFF_2, CUFF_4 = Spot(0, 2, 1), Spot(0, 3, 2)


@dataclass
class Evening:
    """An evening of mitts: its host, another one, a part, and two makers, of 27 and of 36 chains."""

    session: Session
    host: int
    stranger: int
    along: int
    part: int
    id: int
    ida: int
    una: int
    at: datetime = NOW

    def later(self, seconds: int = 60) -> datetime:
        self.at += timedelta(seconds=seconds)
        return self.at

    def open(self) -> None:
        room.open_room(self.session, self.host, self.id, self.later())

    def go(self, spot: Spot) -> Happening | None:
        return room.go(self.session, self.host, self.id, self.part, spot, self.later())

    @property
    def place(self) -> At:
        place = room.state(self.session, self.id).at
        assert place is not None
        return place

    def hand(self, maker: int, words: str = "Which loop?", own: Spot | None = None) -> int:
        room.raise_hand(self.session, maker, self.id, words, own, self.later())
        hand = room.visited(self.session, maker, self.id).hand
        assert hand is not None
        return hand.id


@pytest.fixture
def evening(session: Session) -> Evening:
    hosts = []
    for name in ("marit", "oda"):
        host = Host(sign_in_name=name, shown_name=name.title(), password_hash="-")
        session.add(host)
        session.flush()
        hosts.append(host.id or 0)
    along = alongs.make(session, hosts[0], "Harbour hands", "", NOW)
    part = alongs.add_part(session, hosts[0], along, "Mitts")
    patterns.publish(session, hosts[0], part, patterns.check(MITTS), None, NOW)
    form = EveningForm("The cuff", "2026-12-03", "19:30", "120", "Europe/Oslo", part=str(part))
    evening = evenings.add(session, hosts[0], along, form, NOW)
    code = alongs.one(session, hosts[0], along).join_code
    makers = []
    for nickname, foundation, size in (("Ida", 27, "small"), ("Una", 36, None)):
        joined = joining.join(session, code, nickname, joining.new_secret(), NOW)
        makers.append(joined.notebook_id)
        entry = notebooks.NewEntry(
            f"{nickname}-settled", 0, "settled", {"foundation": foundation, "size": size}
        )
        notebooks.log(session, joined.notebook_id, part, [entry], state=None, device="a", now=NOW)
    return Evening(session, hosts[0], hosts[1], along, part, evening, makers[0], makers[1])


def work(evening: Evening, maker: int, *spots: str) -> None:
    """She logs these rounds of glove one."""
    for spot in spots:
        entry = notebooks.NewEntry(f"entry-{maker}-of-{spot}".replace(".", "-"), 1, "worked", {"spot": spot})
        notebooks.log(
            evening.session, maker, evening.part, [entry], state=None, device="a", now=evening.later(1)
        )


def data(frame: bytes) -> dict[str, object]:
    """What an event says."""
    (line,) = [line for line in frame.decode().splitlines() if line.startswith("data: ")]
    values: dict[str, object] = json.loads(line.removeprefix("data: "))
    return values


# --- the way -----------------------------------------------------------------------------------------------


def test_numbers_of_all_sizes_stand_in_one_step() -> None:
    stop = room.course(MITTS).stops[2]
    assert (stop.section, stop.label, stop.count, stop.custom) == (
        "Cuff",
        "Rnd 2",
        "9 (10, 11) V-sts",
        "N/3 V-sts",
    )
    assert stop.steps[2] == "8 (9, 10) times: sk 2 sts, V-st in next st"


def test_the_way_has_every_round_that_some_size_has() -> None:
    way = room.course(MITTS)
    # By hand: cuff 1 + 1 + 1 + 6 (large has 3 to 8), gap 1, hand 1 + 4, edgings 1 + 1, thumb 1 + 2.
    assert len(way.stops) == 20
    last_of_cuff = way.stops[8]
    assert (last_of_cuff.label, last_of_cuff.missing, last_of_cuff.is_fit) == (
        "Rnd 8",
        ("small", "medium"),
        True,
    )
    assert last_of_cuff.count == "9 (10, 11) V-sts"


def test_on_and_back_meet_at_every_step() -> None:
    way = room.course(MITTS)
    seen = [way.stops[0].spot]
    while (on := way.after(seen[-1])) is not None:
        seen.append(on)
    assert len(seen) == sum(1 + len(stop.steps) for stop in way.stops)
    back = [seen[-1]]
    while (before := way.before(back[-1])) is not None:
        back.append(before)
    assert back == seen[::-1]


# --- the host ----------------------------------------------------------------------------------------------


def test_it_opens_at_the_beginning_of_the_evenings_part(evening: Evening) -> None:
    assert not room.state(evening.session, evening.id).is_open
    told = room.open_room(evening.session, evening.host, evening.id, NOW)
    assert told is not None
    assert data(told.whole)["at"] == [evening.part, evening.place.version_id, 0, 0, 1, None]
    assert room.open_room(evening.session, evening.host, evening.id, NOW) is None
    assert room.open_in(evening.session, evening.along) == {evening.id}


def test_a_step_is_told_in_a_few_bytes_alike_for_all(evening: Evening) -> None:
    evening.open()
    told = evening.go(CUFF_4)
    assert told is not None
    assert len(told.change) < 80
    version = evening.place.version_id
    assert told.change == (
        f'id: {told.number}\nevent: step\ndata: {{"at":[{evening.part},{version},0,3,2,null]}}\n\n'.encode()
    )
    assert told == replace(room.present(evening.session, evening.id), after=told.after, change=told.change)


def test_on_by_step_and_by_round_and_not_beyond_the_ends(evening: Evening) -> None:
    evening.open()

    def moved(how: str) -> Spot:
        room.move(evening.session, evening.host, evening.id, how, evening.later())
        return evening.place.spot

    assert moved("back") == Spot(0, 0, 1)
    assert moved("on") == Spot(0, 0, 1, 0)
    assert moved("on") == Spot(0, 0, 1, 1)
    assert moved("on") == Spot(0, 1, 1)
    assert moved("back") == Spot(0, 0, 1, 1)
    assert moved("round back") == Spot(0, 0, 1)
    assert moved("round on") == Spot(0, 1, 1)
    evening.go(Spot(5, 1, 2))
    assert moved("round on") == Spot(5, 1, 2)
    assert moved("sideways") == Spot(5, 1, 2)


def test_two_who_press_at_once_move_one_step(evening: Evening) -> None:
    evening.open()
    before = evening.place
    for _ in range(2):
        room.move(evening.session, evening.host, evening.id, "on", evening.later(), before)
    assert evening.place.spot == Spot(0, 0, 1, 0)


@pytest.mark.parametrize("spot", [Spot(9, 0, 1), Spot(0, 3, 7), Spot(0, 0, 1, 2), Spot(0, 0, 1, -1)])
def test_a_round_that_is_not_there_is_refused(evening: Evening, spot: Spot) -> None:
    evening.open()
    with pytest.raises(Refusal, match="not in this pattern"):
        evening.go(spot)


def test_a_closed_room_takes_nothing(evening: Evening) -> None:
    with pytest.raises(Refusal, match="closed"):
        evening.go(CUFF_2)
    with pytest.raises(Refusal, match="closed"):
        evening.hand(evening.ida)
    evening.open()
    assert room.close(evening.session, evening.host, evening.id, evening.later()) is not None
    assert room.close(evening.session, evening.host, evening.id, evening.later()) is None
    with pytest.raises(Refusal, match="closed"):
        room.announce(evening.session, evening.host, evening.id, "Tea.", evening.later())


def test_another_host_finds_no_room_of_hers(evening: Evening) -> None:
    with pytest.raises(NotFound):
        room.open_room(evening.session, evening.stranger, evening.id, NOW)
    evening.open()
    with pytest.raises(NotFound):
        room.move(evening.session, evening.stranger, evening.id, "on", NOW)


def test_what_is_said_stands_until_it_is_taken_off_or_the_room_opens_anew(evening: Evening) -> None:
    evening.open()
    room.announce(evening.session, evening.host, evening.id, " Both   loops. ", evening.later())
    said = room.state(evening.session, evening.id).said
    assert said is not None
    assert (said.words, said.by) == ("Both loops.", "Marit")
    room.announce(evening.session, evening.host, evening.id, "", evening.later())
    assert room.state(evening.session, evening.id).said is None
    with pytest.raises(Refusal, match="Write what everybody"):
        room.announce(evening.session, evening.host, evening.id, "", evening.later())
    room.announce(evening.session, evening.host, evening.id, "Tea.", evening.later())
    room.close(evening.session, evening.host, evening.id, evening.later())
    evening.open()
    assert room.state(evening.session, evening.id).said is None


def test_a_timer_ends_so_many_minutes_after_it_was_set(evening: Evening) -> None:
    evening.open()
    at = evening.later()
    room.set_timer(evening.session, evening.host, evening.id, "5", "for this round", at)
    timer = room.state(evening.session, evening.id).timer
    assert timer is not None
    assert (timer.ends, timer.words) == (at + timedelta(minutes=5), "for this round")
    room.set_timer(evening.session, evening.host, evening.id, "0", "", evening.later())
    assert room.state(evening.session, evening.id).timer is None
    for typed in ("", "61", "-1", "two", "1.5", "9" * 9):
        with pytest.raises(Refusal, match="whole minutes"):
            room.set_timer(evening.session, evening.host, evening.id, typed, "", evening.later())


# --- hands -------------------------------------------------------------------------------------------------


def test_a_hand_says_who_and_at_which_round(evening: Evening) -> None:
    evening.open()
    evening.go(CUFF_4)
    evening.hand(evening.ida, "Which loop?", CUFF_2)
    evening.hand(evening.una, "")
    many, hands = room.hands_up(evening.session, evening.id)
    assert many == 2
    assert [(hand.nickname, hand.words, hand.spot) for hand in hands] == [
        ("Ida", "Which loop?", CUFF_2), ("Una", "", CUFF_4),
    ]  # fmt: skip


def test_a_new_hand_takes_the_old_one_down_and_one_can_be_lowered(evening: Evening) -> None:
    evening.open()
    evening.hand(evening.ida, "First")
    evening.hand(evening.ida, "Second")
    assert [hand.words for hand in room.hands_up(evening.session, evening.id)[1]] == ["Second"]
    assert room.lower_hand(evening.session, evening.ida, evening.id, evening.later()) is not None
    assert room.lower_hand(evening.session, evening.ida, evening.id, evening.later()) is None
    assert room.hands_up(evening.session, evening.id) == (0, ())


def test_an_answer_for_all_is_read_by_all_and_one_for_her_by_her_alone(evening: Evening) -> None:
    evening.open()
    first, second = evening.hand(evening.ida), evening.hand(evening.una, "Is mine too wide?")

    def answer(hand: int, words: str, for_all: bool) -> dict[str, object]:
        told = room.answer(
            evening.session, evening.host, evening.id, hand, words, evening.later(), for_all=for_all
        )
        return data(told.change)

    assert answer(first, "Both.", True)["words"] == "Both."
    told = answer(second, "A little.", False)
    assert told["hand"] == second
    assert "words" not in told
    assert room.hands_up(evening.session, evening.id) == (0, ())

    def answers(maker: int) -> list[tuple[str, str, bool]]:
        things = room.passed(evening.session, evening.id, 0, maker)
        return [(each.question, each.words, each.mine) for each in things if each.kind == "answer"]

    assert answers(evening.ida) == [("Which loop?", "Both.", False)]
    assert answers(evening.una) == [("Which loop?", "Both.", False), ("Is mine too wide?", "A little.", True)]


def test_an_answer_goes_to_a_hand_that_is_up_in_this_room(evening: Evening) -> None:
    evening.open()
    hand = evening.hand(evening.ida)
    for wrong in (hand + 1, 1, 10**12):
        with pytest.raises(Refusal, match="down already"):
            room.answer(evening.session, evening.host, evening.id, wrong, "x", evening.later(), for_all=False)
    with pytest.raises(Refusal, match="all should read"):
        room.answer(evening.session, evening.host, evening.id, hand, " ", evening.later(), for_all=True)
    room.answer(evening.session, evening.host, evening.id, hand, "", evening.later(), for_all=False)
    with pytest.raises(Refusal, match="down already"):
        room.answer(evening.session, evening.host, evening.id, hand, "again", evening.later(), for_all=True)


def test_hidden_words_are_for_hosts_alone(evening: Evening) -> None:
    evening.open()
    hand = evening.hand(evening.ida, "Something unkind")
    room.hide(evening.session, evening.host, evening.id, hand, evening.later(), hidden=True)
    told = room.answer(evening.session, evening.host, evening.id, hand, "No.", evening.later(), for_all=True)
    assert "unkind" not in told.change.decode()
    assert all("unkind" not in each.question for each in room.passed(evening.session, evening.id, 0))
    room.hide(evening.session, evening.host, evening.id, hand, evening.later(), hidden=False)
    assert any("unkind" in each.question for each in room.passed(evening.session, evening.id, 0))


def test_lengths_and_rates_are_said_in_words(evening: Evening) -> None:
    evening.open()
    with pytest.raises(Refusal, match="That is 141 characters; 140"):
        evening.hand(evening.ida, "x" * 141)
    with pytest.raises(Refusal, match="That is 281 characters; 280"):
        room.announce(evening.session, evening.host, evening.id, "x" * 281, NOW)
    for _ in range(6):
        evening.hand(evening.ida)
    with pytest.raises(Refusal, match=r"6 times just now. Wait 4 minutes"):
        evening.hand(evening.ida)
    evening.hand(evening.una)
    evening.later(600)
    evening.hand(evening.ida)


def test_a_maker_of_another_along_is_not_let_in(evening: Evening) -> None:
    other = alongs.make(evening.session, evening.stranger, "Elsewhere", "", NOW)
    code = alongs.one(evening.session, evening.stranger, other).join_code
    guest = joining.join(evening.session, code, "Guest", joining.new_secret(), NOW).notebook_id
    evening.open()
    with pytest.raises(NotFound):
        room.visited(evening.session, guest, evening.id)
    with pytest.raises(NotFound):
        room.raise_hand(evening.session, guest, evening.id, "Hello", None, NOW)


# --- who is where ------------------------------------------------------------------------------------------


def heads(evening: Evening, *here: int) -> room.Heads:
    return room.heads(evening.session, evening.id, evening.place, MITTS, "US", here)


def test_who_is_with_her_ahead_and_behind(evening: Evening) -> None:
    evening.open()
    evening.go(CUFF_2)
    work(evening, evening.ida, "0.0.1", "0.1.1")  # the next of hers is round 2
    work(evening, evening.una, "0.0.1")
    now = heads(evening, evening.ida, evening.una)
    assert (now.here, now.with_her, now.ahead, now.behind, now.done) == (2, 1, 0, 1, 0)
    work(evening, evening.ida, "0.2.1")
    now = heads(evening, evening.ida, evening.una)
    assert (now.with_her, now.ahead, now.behind) == (0, 1, 1)
    assert heads(evening, evening.ida).here == 1


def test_a_quiet_done_counts_where_she_logs_nothing(evening: Evening) -> None:
    evening.open()
    evening.go(CUFF_2)
    room.say_done(evening.session, evening.una, evening.id, evening.later(), done=True)
    now = heads(evening, evening.ida, evening.una)
    assert (now.with_her, now.behind, now.done) == (1, 1, 1)
    assert room.visited(evening.session, evening.una, evening.id).done
    assert room.say_done(evening.session, evening.una, evening.id, evening.later(), done=True) is None
    room.say_done(evening.session, evening.una, evening.id, evening.later(), done=False)
    assert heads(evening, evening.una).done == 0
    room.say_done(evening.session, evening.una, evening.id, evening.later(), done=True)
    evening.go(CUFF_4)
    assert not room.visited(evening.session, evening.una, evening.id).done
    assert (heads(evening, evening.una).behind, heads(evening, evening.una).done) == (1, 0)


def test_custom_counts_are_read_out_in_their_numbers(evening: Evening) -> None:
    evening.open()
    evening.go(replace(CUFF_2, step=2))
    (own,) = heads(evening, evening.ida, evening.una).own
    # By hand: 36 chains are 12 V-stitches; the first is the beginning chain and a dc, so 11 times the rest.
    assert (own.foundation, own.makers, own.count) == (36, 1, "12 V-sts")
    assert own.step == "11 times: sk 2 sts, V-st in next st"
    assert heads(evening, evening.ida).own == ()


# --- what there was ----------------------------------------------------------------------------------------


def test_one_look_shows_what_was_done_since(evening: Evening) -> None:
    evening.open()
    seen = room.state(evening.session, evening.id).number
    for how in ("on", "on", "on", "on", "round on"):
        room.move(evening.session, evening.host, evening.id, how, evening.later())
    room.announce(evening.session, evening.host, evening.id, "Tea.", evening.later())
    since = room.passed(evening.session, evening.id, seen, evening.ida)
    assert [(each.kind, each.place.spot.address if each.place else "") for each in since] == [
        ("step", "0.0.1"), ("step", "0.1.1"), ("step", "0.2.1"), ("announce", "0.2.1"),
    ]  # fmt: skip
    assert room.passed(evening.session, evening.id, since[-1].id, evening.ida) == ()


def test_a_newer_version_is_shown_when_the_host_says_so(evening: Evening) -> None:
    evening.open()
    evening.go(CUFF_2)
    before = evening.place.version_id
    mended = patterns.check(MITTS.replace("Title: Ferry Mitts", "Title: Ferry Mitts, mended"))
    patterns.publish(evening.session, evening.host, evening.part, mended, None, NOW)
    evening.go(CUFF_4)
    assert evening.place.version_id == before
    room.show_newest(evening.session, evening.host, evening.id, evening.later())
    assert evening.place.version_id > before
    assert evening.place.spot == CUFF_4


def test_erasing_a_notebook_leaves_the_answer_to_all_and_no_word_of_hers(evening: Evening) -> None:
    evening.open()
    hand = evening.hand(evening.ida, "Which loop?")
    room.answer(evening.session, evening.host, evening.id, hand, "Both.", evening.later(), for_all=True)
    erase_rows(evening.session, evening.ida)
    words = [each.words for each in evening.session.exec(select(RoomEvent)).all() if each.words]
    assert words == ["Both."]
    assert [each.question for each in room.passed(evening.session, evening.id, 0) if each.words] == [""]


def test_the_key_of_a_room_stays_and_marks_are_of_one_maker(evening: Evening) -> None:
    assert room.key_of(evening.session, evening.id) == ""
    key = room.make_key(evening.session, evening.id)
    assert room.make_key(evening.session, evening.id) == room.key_of(evening.session, evening.id) == key
    assert room.mark(key, "1") != room.mark(key, "2")
    assert not room.same("", "")
