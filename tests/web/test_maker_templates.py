"""The maker's templates and their contexts agree, and each page is looked at here."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

import pytest
from jinja2 import meta, nodes

from server.web import installing, recap_maker, room_host, room_maker, room_screen
from server.web.maker import (
    card,
    filing,
    finding,
    fit,
    fit_asked,
    joining,
    keeping,
    moving,
    numbers,
    pairs,
    paper,
    sheets,
    shelf,
    versions,
    working,
    yarn,
    yarn_others,
)
from server.web.pages import ENVIRONMENT, TEMPLATES

CONTEXTS = {
    "maker/join_code.html": joining.AskCode,
    "maker/join.html": joining.AskNickname,
    "maker/shelf.html": shelf.ShelfPage,
    "maker/no_notebook.html": shelf.NoNotebook,
    "maker/put_away.html": shelf.PutAway,
    "maker/numbers.html": numbers.ChoosePage,
    "maker/try_on.html": numbers.TryPage,
    "maker/working.html": working.WorkingPage,
    "maker/fit.html": fit.FitPage,
    "maker/fit_hand.html": fit_asked.HandPage,
    "maker/fit_gauge.html": fit_asked.GaugePage,
    "maker/yarn.html": yarn.YarnPage,
    "maker/yarn_instead.html": yarn_others.InsteadPage,
    "maker/yarn_split.html": yarn_others.SplitPage,
    "maker/find.html": finding.FindPage,
    "maker/pair.html": pairs.PairPage,
    "maker/version.html": versions.VersionPage,
    "maker/offline.html": installing.Offline,
    "maker/card.html": card.CardPage,
    "maker/pattern_sheet.html": sheets.MakerSheetPage,
    "maker/card_paper.html": paper.CardPaper,
    "recap/maker.html": recap_maker.MakerRecapPage,
    "maker/keep.html": keeping.KeepPage,
    "maker/again.html": keeping.AgainPage,
    "maker/erase.html": keeping.ErasePage,
    "maker/erased.html": keeping.ReceiptPage,
    "maker/file_form.html": keeping.FormPage,
    "maker/import.html": filing.ImportPage,
    "maker/imported.html": filing.BroughtPage,
    "maker/move_offer.html": moving.OfferPage,
    "maker/move_take.html": moving.TakePage,
    "maker/move_link.html": moving.TakeLinkPage,
    "maker/new_link.html": moving.NewLinkPage,
    "room/desk.html": room_host.DeskPage,
    "room/evening.html": room_maker.EveningPage,
    "room/screen.html": room_screen.ScreenPage,
}
GIVEN = {"path", "static", "module"}


def parts(template: str) -> dict[str, nodes.Template]:
    """The template with all that it extends and includes."""
    found: dict[str, nodes.Template] = {}
    waiting = [template]
    while waiting:
        name = waiting.pop()
        tree = ENVIRONMENT.parse((TEMPLATES / name).read_text(encoding="utf-8"))
        found[name] = tree
        extended = [node.template for node in tree.find_all(nodes.Extends)]
        included = [node.template for node in tree.find_all(nodes.Include)]
        for named in extended + included:
            assert isinstance(named, nodes.Const), f"{name} names another template by a variable"
            if named.value not in found:
                waiting.append(named.value)
    return found


def brought(tree: nodes.Template) -> set[str]:
    """Names that a template imports, sets, loops over or defines: what it includes sees them too."""
    imported = {
        name if isinstance(name, str) else name[1]
        for node in tree.find_all(nodes.FromImport)
        for name in node.names
    }
    stored = {name.name for name in tree.find_all(nodes.Name) if name.ctx == "store"}
    modules = {node.target for node in tree.find_all(nodes.Import)}
    return imported | modules | stored | {node.name for node in tree.find_all(nodes.Macro)} | {"loop"}


@pytest.mark.parametrize("template", CONTEXTS)
def test_a_page_uses_its_context_and_nothing_else(template: str) -> None:
    trees = list(parts(template).values())
    local = set().union(*map(brought, trees))
    used = set().union(*map(meta.find_undeclared_variables, trees)) - GIVEN
    given = {field.name for field in fields(CONTEXTS[template])}
    assert used - local <= given, "missing"
    assert given <= used, "left over"


def test_every_template_of_the_maker_is_looked_at() -> None:
    looked_at = {name for template in CONTEXTS for name in parts(template)}
    macros_only = {
        "maker/_forms.html", "maker/_difference.html", "maker/_sheet.html", "maker/_likely.html",
        "maker/_hand_drawings.html",
    }  # fmt: skip
    files = {str(file.relative_to(TEMPLATES)) for file in TEMPLATES.glob("maker/*.html")}
    assert files - looked_at == macros_only


@pytest.mark.parametrize("file", sorted(TEMPLATES.glob("maker/*.html")), ids=lambda file: file.name)
def test_templates_are_short(file: Path) -> None:
    assert len(file.read_text(encoding="utf-8").splitlines()) <= 150
