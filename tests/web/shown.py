"""A page as a reader meets it: its heading, its words, its links, its forms with what stands in their
fields."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset(("area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"))
SILENT = frozenset(("script", "style", "title"))


@dataclass
class Element:
    """An element with its attributes (a bare one is ""), and all the words in it."""

    tag: str
    attributes: dict[str, str]
    words: list[str] = field(default_factory=list)
    inside: list[Element] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Its words, with single spaces."""
        return " ".join("".join(self.words).split())

    @property
    def exact(self) -> str:
        """Its words as they stand, without the first line end that HTML leaves out of a field of several
        lines."""
        return "".join(self.words).removeprefix("\n")

    def all(self, tag: str = "", **attributes: str) -> list[Element]:
        """Elements in it by tag and attributes; `css` asks for one of its classes."""
        return [
            one
            for one in self.inside
            if tag in ("", one.tag)
            and all(
                value in one.attributes.get("class", "").split()
                if name == "css"
                else one.attributes.get(name.rstrip("_").replace("_", "-")) == value
                for name, value in attributes.items()
            )
        ]

    def one(self, tag: str = "", **attributes: str) -> Element:
        """The only such element."""
        found = self.all(tag, **attributes)
        assert len(found) == 1, f"{len(found)} of {tag} {attributes} in: {self.text[:300]}"
        return found[0]

    def value(self, name: str) -> str:
        """What stands in the field of that name."""
        found = [one for one in self.inside if one.attributes.get("name") == name and one.tag != "button"]
        assert len(found) == 1, f"{len(found)} fields {name}"
        return found[0].exact if found[0].tag == "textarea" else found[0].attributes.get("value", "")

    def value_of(self, id: str) -> str:
        """What stands in the field of that id."""
        return self.one(id=id).attributes["value"]

    def says_at(self, name: str) -> str:
        """What is said to be put right at the field of that name; "" where nothing is."""
        found = next(one for one in self.inside if one.attributes.get("name") == name)
        if found.attributes.get("aria-invalid") != "true":
            return ""
        ids = found.attributes["aria-describedby"].split()
        return self.one(id=next(i for i in ids if i.endswith("-error"))).text


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("", {})
        self.open: list[Element] = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        for outer in self.open:
            outer.inside.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if self.open[-1].tag not in SILENT:
            for outer in self.open:
                outer.words.append(data)
        else:
            self.open[-1].words.append(data)


def shown(html: str) -> Element:
    """Read a page or fragment; AssertionError where its tags do not close in order or an id stands twice."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert len(reader.open) == 1, f"<{reader.open[-1].tag}> is not closed"
    ids = [one.attributes["id"] for one in reader.root.inside if "id" in one.attributes]
    assert len(ids) == len(set(ids)), f"twice: {sorted(i for i in set(ids) if ids.count(i) > 1)}"
    return reader.root
