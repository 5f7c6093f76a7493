"""Names that only the other terms have: one finding each, with the name that is right here."""

from __future__ import annotations

from functools import lru_cache

from server.craft.text import rules
from server.craft.text.cursor import Cursor
from server.craft.text.lexer import Token
from server.craft.text.tree import Terms
from server.craft.text.vocabulary import TOGETHER, alien_spellings, name_in


def alien(cursor: Cursor, token: Token) -> None:
    """Reports, once each, a name that only the other terms have."""
    context = cursor.context
    raw = context.source.slice(token.span)
    low = " ".join(raw.lower().split())
    together = TOGETHER.match(low)
    name = _forms(context.terms).get(together[1] if together else low)
    if name is None or name in context.aliens or (together and name != together[1]):
        return
    context.aliens.add(name)
    right = name_in(token.value, context.terms)
    other = "UK" if context.terms == "US" else "US"
    context.findings.append(
        rules.OTHER_TERMS.at(
            context.source, token.span, mend=right, other=other, terms=context.terms, mend_name=right
        )
    )


@lru_cache(maxsize=2)
def _forms(terms: Terms) -> dict[str, str]:
    """Each form of a name that only the other terms have: the name."""
    return {
        prefix + name + plural: name
        for name in reversed(alien_spellings(terms))
        for prefix in ("", "fp", "bp")
        for plural in ("", "s")
    }
