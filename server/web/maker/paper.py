"""The card as a PDF: half a page of A4 or Letter, tagged (PDF/UA-1), in our own face."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from server.services.notebooks.cards import Card
from server.web.pages import text_of
from server.web.pdfs import SIZES, NoPaper, Paper, Press, can_print
from server.web.qr import Qr

__all__ = ["CardPaper", "NoPaper", "Paper", "can_print", "pdf"]

MARGIN_MM = 9.0
NOTES_ON_A_FULL_CARD, NOTE_MOST = 3, 120
ROWS_ON_A_FULL_CARD = 9


@dataclass(frozen=True)
class CardPaper:
    """Context of maker/card_paper.html.

    density     how close the lines are: "roomy", "close" or "small"
    with_steps  the steps of every round are on the card
    left_out    what had no room, in words; "" where all of it is there
    """

    card: Card
    code: Qr
    where: str
    opens: bool
    density: str
    with_steps: bool
    left_out: str


def pdf(card: Card, code: Qr, where: str, opens: bool, paper: Paper) -> bytes:
    """The card, with as much of it as half a page holds; NoPaper where no PDF can be made.

    Everything, in smaller letters where need be; else without the steps, which are in the pattern; else
    without all but the first notes, counts and measures too. What is left out is said on the card.
    """
    press = Press(("card-paper",), _page(paper))
    for attempt in _attempts(CardPaper(card, code, where, opens, "roomy", with_steps=True, left_out="")):
        document = press.laid_out(text_of("maker/card_paper.html", attempt))
        if document.pages == 1:
            break
    return document.content()


def _page(paper: Paper) -> str:
    size, height_mm = SIZES[paper]
    below_mm = height_mm / 2 + MARGIN_MM / 2
    fold = f'content: ""; width: 100%; margin-top: {MARGIN_MM / 2}mm; border-top: 0.2mm dashed #999'
    margins = f"margin: {MARGIN_MM}mm {MARGIN_MM}mm {below_mm}mm"
    return f"@page {{ size: {size} portrait; {margins}; @bottom-center {{ {fold} }} }}"


def _attempts(whole: CardPaper) -> Iterator[CardPaper]:
    for density in ("roomy", "close", "small"):
        yield replace(whole, density=density)
    bare = replace(whole, with_steps=False, left_out="The steps are in the notebook.")
    for density in ("roomy", "close", "small"):
        yield replace(bare, density=density)
    yield replace(
        bare,
        card=_cut(whole.card),
        density="small",
        left_out="The steps, and more notes and counts, are in the notebook.",
    )


def _cut(card: Card) -> Card:
    """So little that it goes on half a page, whatever was written."""
    most = NOTES_ON_A_FULL_CARD

    def short(text: str) -> str:
        return text if len(text) <= NOTE_MOST else text[: NOTE_MOST - 1].rstrip() + "…"

    return replace(
        card,
        title=short(card.title),
        facts=tuple(replace(fact, text=short(fact.text)) for fact in card.facts),
        rows=tuple(
            replace(row, purpose=short(row.purpose), at_end=short(row.at_end))
            for row in card.rows[:ROWS_ON_A_FULL_CARD]
        ),
        differences=tuple(short(each) for each in card.differences[:most]),
        counted=tuple(short(each) for each in card.counted[:most]),
        measured=tuple(short(each) for each in card.measured[:most]),
        notes=tuple((short(where), short(text)) for where, text in card.notes[:most]),
    )
