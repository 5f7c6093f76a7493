"""Names that only the other terms have: one finding each, with the name that is right here."""

from __future__ import annotations

from server.craft.text import rules
from server.craft.text.cursor import Cursor
from server.craft.text.lexer import Token
from server.craft.text.vocabulary import TOGETHER, name_in


def alien(cursor: Cursor, token: Token) -> None:
    """Reports, once each, a name that only the other terms have."""
    context = cursor.context
    raw = context.source.slice(token.span)
    low = " ".join(raw.lower().split())
    for name in context.lexicon.alien:
        for prefix in ("", "fp", "bp"):
            if low in (prefix + name, prefix + name + "s") or (
                TOGETHER.match(low) and low.startswith(name) and low[len(name)].isdigit()
            ):
                if name in context.aliens:
                    return
                context.aliens.add(name)
                right = name_in(token.value, context.terms)
                other = "UK" if context.terms == "US" else "US"
                context.findings.append(
                    rules.OTHER_TERMS.at(
                        context.source,
                        token.span,
                        mend=right,
                        other=other,
                        terms=context.terms,
                        mend_name=right,
                    )
                )
                return
