"""What is wrong with sheets: told by sheet, row and column, with what stood there and what would be right."""

from dataclasses import dataclass, field, replace

from service.documents.faults import MOST_TOLD


@dataclass(frozen=True)
class Place:
    """A place in a file of tables; rows count from 1, the heads are the first. None: the sheet, or row, as a whole."""

    sheet: str
    row: int | None = None
    column: str | None = None

    def __str__(self) -> str:
        parts = [self.sheet]
        if self.row is not None:
            parts.append(f"row {self.row}")
        if self.column is not None:
            parts.append(f"column {self.column}")
        return ", ".join(parts)


@dataclass(frozen=True)
class TableFault:
    """One fault: where, what stood there, what would be right, the nearest known names."""

    place: Place
    found: str
    expected: str
    nearest: tuple[str, ...] = ()


@dataclass
class Faults:
    """The first faults of a file; the others are counted."""

    told: list[TableFault] = field(default_factory=list)
    more: int = 0

    @property
    def has_room(self) -> bool:
        """Whether one more is told, and not only counted."""
        return len(self.told) < MOST_TOLD

    def add(self, place: Place, found: str, expected: str, nearest: tuple[str, ...] = ()) -> None:
        """Add a fault."""
        if self.has_room:
            self.told.append(TableFault(place, found, expected, nearest))
        else:
            self.more += 1

    def __bool__(self) -> bool:
        return bool(self.told)


class TableFaultsError(ValueError):
    """Raised for tables that are refused: the first faults, and how many there are besides."""

    def __init__(self, faults: Faults) -> None:
        super().__init__("; ".join(f"{x.place}: found {x.found}, expected {x.expected}" for x in faults.told))
        self.faults = replace(faults)


def refused(place: str, found: str, expected: str, nearest: tuple[str, ...] = ()) -> TableFaultsError:
    """The refusal of a whole file or sheet."""
    faults = Faults()
    faults.add(Place(place), found, expected, nearest)
    return TableFaultsError(faults)
