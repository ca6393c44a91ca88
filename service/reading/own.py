"""What a part is called by, word for word, and its price: what else on its row is its own."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Own:
    """What a part's SKU, name and aliases are made of. `words`: in the singular, figures among them; `measures`: the
    numbers, fractions and decimals whole; `spelt`: the words of each name in their order,
    the SKU's first; `named`: the measures of its name and its aliases without the short ones of its SKU; `price`: the
    list price in minor units."""

    words: frozenset[str]
    measures: frozenset[str]
    spelt: tuple[tuple[str, ...], ...]
    named: frozenset[str] = frozenset()
    price: int | None = None

    def has_run(self, run: Sequence[str]) -> bool:
        """Whether words (in the singular) follow each other so in one of the names."""
        size = len(run)
        return any(one[at : at + size] == tuple(run) for one in self.spelt for at in range(len(one) - size + 1))
