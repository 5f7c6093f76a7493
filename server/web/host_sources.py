"""What a sheet or a chart is made from: the draft of a part as it is kept, or one of its versions."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal
from unicodedata import normalize
from urllib.parse import quote

from fastapi import Path
from sqlmodel import Session

from server.craft.fabric import Proof
from server.services import patterns

RowId = Annotated[int, Path(ge=1, le=2**63 - 1)]


@dataclass(frozen=True)
class SizeLink:
    """A size with the key that its chart is found by."""

    key: str
    words: str


@dataclass(frozen=True)
class Source:
    """A text with its proof. `version` is None for the draft."""

    part_id: int
    part_title: str
    along_id: int
    version: int | None
    text: str
    proof: Proof

    @property
    def address(self) -> str:
        """Where its page stands; its sheet and charts stand below."""
        part = f"/host/parts/{self.part_id}"
        return part if self.version is None else f"{part}/versions/{self.version}"

    @property
    def title(self) -> str:
        """The pattern's title, or the part's where it has none."""
        return self.proof.title or self.part_title

    @property
    def sizes(self) -> tuple[SizeLink, ...]:
        """The sizes of a proved pattern."""
        return tuple(
            SizeLink(str(foundation or name), f"{name} ({foundation} ch)" if foundation else name)
            for name, foundation in self.proof.sizes.items()
        )


def draft(session: Session, host_id: int, part_id: int) -> Source:
    """The draft that is kept; NotFound where the part is not hers."""
    found = patterns.open_part(session, host_id, part_id)
    checked = patterns.check(found.text)
    return Source(part_id, found.part_title, found.along_id, None, checked.text, checked.proof)


def version(session: Session, host_id: int, part_id: int, number: int) -> Source:
    """A published version; NotFound where there is none, or the part is not hers."""
    found = patterns.version(session, host_id, part_id, number)
    checked = patterns.check(found.text)
    return Source(part_id, found.part_title, found.along_id, number, checked.text, checked.proof)


def disposition(how: Literal["attachment", "inline"], name: str, ending: str) -> str:
    """The header that names a file after a title: in its own letters, and in plain ones for those who know no
    others (RFC 6266).
    """
    words = "-".join(re.findall(r"[^\W_]+", normalize("NFC", name)))[:80] or "pattern"
    plain = "-".join(re.findall(r"[A-Za-z0-9]+", normalize("NFKD", words).encode("ascii", "ignore").decode()))
    return f"{how}; filename=\"{plain or 'pattern'}.{ending}\"; filename*=UTF-8''{quote(f'{words}.{ending}')}"
