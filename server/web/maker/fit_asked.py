"""/notebook/<part>/fit/hand and …/fit/gauge: what the fit goes by, each a form that may be left out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.measure.handtables import child_ages, glove_sizes
from server.craft.measure.stated_yarn import gauge_in, header_gauge
from server.craft.measure.yarntable import YarnCategory, yarn_categories
from server.services import notebooks
from server.services.notebooks import Desk, HookChoice, measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring.facts import told_with_hand
from server.services.notebooks.measuring.typed import length_mm, shown_length
from server.web.maker.device import with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav
from server.web.maker.telling import TellingForm, desk_for, tell
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
LENGTHS = ("around", "wrist", "to_thumb", "to_end")


@dataclass(frozen=True)
class HandPage:
    """Context of maker/fit_hand.html. kept: what stands in each field."""

    nav: PartNav
    form: FormFacts
    said: Said
    units: Units
    kept: Mapping[str, str]
    sizes: tuple[str, ...]
    ages: tuple[int, ...]


@dataclass(frozen=True)
class GaugePage:
    """Context of maker/fit_gauge.html."""

    nav: PartNav
    form: FormFacts
    said: Said
    units: Units
    kept: Mapping[str, str]
    stated: str
    hooks: tuple[HookChoice, ...]
    categories: tuple[YarnCategory, ...]


class HandForm(TellingForm):
    """The hand as sent."""

    known: str = ""
    group: str = ""
    around: str = ""
    wrist: str = ""
    to_thumb: str = ""
    to_end: str = ""
    size: str = ""
    age: str = ""

    def values(self, units: Units) -> dict[str, Any]:
        """The values of the entry. What belongs to another way of knowing the hand is left out."""
        lengths = {f"{name}_mm": length_mm(getattr(self, name), units, f"{name}_mm") for name in LENGTHS}
        measured = self.known == "measured"
        group = "child" if self.known == "age" else self.group if self.known in ("measured", "group") else ""
        return {
            "known": self.known,
            "group": group,
            "size": self.size if self.known == "size" else None,
            "age_years": self.age if self.known == "age" or (measured and group == "child") else None,
            **lengths,
        }


class GaugeForm(TellingForm):
    """The gauge as sent."""

    source: str = ""
    stitches: str = ""
    over: str = ""
    rounds: str = ""
    rounds_over: str = ""
    category: str = ""
    hook: str = ""

    def values(self, units: Units) -> dict[str, Any]:
        """The values of the entry."""
        return {
            "source": self.source,
            "stitches": self.stitches,
            "over_mm": length_mm(self.over, units, "over_mm"),
            "rounds": self.rounds,
            "rounds_over_mm": length_mm(self.rounds_over, units, "rounds_over_mm"),
            "category": self.category if self.source == "category" else "",
            "hook_mm": self.hook,
        }


@router.get("/notebook/{part_id}/fit/hand")
def ask_hand(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The form for the hand, with what is known of it."""
    desk = desk_for(request, session, part_id)
    page = _hand_page(request, desk, _hand_kept(session, desk))
    return with_visit(page, request, session, desk.notebook_id)


@router.post("/notebook/{part_id}/fit/hand")
def tell_hand(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[HandForm, Form()]
) -> Response:
    """Writes the hand down."""
    stays = tell(request, session, part_id, form, "hand", 0, form.values)
    if stays is not None:
        return _hand_page(request, stays.desk, stays.said.typed, stays.said)
    return RedirectResponse(f"/notebook/{part_id}/fit", 303)


@router.get("/notebook/{part_id}/fit/gauge")
def ask_gauge(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The form for the gauge, with what is known of it."""
    desk = desk_for(request, session, part_id)
    page = _gauge_page(request, desk, _gauge_kept(desk))
    return with_visit(page, request, session, desk.notebook_id)


@router.post("/notebook/{part_id}/fit/gauge")
def tell_gauge(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[GaugeForm, Form()]
) -> Response:
    """Writes the gauge down."""
    stays = tell(request, session, part_id, form, "gauge", 0, form.values)
    if stays is not None:
        return _gauge_page(request, stays.desk, stays.said.typed, stays.said)
    return RedirectResponse(f"/notebook/{part_id}/fit", 303)


def _hand_kept(session: ReadSession, desk: Desk) -> dict[str, str]:
    values = told_with_hand(session, desk).hand or {}
    kept = {name: shown_length(values.get(f"{name}_mm"), desk.units) for name in LENGTHS}
    age = values.get("age_years")
    return kept | {
        "known": values.get("known") or "measured",
        "group": values.get("group") or "",
        "size": values.get("size") or "",
        "age": "" if age is None else str(age),
    }


def _hand_page(request: Request, desk: Desk, kept: Mapping[str, str], what: Said = NOTHING_SAID) -> Response:
    context = HandPage(
        nav=part_nav(desk, "fit"),
        form=facts(desk),
        said=what,
        units=desk.units,
        kept=kept,
        sizes=tuple(
            f"{one.number} ({one.letter})" if one.letter else str(one.number) for one in glove_sizes()
        ),
        ages=child_ages(),
    )
    return render(request, "maker/fit_hand.html", context, what.status)


def _gauge_kept(desk: Desk) -> dict[str, str]:
    values = measuring.told(desk).gauge or {}
    category, hook = values.get("category"), values.get("hook_mm") or measuring.hook_in_hand(desk)
    return {
        "source": values.get("source") or "swatch",
        "stitches": _plain(values.get("stitches")),
        "over": shown_length(values.get("over_mm"), desk.units),
        "rounds": _plain(values.get("rounds")),
        "rounds_over": shown_length(values.get("rounds_over_mm"), desk.units),
        "category": "" if category is None else str(category),
        "hook": _plain(hook),
    }


def _plain(number: float | None) -> str:
    return "" if number is None else f"{number:g}"


def _gauge_page(request: Request, desk: Desk, kept: Mapping[str, str], what: Said = NOTHING_SAID) -> Response:
    header = desk.pattern.header
    line = header.line("Gauge")
    context = GaugePage(
        nav=part_nav(desk, "fit"),
        form=facts(desk),
        said=what,
        units=desk.units,
        kept=kept,
        stated=line.value + gauge_in(header, desk.units) if line and header_gauge(header) else "",
        hooks=notebooks.hook_choices(),
        categories=yarn_categories(),
    )
    return render(request, "maker/fit_gauge.html", context, what.status)
