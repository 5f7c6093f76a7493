"""Which stitches and groups a part of a pattern names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from server.craft.text.tree import CountsAs, FoundationStitches, JoinYarn, Noun, Work


def names_in(node: object) -> set[str]:
    """The US names of all stitches and groups that are worked or named in it; `fsc` as "fsc"."""
    return set(_names(node))


def _names(node: object) -> Iterator[str]:
    if isinstance(node, tuple):
        for each in node:
            yield from _names(each)
        return
    if not is_dataclass(node) or isinstance(node, type):
        return
    if isinstance(node, Noun) and node.kind in ("stitch", "group"):
        yield node.name
    elif isinstance(node, Work | JoinYarn) and isinstance(node.stitch, str):
        yield node.stitch
    elif isinstance(node, FoundationStitches):
        yield f"f{node.stitch}"
    elif isinstance(node, CountsAs):
        yield from node.stitches
    for each in fields(node):
        yield from _names(getattr(node, each.name))
