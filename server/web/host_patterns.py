"""The pattern page: the text left, what the engine understood right; publish, and the published versions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Path, Query
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import patterns
from server.services.accounts import SignedIn
from server.services.errors import NotFound, Refusal
from server.services.patterns import Checked, Draft, Elsewhere, NotProved, TypedIn, Version
from server.web.host_header import with_line
from server.web.moments import Moment, moment, now
from server.web.pages import TEMPLATES, render, wants_fragment
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute
from server.web.understanding import Understanding, mended, noted, understand

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
Text = Annotated[str, Form()]
RowId = Annotated[int, Path(ge=1, le=2**63 - 1)]
EXAMPLE = (TEMPLATES / "host" / "example_pattern.txt").read_text(encoding="utf-8")


@dataclass(frozen=True)
class VersionRow:
    """A published version in the list."""

    number: int
    title: str
    published: Moment
    makers: int


@dataclass(frozen=True)
class Trouble:
    """What is said above the findings when something was not done; kept_text: the draft kept elsewhere, to
    compare."""

    title: str
    lines: tuple[str, ...] = ()
    kept_text: str | None = None


@dataclass(frozen=True)
class PatternPage:
    """Context of host/pattern.html and of its fragment host/_understood.html.

    mark        of the text that is kept, for the next save
    saved       when the draft was saved, None before the first time
    is_kept     whether the text in the field is the one that is kept
    can_differ  whether the text differs from the latest version, so that there is something to publish
    understood  None where the text is too long to be read
    yarn_short  warnings, where a proved pattern asks for less yarn than its stitches take
    published   number of the version that was published just now, 0 for none
    """

    host_name: str
    part_id: int
    part_title: str
    along_id: int
    along_title: str
    text: str
    mark: str
    saved: Moment | None
    is_kept: bool
    can_differ: bool
    versions: tuple[VersionRow, ...]
    understood: Understanding | None
    trouble: Trouble | None
    yarn_short: tuple[str, ...]
    published: int = 0


@dataclass(frozen=True)
class VersionPage:
    """Context of host/version.html."""

    host_name: str
    version: Version
    published: Moment
    understood: Understanding


@dataclass(frozen=True)
class Sent:
    """The form of the pattern page as it came, with its text read and proved; checked is None where it is too
    long."""

    text: str
    mark: str | None
    checked: Checked | None
    refusal: Refusal | None
    change_is_gone: bool = False


@dataclass(frozen=True)
class Change:
    """A button that was pressed beside the text: to mend, to make a line a note, to put in a header line."""

    mend: str
    note: str
    line: str

    def made_in(self, checked: Checked) -> str | None:
        """The text with the change; None where what it was offered for is not there any more."""
        if self.mend:
            return mended(checked, self.mend)
        return noted(checked, self.note) if self.note else with_line(checked.text, self.line)


def change(mend: Text = "", note: Text = "", line: Text = "") -> Change | None:
    """The change that was asked for; None where another button was pressed."""
    return Change(mend, note, line) if mend or note or line else None


def sent(
    part_id: RowId,
    host: CurrentHost,
    change: Annotated[Change | None, Depends(change)],
    text: Text = "",
    mark: Text = "",
    example: Text = "",
    keep: Text = "",
) -> Sent:
    """Read and prove what was sent. A dependency of its own, before the writing session: proving takes
    processor time, and nobody should wait for the database meanwhile. `host` is named so that nobody else can
    have texts proved."""
    typed_in = TypedIn(host.host_id, part_id)
    text = patterns.tidy_text(text)
    if example and not text.strip():
        text = EXAMPLE
    known = None if keep else mark
    try:
        checked = patterns.check(text, typed_in)
    except Refusal as refusal:
        return Sent(text, known, None, refusal)
    if change is not None:
        better = change.made_in(checked)
        if better is None:
            return Sent(text, known, checked, None, change_is_gone=True)
        try:
            checked = patterns.check(better, typed_in)
        except Refusal as refusal:  # the longest text has no room for it
            return Sent(text, known, checked, refusal)
    _yarn_short(checked, typed_in)  # here, where nobody waits for the database meanwhile
    return Sent(checked.text, known, checked, None)


SentForm = Annotated[Sent, Depends(sent)]


@router.get("/{part_id}")
def pattern(
    request: Request,
    part_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    published: Annotated[int, Query(ge=0, le=1_000_000)] = 0,
) -> Response:
    """The pattern of a part: its draft, what is understood of it, its versions."""
    draft = patterns.open_part(session, host.host_id, part_id)
    checked = patterns.check(draft.text, TypedIn(host.host_id, part_id))
    page = page_of(host, draft, draft.text, checked)
    just_now = published if draft.is_published and draft.versions[0].number == published else 0
    return render(request, "host/pattern.html", replace(page, published=just_now))


def page_of(
    host: SignedIn,
    draft: Draft,
    text: str,
    checked: Checked | None,
    trouble: Trouble | None = None,
    mark: str | None = None,
) -> PatternPage:
    """The page with `text` in its field. mark: where another text is kept, of the one that the page was
    opened with."""
    here = now()
    return PatternPage(
        host_name=host.shown_name,
        part_id=draft.part_id,
        part_title=draft.part_title,
        along_id=draft.along_id,
        along_title=draft.along_title,
        text=text,
        mark=draft.mark if mark is None else mark,
        saved=moment(draft.saved_at, here) if draft.saved_at else None,
        is_kept=text == draft.text,
        can_differ=not (draft.is_published and text == draft.text),
        versions=tuple(
            VersionRow(v.number, v.title, moment(v.published_at, here), v.makers) for v in draft.versions
        ),
        understood=understand(checked) if checked else None,
        trouble=trouble,
        yarn_short=_yarn_short(checked, TypedIn(host.host_id, draft.part_id)),
    )


def _yarn_short(checked: Checked | None, typed_in: TypedIn) -> tuple[str, ...]:
    """What a host should look at in the yarn that a proved text asks for. Summed once for each text."""
    if checked is None:
        return ()
    return tuple(check.says for check in patterns.stated_yarn(checked, typed_in) if check.warns)


@router.get("/{part_id}/check")
@router.get("/{part_id}/publish")
def back_to_pattern(part_id: RowId) -> Response:
    """Where a page that answered a form is loaded anew."""
    return RedirectResponse(f"/host/parts/{part_id}", status_code=303)


@router.post("/{part_id}/check")
def check(
    request: Request, part_id: RowId, host: CurrentHost, form: SentForm, session: WriteSession
) -> Response:
    """Keep the text as typed and show what is understood of it: the page, and for htmx the part beside the
    text."""
    trouble = _keep_draft(session, host, part_id, form)
    if form.change_is_gone and trouble is None:
        trouble = Trouble("The text has changed there. Look at the findings once more.")
    return _answer(request, session, host, part_id, form, trouble)


def _keep_draft(session: WriteSession, host: SignedIn, part_id: int, form: Sent) -> Trouble | None:
    try:
        if form.refusal:
            raise form.refusal
        patterns.save_draft(session, host.host_id, part_id, form.text, form.mark, now())
    except NotFound:
        raise
    except Elsewhere as elsewhere:
        return Trouble(elsewhere.message, kept_text=elsewhere.text)
    except Refusal as refusal:
        return Trouble("Not saved", (refusal.message,))
    return None


def _answer(
    request: Request, session: WriteSession, host: SignedIn, part_id: int, form: Sent, trouble: Trouble | None
) -> Response:
    """The form's answer: for htmx the part beside the text, else the whole page with the text as it was
    sent."""
    draft = patterns.open_part(session, host.host_id, part_id)
    kept_elsewhere = trouble is not None and trouble.kept_text is not None
    page = page_of(host, draft, form.text, form.checked, trouble, form.mark if kept_elsewhere else None)
    if wants_fragment(request):
        return render(request, "host/_understood.html", page)
    return render(request, "host/pattern.html", page, 422 if trouble else 200)


@router.post("/{part_id}/publish")
def publish(
    request: Request, part_id: RowId, host: CurrentHost, form: SentForm, session: WriteSession
) -> Response:
    """Freeze a proved text as the next version; where it is not proved, say in place what is missing."""
    try:
        if form.checked is None:
            raise form.refusal or Refusal("There is no text to publish.")
        number = patterns.publish(session, host.host_id, part_id, form.checked, form.mark, now())
    except NotFound:
        raise
    except NotProved as unproved:
        trouble = Trouble("Not published yet. This is missing:", unproved.missing)
    except Elsewhere as elsewhere:
        trouble = Trouble(elsewhere.message, kept_text=elsewhere.text)
    except Refusal as refusal:
        trouble = Trouble("Not published", (refusal.message,))
    else:
        return _go_to(request, f"/host/parts/{part_id}?published={number}#understood")
    # What could not be published is kept as the draft, where it can be.
    return _answer(
        request, session, host, part_id, form, _keep_draft(session, host, part_id, form) or trouble
    )


def _go_to(request: Request, address: str) -> Response:
    """On to another page: for htmx, which would follow a redirect silently, by its own header."""
    if wants_fragment(request):
        return Response(status_code=204, headers={"HX-Redirect": address})
    return RedirectResponse(address, status_code=303)


@router.get("/{part_id}/versions/{number}")
def version(
    request: Request, part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession
) -> Response:
    """A published version, as it will always be."""
    found = patterns.version(session, host.host_id, part_id, number)
    understood = understand(patterns.check(found.text))
    page = VersionPage(host.shown_name, found, moment(found.published_at, now()), understood)
    return render(request, "host/version.html", page)
