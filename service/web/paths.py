"""What holds of some paths, of which a part may be anything: `/v1/drafts/*/tables`."""

from collections.abc import Iterator, Mapping
from typing import TypeVar

T = TypeVar("T")

ANY = "*"


class OfPaths(Mapping[str, T]):
    """Values by paths; where a path has `*` for a part, all that have something else there are meant."""

    def __init__(self, values: Mapping[str, T]) -> None:
        self._values = values
        self._open = [(path.split("/"), value) for path, value in values.items() if ANY in path]

    def __getitem__(self, path: str) -> T:
        if path in self._values:
            return self._values[path]
        for parts, value in self._open:
            told = path.split("/", len(parts))
            if len(told) == len(parts) and all(x in (ANY, y) for x, y in zip(parts, told, strict=True)):
                return value
        raise KeyError(path)

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)
