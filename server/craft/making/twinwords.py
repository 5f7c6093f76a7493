"""The words of the twin rules: pieces, hooks, foundations, what changed."""

from __future__ import annotations

import re

from server.craft.fabric.values import Numbers
from server.craft.making.counting import item, many
from server.craft.making.log import Change, Making, Piece
from server.craft.making.shapes import Plan
from server.craft.making.spots import fit_of, section_of, turn_of
from server.craft.measure.hooks import hook_text
from server.craft.text.tree import Pattern, Terms

NOUNS = ("sock", "bootie", "slipper", "sleeve", "legwarmer", "mitten", "glove")


def piece_noun(pattern: Pattern) -> str:
    """What one piece of the pair is called by the title's words: "sock" for "Harbour Socks", else "glove"."""
    words = re.findall(r"[a-z]+", pattern.header.title.lower().replace("leg warmer", "legwarmer"))
    for noun in NOUNS:
        if noun in words or noun + "s" in words:
            return "leg warmer" if noun == "legwarmer" else noun
    return "glove"


def shown(name: str, count: int, terms: Terms) -> str:
    """A count in words: "8 V-sts"."""
    return item(name, count, terms).words


def at_words(plan: Plan, spot: str) -> str:
    """A round by name: "Rnd 3 of the Cuff", "the Bottom edging" where it has no label."""
    round_ = plan.round_at(spot)
    section = section_words(plan, spot)
    if round_ is None:
        return f"{section}, round {turn_of(spot)}" if section else "a round"
    return f"{round_.label} of {section}" if round_.label else section


def section_words(plan: Plan, address: str) -> str:
    """The section of a spot or a fit, as it is said: "the Cuff"."""
    title = section_title(plan, address)
    return title if title.lower().startswith("the ") or not title else f"the {title}"


def section_title(plan: Plan, address: str) -> str:
    """The title of the section of a spot or a fit; "" where the plan has none."""
    index = section_of(address)
    return next((section.title for section in plan.sections if section.index == index), "")


def foundation_words(numbers: Numbers | None) -> str:
    """ "24 chains", a size's name where the pattern starts from a ring, "not settled"."""
    if numbers is None:
        return "not settled"
    if numbers.foundation is None:
        return numbers.size or "as written"
    return many(numbers.foundation, "chain")


def hook_words(piece: Piece, plan: Plan) -> str:
    """ "5 mm (US H-8), 4.5 mm (US 7) from Rnd 3 of the Cuff on"."""
    told = [] if piece.hook_mm is None else [hook_text(piece.hook_mm)]
    told += [f"{hook_text(hook_mm)} from {at_words(plan, spot)} on" for spot, hook_mm in piece.hook_changes]
    return ", ".join(told) or "not written down"


def changed_words(making: Making, plan: Plan, noun: str) -> tuple[str, ...]:
    """What changed in piece one after piece two had begun, a sentence each."""
    lead = f"{noun.capitalize()} one changed after {noun} two began: "
    told = [lead + _change(change, plan) for change in making.changed]
    return tuple(dict.fromkeys(told))


def _change(change: Change, plan: Plan) -> str:
    where = at_words(plan, change.spot) if change.spot else ""
    if change.kind == "taken_out":
        if change.count == 1:
            return f"{where} was taken out."
        return f"{change.count} rounds were taken out, {where} the first of them."
    if change.kind == "hook":
        return f"another hook is written down for {where}." if where else "another hook is written down."
    if change.spot and plan.fit_at(fit_of(change.spot)):
        return f"{section_words(plan, change.spot)} was opened again."
    return f"it was gone on with at {where}."
