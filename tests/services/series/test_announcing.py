"""The page of an along for everyone: there when its host shows it, at an address that cannot be guessed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from sqlmodel import Session

from server.services import demo, patterns
from server.services.errors import NotFound, Refusal
from server.services.series import EveningForm, PageForm, announcing, evenings
from server.services.series.announcing import slug
from tests.services.series.conftest import NOW, Begun, a_host

SHOWN = PageForm(is_shown=True)


def address(session: Session, begun: Begun, form: PageForm = SHOWN) -> str:
    announcing.save(session, begun.host_id, begun.along_id, form, None, NOW)
    return announcing.settings(session, begun.host_id, begun.along_id).address


def test_it_begins_with_calm_words_and_is_not_shown(session: Session, begun: Begun) -> None:
    kept = announcing.settings(session, begun.host_id, begun.along_id)
    assert kept.address == ""
    assert kept.form == PageForm()
    assert not kept.form.is_shown
    for word in ("Rest your hands", "scissors", "loose end", "cords"):
        assert word in kept.form.cautions


def test_the_address_has_a_key_that_alone_counts(session: Session, begun: Begun) -> None:
    own = address(session, begun)
    words, _, key = own.rpartition("-")
    assert words == "harbour-evenings"
    assert len(key) == 16
    assert announcing.announced(session, f"other-words-{key}").address == own
    assert announcing.announced(session, key).address == own
    for wrong in ("harbour-evenings", f"{own}x", own[:-1], "", "-"):
        with pytest.raises(NotFound):
            announcing.announced(session, wrong)


def test_it_is_not_there_when_it_is_not_shown(session: Session, begun: Begun) -> None:
    own = address(session, begun, PageForm(is_shown=False))
    with pytest.raises(NotFound):
        announcing.announced(session, own)
    with pytest.raises(NotFound):
        announcing.followed(session, own)
    assert address(session, begun) == own  # shown again, it is where it was


def test_a_new_address_ends_the_old(session: Session, begun: Begun) -> None:
    old = address(session, begun)
    announcing.new_address(session, begun.host_id, begun.along_id)
    new = announcing.settings(session, begun.host_id, begun.along_id).address
    assert announcing.announced(session, new).title == "Harbour evenings"
    with pytest.raises(NotFound):
        announcing.announced(session, old)


def test_it_has_parts_evenings_and_what_is_to_come(session: Session, begun: Begun) -> None:
    checked = patterns.check(demo.PATTERN.read_text(encoding="utf-8"))
    patterns.publish(session, begun.host_id, begun.cuff, checked, None, NOW)
    form = EveningForm("The cuff", "2026-12-03", "19:30", "120", "Europe/Oslo")
    evenings.add(session, begun.host_id, begun.along_id, form, NOW)
    along = announcing.announced(session, address(session, begun))
    assert along.hosts == ("Marit",)
    assert [part.title for part in along.parts] == ["Mitts"]
    assert ("Hook", "4 mm") in along.parts[0].facts
    assert along.waiting == ("Hat",)
    assert along.for_all is None
    assert [one.title for one in along.evenings] == ["The cuff"]
    assert len(along.join_code) == 6


def test_what_the_host_leaves_off_is_not_told(session: Session, begun: Begun) -> None:
    own = address(session, begun, replace(SHOWN, lets_join=False, names_waiting=False))
    along = announcing.announced(session, own)
    assert (along.join_code, along.waiting) == ("", ())


def test_words_have_a_length_and_are_kept_in_lines(session: Session, begun: Begun) -> None:
    with pytest.raises(Refusal, match="2001 characters") as refused:
        announcing.save(session, begun.host_id, begun.along_id, replace(SHOWN, skill="x" * 2001), None, NOW)
    assert refused.value.field == "skill"
    own = address(session, begun, replace(SHOWN, cautions="One\r\nTwo "))
    assert announcing.announced(session, own).cautions == "One\nTwo"


def test_a_form_that_was_overtaken_says_by_whom(session: Session, begun: Begun) -> None:
    address(session, begun)
    mark = announcing.settings(session, begun.host_id, begun.along_id).mark
    later = NOW + timedelta(minutes=1)
    announcing.save(session, begun.host_id, begun.along_id, replace(SHOWN, skill="Chains"), mark, later)
    with pytest.raises(Refusal, match="Marit changed this page"):
        announcing.save(session, begun.host_id, begun.along_id, replace(SHOWN, skill="None"), mark, later)
    # the same words once more, as a double press sends them, are no quarrel
    announcing.save(session, begun.host_id, begun.along_id, replace(SHOWN, skill="Chains"), mark, later)


def test_others_cannot_see_or_change_it(session: Session, begun: Begun) -> None:
    oda = a_host(session, "oda")
    with pytest.raises(NotFound):
        announcing.settings(session, oda, begun.along_id)
    with pytest.raises(NotFound):
        announcing.save(session, oda, begun.along_id, SHOWN, None, NOW)


@pytest.mark.parametrize(
    ("title", "words"),
    [
        ("Grüße & Küsse", "grusse-kusse"),
        ("手袋", "along"),
        ("Łódź på Færøyene", "lodz-pa-faeroyene"),
        ("x" * 60, "x" * 40),
        ("  Hat, then cowl ", "hat-then-cowl"),
    ],
)
def test_titles_in_addresses(title: str, words: str) -> None:
    assert slug(title) == words
