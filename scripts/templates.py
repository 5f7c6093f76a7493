"""Templates lint: `python -m scripts.templates` prints what is against the house's rules and exits 1 if
anything is.

What the content security policy would silently switch off in a browser is found here instead: inline
handlers, styles and scripts, and whatever of htmx needs eval. The rest keeps templates readable: they parse,
they balance, they are short, htmx attributes come from the macros only, nothing is marked safe, and the words
are ours.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

from jinja2 import Environment, TemplateSyntaxError, nodes

TEMPLATES = Path(__file__).parents[1] / "templates"
MOST_LINES = 150
MACROS = "_pieces"
LOADED_BY = {"script": "src", "link": "href", "img": "src", "source": "src", "iframe": "src", "use": "href"}
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
UNSAID = re.compile(r"(?<!-)\b(oops|uh-oh|invalid|whoops|error [45]\d\d)\b|!", re.IGNORECASE)
JINJA = re.compile(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", re.DOTALL)


def problems(name: str, source: str) -> Iterator[str]:
    """What is wrong with a template, as `line: what`. `name` is its path below templates/."""
    lines = source.count("\n")
    if lines > MOST_LINES:
        yield f"{lines}: {lines} lines; at {MOST_LINES} it wants to be two templates"
    try:
        tree = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True).parse(source)
    except TemplateSyntaxError as error:
        yield f"{error.lineno}: {error.message}"
        return
    yield from _jinja_problems(tree)
    page = _Page(in_macros=name.startswith(MACROS))
    page.feed(JINJA.sub(_blank, source))
    page.close()
    yield from page.found
    for tag, difference in page.open_tags.items():
        if difference:
            yield f"1: <{tag}> is opened {'more' if difference > 0 else 'less'} often than it is closed"


def _blank(match: re.Match[str]) -> str:
    """Something harmless in the place of a Jinja tag, with as many lines; a value counts as a word."""
    return ("x" if match[0].startswith("{{") else " ") + "\n" * match[0].count("\n")


def _jinja_problems(tree: nodes.Template) -> Iterator[str]:
    for node in tree.find_all(nodes.Filter):
        if node.name in ("safe", "forceescape"):
            yield f"{node.lineno}: |{node.name} goes past escaping; build the markup in a template or a macro"
    for modifier in tree.find_all(nodes.EvalContextModifier):
        yield f"{modifier.lineno}: autoescaping stays on"
    for reference in tree.find_all((nodes.Include, nodes.Extends, nodes.Import, nodes.FromImport)):
        # find_all's types know only Node; each of the four has its template
        wanted = getattr(reference, "template", None)
        if isinstance(wanted, nodes.Const) and not (TEMPLATES / wanted.value).is_file():
            yield f"{reference.lineno}: there is no template {wanted.value}"


class _Page(HTMLParser):
    """Reads a template's HTML, Jinja taken out, and notes what is against the rules."""

    def __init__(self, *, in_macros: bool) -> None:
        super().__init__(convert_charrefs=True)
        self.in_macros = in_macros
        self.found: list[str] = []
        self.open_tags: Counter[str] = Counter()
        self.inside: list[str] = []

    def note(self, what: str) -> None:
        self.found.append(f"{self.getpos()[0]}: {what}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in VOID:
            self.open_tags[tag] += 1
        names = dict(attrs)
        if tag == "style" or (tag == "script" and "src" not in names):
            self.note(
                f"<{tag}> with its content in the page is switched off by the policy; put it under static/"
            )
        if tag == "img" and "alt" not in names:
            self.note('<img> needs an alt text, alt="" where it only decorates')
        for name, value in attrs:
            self._attribute(tag, name, value or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            self.open_tags[tag] -= 1

    def _attribute(self, tag: str, name: str, value: str) -> None:
        if name == "style":
            self.note("style= is switched off by the policy; give it a class")
        elif name.startswith("hx-on"):
            self.note(f"{name} needs eval, which the policy forbids; listen in a script under static/")
        elif name.startswith("on"):
            self.note(f"{name}= is switched off by the policy; listen in a script under static/")
        elif name.startswith(("hx-", "data-hx-")):
            if not self.in_macros:
                self.note(f"{name} comes from a macro in {MACROS}/fragments.html only")
            if value.lstrip().startswith(("js:", "javascript:")):
                self.note(f"{name} with js: needs eval, which the policy forbids")
            if name.endswith("hx-trigger") and "[" in value:
                self.note("a filter in hx-trigger needs eval, which the policy forbids")
        elif value.strip().lower().startswith(("javascript:", "data:")):
            self.note(f"{name} with {value.split(':')[0]}: is switched off by the policy")
        if LOADED_BY.get(tag) == name and re.match(r"(https?:)?//", value):
            self.note(f"<{tag}> loads from elsewhere; everything comes from here")

    def handle_data(self, data: str) -> None:
        said = UNSAID.search(data)
        if said:
            self.note(f"{said[0]!r} is not how the pages speak")


def main() -> int:
    """Prints every problem of every template; 1 if there is any."""
    any_found = False
    for path in sorted(TEMPLATES.rglob("*.html")):
        for problem in problems(str(path.relative_to(TEMPLATES)), path.read_text(encoding="utf-8")):
            any_found = True
            print(f"templates/{path.relative_to(TEMPLATES)}:{problem}")
    return 1 if any_found else 0


if __name__ == "__main__":
    sys.exit(main())
