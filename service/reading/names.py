"""Things by what they are called: a car, a layout, a fuel by its id, its name or an alias, written in any habit."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from service.reading.folding import singular_key_of


class Names:
    """What the things of one section are called."""

    def __init__(self, called: Mapping[str, Iterable[str]]) -> None:
        """`called`: for each id all its names; the id is one of them."""
        self._ids = frozenset(called)
        self._by_key: dict[str, list[str]] = defaultdict(list)
        for id_, names in called.items():
            for key in dict.fromkeys(map(singular_key_of, (id_, *names))):
                self._by_key[key].append(id_)

    def of(self, text: str) -> tuple[str, ...]:
        """The ids of all things that are called so; an id that is written to the letter is that one alone."""
        if text in self._ids or not text.isprintable():
            return (text,) if text in self._ids else ()
        return tuple(self._by_key.get(singular_key_of(text), ()))
