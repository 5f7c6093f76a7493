"""Stitches in full words, US and UK, for the key of a chart.

Names: the conversion charts named in the reference (crochetforall.com, funcrochetdesigns.com).
"""

from __future__ import annotations

from server.craft.text.tree import Terms
from server.craft.text.vocabulary import BY_US, POST, TOGETHER

US_WORDS = {
    "sl st": "slip stitch",
    "sc": "single crochet",
    "hdc": "half double crochet",
    "dc": "double crochet",
    "tr": "treble crochet",
    "dtr": "double treble crochet",
    "trtr": "triple treble crochet",
}
UK_WORDS = {
    "sl st": "slip stitch",
    "sc": "double crochet",
    "hdc": "half treble",
    "dc": "treble",
    "tr": "double treble",
    "dtr": "triple treble",
    "trtr": "quadruple treble",
}


def full_words(name: str, terms: Terms) -> str:
    """A stitch's name in full: "front post double crochet", "2 trebles together"; "" for a pattern's own."""
    words = US_WORDS if terms == "US" else UK_WORDS
    if name in words:
        return words[name]
    if (post := POST.match(name)) and post[2] in BY_US:
        return f"{'front' if post[1] == 'FP' else 'back'} post {words[post[2]]}"
    if (together := TOGETHER.match(name)) and together[1] in BY_US:
        many = words[together[1]]
        plural = many if many.endswith("crochet") else f"{many}s"
        return f"{together[2]} {plural} together"
    return {"ch": "chain", "puff": "puff stitch"}.get(name, "")
