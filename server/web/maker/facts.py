"""What every maker page carries: whose notebook it is, and what its forms need to be sent safely."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Path
from starlette.requests import Request

from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, Overtaken, noun
from server.web.serving import for_this_serving

LARGEST_ID = 2**63 - 1  # a larger number is no row's id, and SQLite takes none
PartId = Annotated[int, Path(ge=1, le=LARGEST_ID)]


def part_of(request: Request) -> int:
    """The part in the address of a plain route; NotFound where the number is no row's id."""
    part_id: int = request.path_params["part_id"]
    if part_id > LARGEST_ID:
        raise NotFound("No part has such a number.")
    return part_id


def fresh_id() -> str:
    """An id for the entry that a form will make: sending the form twice then logs it once."""
    return for_this_serving(secrets.token_urlsafe(15))


@dataclass(frozen=True)
class FormFacts:
    """Hidden facts of a page's forms.

    notebook, part   where the entry belongs
    state            how many entries the log had when the page was made
    """

    notebook: int
    part: int
    state: int

    @property
    def action(self) -> str:
        """Where entries are sent."""
        return f"/notebook/{self.part}/entries"

    @property
    def id(self) -> str:
        """A fresh entry id; each form takes its own."""
        return fresh_id()


@dataclass(frozen=True)
class Said:
    """What came of a form that was not carried out: shown in place, with what was typed kept.

    panel   which of the page's forms it was ("note", "hook" …)
    about   the field it is about, if one
    asked   what is asked once more about what was typed; `sure` is the answer to just these
    """

    message: str
    overtaken: bool = False
    panel: str = ""
    about: str | None = None
    typed: Mapping[str, str] = field(default_factory=dict)
    asked: tuple[str, ...] = ()

    @property
    def sure(self) -> str:
        """What is sent with a yes to all that is asked."""
        return " ".join(self.asked)

    @property
    def status(self) -> int:
        """The answer's status: 409 where another device was first, 422 where it was not written down."""
        if self.message or self.asked:
            return 409 if self.overtaken else 422
        return 200

    def at(self, panel: str, name: str = "") -> str:
        """The message for a panel's field; empty where it is not about it."""
        return self.message if self.panel == panel and self.about == (name or None) else ""

    def kept(self, panel: str, name: str, otherwise: str = "") -> str:
        """What was typed there."""
        return self.typed.get(name, otherwise) if self.panel == panel else otherwise


NOTHING_SAID = Said("")


def said(refusal: Refusal, panel: str, typed: Mapping[str, str]) -> Said:
    """A refusal as it is shown."""
    return Said(refusal.message, isinstance(refusal, Overtaken), panel, refusal.field, typed)


@dataclass(frozen=True)
class PartNav:
    """The ways between the pages of a part. `here` is the page's own name in it; `noun`: "glove", "sock"."""

    part: int
    title: str
    is_pair: bool
    noun: str
    settled: bool
    here: str

    @property
    def one(self) -> str:
        """ "glove one" """
        return f"{self.noun} one"

    @property
    def two(self) -> str:
        """ "glove two" """
        return f"{self.noun} two"


def part_nav(desk: Desk, here: str) -> PartNav:
    """The ways between the pages of this part."""
    return PartNav(
        desk.part_id, desk.part_title, desk.is_pair, noun(desk), desk.making.settled is not None, here
    )


def facts(desk: Desk) -> FormFacts:
    """The facts of a page's forms."""
    return FormFacts(desk.notebook_id, desk.part_id, desk.state)


def address(request: Request, path: str) -> str:
    """A full address to hand on: the public one where it is set, else the one that this browser came by."""
    public: str = request.app.state.settings.public_url
    return f"{(public or str(request.base_url)).rstrip('/')}{path}"
