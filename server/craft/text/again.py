"""Reads lines whose text is that of other rounds: `rep rnd 3 of Cuff`, `as rnd 2`."""

from __future__ import annotations

from server.craft.text.cursor import Context, Cursor
from server.craft.text.lexer import Token
from server.craft.text.tree import RepeatRounds


def repeat_rounds(found: list[Token], context: Context) -> RepeatRounds | None:
    """`rep rnd 3 of Cuff`, `rep rnds 2 and 3`, `same as rnd 2`, `as rnd 2`."""
    cursor = Cursor(found, context)
    cursor.skip_words(("work", "same", "as", "for", "cont", "in", "foll", "next", "the"))
    cursor.word("rep")
    cursor.skip_words(("the", "last"))
    if not cursor.word("rnd") or cursor.peek().kind != "num":
        return None
    numbers = [cursor.take().number]
    while True:
        if cursor.is_punct("-", "&", ",") or cursor.is_word("to", "and", "through", "thru"):
            through = cursor.is_punct("-") or cursor.is_word("to", "through", "thru")
            back = cursor.at
            cursor.take()
            cursor.word("and")
            if cursor.peek().kind == "num" and cursor.peek().number <= 1000:
                upto = cursor.take().number
                numbers.extend(range(numbers[-1] + 1, upto + 1) if through else [upto])
                continue
            cursor.at = back
        break
    section = None
    if cursor.word("of", "from", "in"):
        cursor.skip_words(("the", "section"))
        start = cursor.at
        while not cursor.done and not cursor.is_punct(".", ";", ","):
            cursor.take()
        section = " ".join(context.source.slice(context.source.trimmed(cursor.since(start))).split())
    return RepeatRounds(tuple(numbers), section, found[0].span.to(found[-1].span))
