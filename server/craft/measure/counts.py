"""Which foundation counts a pattern allows, as the fit needs them."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.tree import Header

LEAST_REPEATS = 3  # fewer repeats than three are never proved (notation: Custom)
MAX_CHAINS = 2000


@dataclass(frozen=True, slots=True)
class AllowedCounts:
    """The sizes' counts, and every whole number of repeats (k · multiple + plus, at least three).

    multiple   None where only the sizes are worked
    lowest, highest   the range of custom counts that the pattern proves; None where it does not say
    """

    sizes: tuple[int, ...] = ()
    multiple: int | None = None
    plus: int = 0
    lowest: int | None = None
    highest: int | None = None

    def __post_init__(self) -> None:
        if self.multiple is not None and self.multiple < 1:
            raise ValueError(f"a multiple is at least 1, not {self.multiple}")
        if self.multiple is None and not self.sizes:
            raise ValueError("a pattern has sizes, a multiple, or both")

    @classmethod
    def of(cls, header: Header) -> AllowedCounts | None:
        """The counts of a pattern; None where it starts from a ring, or gives neither counts nor a
        multiple.
        """
        custom = header.custom
        multiple = header.multiple
        if custom is not None and custom[0] > custom[1]:  # `Custom: none`
            multiple, custom = None, None
        if not header.foundations and multiple is None:
            return None
        low, high = custom if custom is not None else (None, None)
        return cls(tuple(sorted(set(header.foundations))), multiple, header.plus, low, high)

    def allows(self, foundation: int) -> bool:
        """Whether it is a size's count or a whole number of repeats."""
        if foundation in self.sizes:
            return True
        if self.multiple is None or foundation < self._least():
            return False
        return (foundation - self.plus) % self.multiple == 0

    def below(self, count: float) -> int | None:
        """The largest allowed count that is less; None where there is none."""
        found = [size for size in self.sizes if size < count]
        if self.multiple is not None:
            repeats = -(-(count - self.plus) // self.multiple) - 1
            custom = int(repeats) * self.multiple + self.plus
            if custom >= self._least():
                found.append(min(custom, self._most()))
        return max(found, default=None)

    def above(self, count: float) -> int | None:
        """The smallest allowed count that is more; None where there is none."""
        found = [size for size in self.sizes if size > count]
        if self.multiple is not None:
            repeats = (count - self.plus) // self.multiple + 1
            custom = max(int(repeats) * self.multiple + self.plus, self._least())
            if custom <= self._most():
                found.append(custom)
        return min(found, default=None)

    def nearest(self, count: float) -> int:
        """The allowed count nearest to a number of chains; the larger of two as near."""
        near = [one for one in (self.below(count), self.above(count)) if one is not None]
        if count == int(count) and self.allows(int(count)):
            return int(count)
        return min(near, key=lambda one: (abs(one - count), -one))

    def words(self) -> str:
        """What is allowed, in words: "a multiple of 4 plus 2", "24, 28 or 32"."""
        if self.multiple is None:
            *most, last = map(str, self.sizes)
            return f"{', '.join(most)} or {last}" if most else last
        return f"a multiple of {self.multiple}" + (f" plus {self.plus}" if self.plus else "")

    def _least(self) -> int:
        multiple = self.multiple or 1
        least = LEAST_REPEATS * multiple + self.plus
        if self.lowest is not None:  # the pattern's own word holds, as far as it leaves a whole repeat
            least = max(self.lowest, multiple + self.plus)
        return least + (self.plus - least) % multiple

    def _most(self) -> int:
        multiple = self.multiple or 1
        most = self.highest if self.highest is not None else MAX_CHAINS
        return max(most - (most - self.plus) % multiple, self._least())
