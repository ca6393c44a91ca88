"""The heads of a sheet: which column of its table stands where; what is wrong with them."""

from service.documents.nearest import nearest
from service.documents.rendering import rendered
from service.tables.cells import is_empty
from service.tables.faults import Faults, Place
from service.tables.opening import Sheet
from service.tables.shape import Table
from service.tables.workbook import letters


def places_of(table: Table, sheet: Sheet, faults: Faults) -> list[int] | None:
    """For each head of a table the place of its column in a sheet; None where that is not clear.

    A head may be told by its words, whatever their case, or by the name that the document has.
    """
    known = {".".join(x.path): place for place, x in enumerate(table.columns, table.keys) if x.path}
    known |= {_key(head): place for place, head in enumerate(table.heads)}
    found: dict[int, int] = {}
    is_clear = True
    for place, cell in enumerate(sheet.heads):
        if is_empty(cell):
            continue
        told = str(cell).strip()
        meant = known.get(_key(told), known.get(told))
        at = Place(sheet.title, 1, letters(place))
        if meant is None:
            near = tuple(nearest(told, table.heads))
            faults.add(at, rendered(told), f"the head of a column{_unit_hint(told, table)}", near)
        elif meant in found:
            faults.add(at, f"{rendered(told)} once more", f"each head once: column {letters(found[meant])} has it")
        is_clear = is_clear and meant is not None and meant not in found
        if meant is not None:
            found.setdefault(meant, place)
    for place, head in enumerate(table.heads):
        if place not in found:
            expected = "its column, empty where there is nothing: without it all of its values would be gone"
            faults.add(Place(sheet.title, 1, head), "no such column", expected)
            is_clear = False
    return [found[place] for place in range(len(table.heads))] if is_clear else None


def _key(head: object) -> str:
    return " ".join(str(head).split()).casefold()


def _unit_hint(told: str, table: Table) -> str:
    """What to say where a head is right but for its unit."""
    bare = _key(told.partition("(")[0])
    same = [head for head in table.heads if _key(head.partition(" (")[0]) == bare]
    return f" with its unit: {' or '.join(same)}" if same else ""
