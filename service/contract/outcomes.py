"""What came of one promise."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Outcome:
    """A promise and every way in which it was broken; none: it was kept. `group`: cases, or promises of the API."""

    group: str
    name: str
    broken: tuple[str, ...]

    @property
    def is_kept(self) -> bool:
        return not self.broken
