"""A template and its context agree: nothing is missing, nothing is left over, and no macro hides a field."""

from __future__ import annotations

from dataclasses import fields

import pytest
from jinja2 import meta, nodes

from server.web import (
    front,
    host_accounts,
    host_alongs,
    host_announcing,
    host_charts,
    host_cohosts,
    host_evenings,
    host_made,
    host_patterns,
    host_samples,
    host_seasons,
    host_sheets,
    host_sizes,
    host_words,
    language,
    printed,
    problems,
    public_along,
    recap_host,
    signing,
)
from server.web.pages import ENVIRONMENT, TEMPLATES, with_terms

CONTEXTS = {
    "public/front.html": front.FrontPage,
    "public/problem.html": problems.Problem,
    "public/_problem.html": problems.Problem,
    "host/new.html": host_accounts.NewAccountPage,
    "host/sign_in.html": host_accounts.SignInPage,
    "host/signed_out.html": signing.SignedOutPage,
    "host/alongs.html": host_alongs.AlongsPage,
    "host/along.html": host_alongs.AlongPage,
    "host/roster.html": host_alongs.RosterPage,
    "host/_roster.html": host_alongs.RosterPage,
    "host/part_title.html": host_alongs.PartTitlePage,
    "host/chart.html": host_charts.ChartPage,
    "host/pattern.html": host_patterns.PatternPage,
    "host/_understood.html": host_patterns.PatternPage,
    "host/version.html": host_patterns.VersionPage,
    "host/made.html": host_made.MadePage,
    "host/sheet.html": host_sheets.SheetPage,
    "host/sizes.html": host_sizes.SizesPage,
    "sheet/paper.html": printed.PrintedPage,
    "host/sample.html": host_samples.SamplePage,
    "host/evenings.html": host_evenings.EveningsPage,
    "host/evening.html": host_evenings.EveningPage,
    "host/announcing.html": host_announcing.AnnouncingPage,
    "public/along.html": public_along.PublicAlongPage,
    "host/hosts.html": host_cohosts.HostsPage,
    "host/invitation.html": host_cohosts.InvitationPage,
    "host/waiting.html": host_seasons.WaitingPage,
    "host/words.html": host_words.WordsPage,
    "host/season.html": host_seasons.SeasonPage,
    "recap/host.html": recap_host.HostRecapPage,
    "language/page.html": language.LanguagePage,
    "language/_proved.html": language.ShownPart,
}
GIVEN = {"path", "static"}


def parts(template: str) -> dict[str, nodes.Template]:
    """The template with all that it extends and includes, but not what it imports: macros see no context."""
    found: dict[str, nodes.Template] = {}
    waiting = [template]
    while waiting:
        name = waiting.pop()
        tree = ENVIRONMENT.parse((TEMPLATES / name).read_text(encoding="utf-8"))
        found[name] = tree
        named = [n.template for n in tree.find_all(nodes.Extends)] + [
            n.template for n in tree.find_all(nodes.Include)
        ]
        for node in named:
            assert isinstance(node, nodes.Const), f"{name} names another template by a variable"
            if node.value not in found:
                waiting.append(node.value)
    return found


def test_every_page_of_the_host_is_looked_at() -> None:
    pages = {
        str(p.relative_to(TEMPLATES))
        for d in ("host", "language", "public", "sheet")
        for p in TEMPLATES.glob(f"{d}/*.html")
    }
    looked_at = {name for template in CONTEXTS for name in parts(template)}
    assert pages <= looked_at


def macros(tree: nodes.Template) -> set[str]:
    """Names that a template imports or defines at its top: its blocks see them too."""
    imported = {
        name if isinstance(name, str) else name[1]
        for node in tree.find_all(nodes.FromImport)
        for name in node.names
    }
    spaces = {node.target for node in tree.find_all(nodes.Import)}
    return imported | spaces | {node.name for node in tree.find_all(nodes.Macro)}


@pytest.mark.parametrize("template", CONTEXTS)
def test_a_template_uses_its_context_and_nothing_else(template: str) -> None:
    trees = parts(template).values()
    used = set().union(*(meta.find_undeclared_variables(tree) - macros(tree) for tree in trees)) - GIVEN
    given = {field.name for field in fields(CONTEXTS[template])}
    assert used <= given, "missing"
    if not template.rpartition("/")[2].startswith("_"):
        assert given <= used, "left over"


@pytest.mark.parametrize("template", CONTEXTS)
def test_no_macro_hides_a_field_of_the_context(template: str) -> None:
    names = set().union(*map(macros, parts(template).values()))
    assert names.isdisjoint(field.name for field in fields(CONTEXTS[template]))


def test_terms_are_set_apart_and_everything_is_escaped() -> None:
    assert (
        with_terms("Expected `ch` or `<b>`, not `a")
        == "Expected <code>ch</code> or <code>&lt;b&gt;</code>, not `a"
    )


@pytest.mark.parametrize("template", sorted(str(p.relative_to(TEMPLATES)) for p in TEMPLATES.rglob("*.html")))
def test_templates_have_nothing_that_the_content_policy_forbids(template: str) -> None:
    text = (TEMPLATES / template).read_text(encoding="utf-8")
    for forbidden in (
        ' style="',
        "hx-on",
        "javascript:",
        "| safe",
        "|safe",
        " onclick",
        "autoescape",
        "https://",
    ):
        assert forbidden not in text, forbidden
    if not template.startswith("_pieces/"):
        assert " hx-" not in text, "htmx attributes come from _pieces/fragments.html"
