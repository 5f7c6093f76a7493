"""A part's pattern: the draft as typed, publication when it is proved, versions that never change."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session, select

from server.craft.fabric import keeping, prove
from server.craft.fabric.report import as_dict
from server.craft.fabric.rounds import Outcome, Task, work_round
from server.craft.fabric.working import Setting
from server.services import patterns
from server.services.errors import NotFound, Refusal
from server.services.patterns import Elsewhere, NotProved, TypedIn, check, tidy_text
from server.storage.tables import Along, Host, Notebook, Part, PatternVersion, Project

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)
# A tube of single crochet: 20 chains, 20 sc; 24 chains, 24 sc.
TUBE = """Title: Pier Band
Sizes: small (large)
Foundation: 20 (24), multiple of 2

# Band
Foundation rnd: Ch 20 (24); join with sl st in first ch to form a ring. [20 (24) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Fasten off."""
BROKEN = TUBE.replace("[N sc]", "[N + 1 sc]")


@pytest.fixture
def marit(session: Session) -> int:
    """A host."""
    host = Host(sign_in_name="marit", shown_name="Marit", password_hash="x")
    session.add(host)
    session.flush()
    assert host.id is not None
    return host.id


@pytest.fixture
def part(session: Session, marit: int) -> int:
    """A part of hers, without a pattern."""
    along = Along(host_id=marit, title="Harbour hands", join_code="TXT4WP")
    session.add(along)
    session.flush()
    assert along.id is not None
    row = Part(along_id=along.id, position=1, title="Band")
    session.add(row)
    session.flush()
    assert row.id is not None
    return row.id


@pytest.mark.parametrize(
    "text",
    ["", "  \n\n", "Title: x\n\tRnd 1: „Masche“ – 3 sc\n", "😀 half typed [", "x" * patterns.TEXT_MOST],
)
def test_a_draft_is_kept_as_typed(session: Session, marit: int, part: int, text: str) -> None:
    patterns.save_draft(session, marit, part, text, None, NOW)
    draft = patterns.open_part(session, marit, part)
    assert draft.text == text
    assert draft.saved_at == (NOW if text else None)


def test_line_ends_are_made_one_kind(session: Session, marit: int, part: int) -> None:
    assert check("Title: x\r\n\r\n# Cuff\r").text == "Title: x\n\n# Cuff\n"


def test_a_text_that_is_too_long_is_refused_and_what_was_kept_stays(
    session: Session, marit: int, part: int
) -> None:
    patterns.save_draft(session, marit, part, TUBE, None, NOW)
    long = "x" * (patterns.TEXT_MOST + 1)
    with pytest.raises(Refusal, match="60,001 characters; 60,000 can be kept"):
        patterns.save_draft(session, marit, part, long, None, NOW)
    with pytest.raises(Refusal, match="60,001 characters"):
        check(long)
    assert patterns.open_part(session, marit, part).text == TUBE


def test_a_page_that_is_out_of_date_overwrites_nothing(session: Session, marit: int, part: int) -> None:
    opened = patterns.open_part(session, marit, part).mark
    patterns.save_draft(session, marit, part, "from the phone", opened, NOW)
    with pytest.raises(Elsewhere) as refused:
        patterns.save_draft(session, marit, part, "from the desk", opened, NOW + timedelta(minutes=1))
    assert (refused.value.text, refused.value.saved_at) == ("from the phone", NOW)
    assert patterns.open_part(session, marit, part).text == "from the phone"
    patterns.save_draft(session, marit, part, "from the phone", opened, NOW)  # the same text is no matter
    patterns.save_draft(session, marit, part, "from the desk", None, NOW)
    assert patterns.open_part(session, marit, part).text == "from the desk"


# --- a text as it is typed ----------------------------------------------------------------------------------


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The rounds that the engine works, as it works them."""
    rounds: list[str] = []

    def noted(task: Task, setting: Setting) -> Outcome:
        rounds.append(str(task.text.body))
        return work_round(task, setting)

    monkeypatch.setattr(keeping, "work_round", noted)
    return rounds


def longer(marked: str) -> str:
    """A tube that nobody else has: its title says whose it is."""
    rounds = "".join(f"Rnd {n}: Ch 1, sc in same st, sc in each st around; join.\n" for n in range(2, 9))
    return f"{TUBE.replace('Pier Band', marked).removesuffix('Fasten off.')}{rounds}"


def test_only_the_changed_round_is_worked_again(worked: list[str]) -> None:
    text, typed_in = longer("Only the changed round"), TypedIn(1, 101)
    counts = len(check(text, typed_in).proof.counts_tried)
    worked.clear()
    changed = text.replace(
        "Rnd 4: Ch 1, sc in same st, sc in each st", "Rnd 4: Ch 1, sc in same st, sc in every st"
    )
    assert len(check(changed, typed_in).proof.counts_tried) == counts
    assert len(worked) == counts
    worked.clear()
    check(changed.replace("Title: ", "Title: The "), typed_in)
    assert worked == []


def test_one_who_types_has_nothing_of_anothers(worked: list[str]) -> None:
    """Another host, and another part, begin with nothing; what they do takes nothing from the first."""
    text, typed_in = longer("Nothing of another's"), TypedIn(1, 102)
    fresh = check(text, typed_in)
    first = list(worked)
    for other in (TypedIn(2, 102), TypedIn(1, 103)):
        worked.clear()
        assert as_dict(check(text, other).proof) == as_dict(fresh.proof)
        assert worked == first
        check(BROKEN, other)
    worked.clear()
    check(text.replace("Title: ", "Title: The "), typed_in)
    assert worked == []


def test_what_was_typed_before_changes_nothing_of_the_result() -> None:
    text, typed_in = longer("Typed before"), TypedIn(1, 104)
    typed = [text[:end] for end in range(0, len(text), 23)] + [text, BROKEN, text]
    for each in typed:
        assert as_dict(check(each, typed_in).proof) == as_dict(prove(tidy_text(each))), each


def test_many_may_type_at_once() -> None:
    """Threads of several hosts and of one: each gets the proof of its own text."""
    texts = [longer(f"At once {n}").replace("24", str(24 + 2 * (n % 5))) for n in range(12)]
    with ThreadPoolExecutor(6) as pool:
        proofs = list(pool.map(lambda n: check(texts[n % 12], TypedIn(n % 3, 105)).proof, range(48)))
    for n, proof in enumerate(proofs):
        assert as_dict(proof) == as_dict(prove(texts[n % 12]))


def test_a_proved_pattern_becomes_version_one(session: Session, marit: int, part: int) -> None:
    assert patterns.publish(session, marit, part, check(TUBE), None, NOW) == 1
    version = patterns.version(session, marit, part, 1)
    assert (version.text, version.title, version.published_at) == (TUBE, "Pier Band", NOW)
    draft = patterns.open_part(session, marit, part)
    assert (draft.text, draft.is_published) == (TUBE, True)


def test_an_unproved_pattern_is_not_published_and_what_is_missing_is_said(
    session: Session, marit: int, part: int
) -> None:
    with pytest.raises(NotProved) as refused:
        patterns.publish(session, marit, part, check(BROKEN), None, NOW)
    assert len(refused.value.missing) == 1
    assert refused.value.missing[0].startswith("Line 7: ")
    assert session.exec(select(PatternVersion)).all() == []


@pytest.mark.parametrize("text", ["", " \n "])
def test_an_empty_pattern_is_not_published(session: Session, marit: int, part: int, text: str) -> None:
    with pytest.raises(NotProved) as refused:
        patterns.publish(session, marit, part, check(text), None, NOW)
    assert refused.value.missing == (patterns.EMPTY,)


def test_a_mended_pattern_is_the_next_version_and_the_first_stays(
    session: Session, marit: int, part: int
) -> None:
    patterns.publish(session, marit, part, check(TUBE), None, NOW)
    mended = TUBE.replace("Fasten off.", "Fasten off. Weave in the ends.")
    assert patterns.publish(session, marit, part, check(mended), None, NOW) == 2
    assert patterns.version(session, marit, part, 1).text == TUBE
    assert [line.number for line in patterns.open_part(session, marit, part).versions] == [2, 1]


def test_the_same_text_is_not_published_twice(session: Session, marit: int, part: int) -> None:
    patterns.publish(session, marit, part, check(TUBE), None, NOW)
    with pytest.raises(Refusal, match="Version 1 is this same text"):
        patterns.publish(session, marit, part, check(TUBE), None, NOW)


def test_publishing_from_a_page_that_is_out_of_date_is_refused(
    session: Session, marit: int, part: int
) -> None:
    opened = patterns.open_part(session, marit, part).mark
    patterns.save_draft(session, marit, part, "from the phone", opened, NOW)
    with pytest.raises(Elsewhere):
        patterns.publish(session, marit, part, check(TUBE), opened, NOW)
    assert session.exec(select(PatternVersion)).all() == []


def test_makers_who_started_stay_on_their_version(session: Session, marit: int, part: int) -> None:
    patterns.publish(session, marit, part, check(TUBE), None, NOW)
    first = session.exec(select(PatternVersion)).one()
    along = session.exec(select(Along)).one()
    assert along.id is not None
    assert first.id is not None
    notebook = Notebook(along_id=along.id, secret_hash="s", nickname="Oda")
    session.add(notebook)
    session.flush()
    assert notebook.id is not None
    project = Project(notebook_id=notebook.id, part_id=part, pattern_version_id=first.id)
    session.add(project)
    session.flush()
    patterns.publish(session, marit, part, check(TUBE.replace("Pier", "Quay")), None, NOW)
    session.refresh(project)
    assert project.pattern_version_id == first.id
    makers = {line.number: line.makers for line in patterns.open_part(session, marit, part).versions}
    assert makers == {1: 1, 2: 0}


def test_another_hosts_part_reads_as_if_there_were_none(session: Session, marit: int, part: int) -> None:
    other = marit + 1
    patterns.publish(session, marit, part, check(TUBE), None, NOW)
    for asked in (
        lambda: patterns.open_part(session, other, part),
        lambda: patterns.save_draft(session, other, part, "mine", None, NOW),
        lambda: patterns.publish(session, other, part, check(TUBE), None, NOW),
        lambda: patterns.publish(session, other, part, check(BROKEN), None, NOW),
        lambda: patterns.version(session, other, part, 1),
        lambda: patterns.version(session, marit, part, 2),
        lambda: patterns.open_part(session, marit, part + 1),
    ):
        with pytest.raises(NotFound):
            asked()
