"""The lints find what they are there for, and find nothing in the project."""

from __future__ import annotations

import pytest

from scripts import migrations, templates, tracked

GOOD = """{% extends "base.html" %}
{% import "_pieces/fragments.html" as fragments %}
{% block main %}
<form method="post" {{ fragments.sent_in_place("/x", "#y") }}>
  <label for="text">Pattern</label><textarea id="text" name="text">{{ text }}</textarea>
  <img src="{{ static('img/chain.svg') }}" alt="">
  <button{% if ready %} class="button"{% endif %} aria-invalid="true">Publish</button>
</form>
{% endblock %}
"""


@pytest.mark.parametrize(
    ("instead", "says"),
    [
        ('<p onclick="go()">x</p>', "onclick="),
        ('<p hx-on:click="go()">x</p>', "hx-on:click needs eval"),
        ('<p hx-get="/x">x</p>', "comes from a macro"),
        ('<p data-hx-get="/x">x</p>', "comes from a macro"),
        ('<p style="color:red">x</p>', "style= is switched off"),
        ("<style>p { color: red }</style>", "<style> with its content"),
        ("<script>go()</script>", "<script> with its content"),
        ('<a href="javascript:go()">x</a>', "javascript:"),
        ('<img src="data:image/png;base64,xx" alt="">', "data:"),
        ('<img src="/x.png">', "needs an alt text"),
        ('<script src="https://elsewhere.test/x.js"></script>', "loads from elsewhere"),
        ('<link rel="stylesheet" href="//elsewhere.test/x.css">', "loads from elsewhere"),
        ("{{ text|safe }}", "|safe goes past escaping"),
        ("{% autoescape false %}x{% endautoescape %}", "autoescaping stays on"),
        ('{% include "no/such.html" %}', "there is no template no/such.html"),
        ("{% if %}", "Expected an expression"),
        ("<div>", "<div> is opened more often"),
        ("</div>", "<div> is opened less often"),
        ("<p>Oops, that is invalid</p>", "'Oops' is not how"),
        ("<p>Well done!</p>", "'!' is not how"),
        ("x\n" * 160, "lines; at 150"),
    ],
)
def test_templates_lint(instead: str, says: str) -> None:
    assert list(templates.problems("host/x.html", GOOD)) == []
    found = list(
        templates.problems("host/x.html", GOOD.replace("{% endblock %}", instead + "\n{% endblock %}"))
    )
    assert len(found) == 1, found
    assert says in found[0]
    line, _, _ = found[0].partition(":")
    assert line.isdecimal()


def test_macros_may_use_htmx_but_not_its_eval() -> None:
    assert list(templates.problems("_pieces/x.html", '<p hx-get="/x">x</p>')) == []
    assert "filter in hx-trigger" in "".join(
        templates.problems("_pieces/x.html", '<p hx-get="/x" hx-trigger="keyup[key==1]">x</p>')
    )
    assert "js:" in "".join(templates.problems("_pieces/x.html", '<p hx-vals="js:{a: b()}">x</p>'))


@pytest.mark.parametrize(
    ("name", "line", "found"),
    [
        ("requirements.txt", "--index-url https://elsewhere.test/simple", 1),
        ("requirements.txt", "fastapi==0.165.0 \\", 0),
        ("README.md", "http://localhost:8000", 0),
        ("README.md", "from https://" + "py" + "pi.org/simple", 1),
        ("x.py", 'open("' + "/ho" + 'me/somebody/x")', 1),
        ("x.py", "cd " + "/wo" + "rk/main", 1),
        ("x.py", "/notebook" + "/wo" + "rk/1 and network" + "/wo" + "rk/x and $HOME" + "/wo" + "rk/x", 0),
        ("x.woff2", "\0 /ho" + "me/somebody", 0),
    ],
)
def test_tracked_lint(name: str, line: str, found: int) -> None:
    assert len(list(tracked.problems(name, line.encode()))) == found


def test_the_project_itself_passes(capsys: pytest.CaptureFixture[str]) -> None:
    assert (templates.main(), tracked.main()) == (0, 0), capsys.readouterr().out
    assert migrations.main() == 0
