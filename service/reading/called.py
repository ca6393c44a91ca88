"""What is called by each key, and what may stand between the words of a name."""

from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache
from typing import Literal

How = Literal["sku", "name", "alias", "family"]

_SKU_GAPS = frozenset(" ._/-")
_NAME_GAPS = frozenset(" ._/-,()'\":+&")
_LONGEST_GAP = 4
OF_NAMES, OF_SKUS, OF_TWO = 1, 2, 3


class Called:
    """What is called by each key: by its SKU, or by a name or an alias."""

    def __init__(self) -> None:
        self._skus: dict[str, list[str]] = defaultdict(list)
        self._names: dict[str, dict[str, How]] = defaultdict(dict)

    @property
    def keys(self) -> Iterable[str]:
        return (*self._skus, *self._names)

    def enter(self, key: str, sku: str, how: How) -> None:
        if how == "sku":
            self._skus[key].append(sku)
        else:
            self._names[key].setdefault(sku, how)

    def of(self, key: str, is_sku: bool = True) -> tuple[tuple[str, ...], How]:
        """All that is called so; by its SKU only where the words may be one."""
        skus = self._skus.get(key, []) if is_sku else []
        names = self._names.get(key, {})
        how: How = "sku" if skus else next(iter(names.values()), "name")
        return tuple(dict.fromkeys((*skus, *names))), how


@lru_cache(maxsize=1_024)
def gap_of(between: str) -> int:
    """Whether words stay one name over what stands between them: a name, a SKU as well, or two names joined."""
    if len(between) > _LONGEST_GAP or not _NAME_GAPS.issuperset(between):
        return 0
    joined_by = OF_TWO if "+" in between or "&" in between else OF_NAMES
    return OF_SKUS if _SKU_GAPS.issuperset(between) else joined_by
