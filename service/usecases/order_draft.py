"""An order on its way from what somebody wrote to what is sent: its lines as they were read and settled."""

from collections.abc import Iterable, Mapping
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from service.documents.request import PartCount
from service.reading.orders import OrderReader, ReadLine

MOST_QTY = 10_000


class Choice(BaseModel):
    """A part and a quantity that may be meant."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    sku: str
    name: str
    qty: PartCount


class DraftLine(BaseModel):
    """A line of an order. `asks`: what has to be settled, None where it is sure or somebody has settled it."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    row: int
    text: Annotated[str, Field(max_length=500)]
    sku: str | None = None
    qty: PartCount | None = None
    asks: str | None = None
    choices: tuple[Choice, ...] = ()
    by_hand: bool = False
    left_out: bool = False

    @property
    def is_open(self) -> bool:
        """Whether a person has to settle it."""
        return not self.left_out and (self.asks is not None or self.sku is None or self.qty is None)

    def settled(self, sku: str, qty: int) -> "DraftLine":
        """The line with a part and a quantity that a person has chosen."""
        return self.model_copy(update={"sku": sku, "qty": qty, "asks": None, "by_hand": True, "left_out": False})


class Draft(BaseModel):
    """A whole order. `fields`: what was asked with it, as the form has it; `text`: as it came, where that is kept."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    lines: tuple[DraftLine, ...] = ()
    unread_rows: tuple[int, ...] = ()
    fields: Mapping[str, str] = {}
    text: str | None = None

    @property
    def open_lines(self) -> list[int]:
        """The places of the lines that have to be settled."""
        return [place for place, line in enumerate(self.lines) if line.is_open]

    def ordered(self) -> list[dict[str, object]]:
        """The lines as an order has them, the same part once."""
        wanted: dict[str, int] = {}
        for line in self.lines:
            if not line.left_out and line.sku is not None and line.qty is not None:
                wanted[line.sku] = wanted.get(line.sku, 0) + line.qty
        return [{"sku": sku, "qty": qty} for sku, qty in wanted.items()]

    def with_line(self, place: int, line: DraftLine) -> "Draft":
        """The order with another line at a place."""
        return self.model_copy(update={"lines": (*self.lines[:place], line, *self.lines[place + 1 :])})


def drafted(lines: Iterable[ReadLine], after: int = 0) -> tuple[DraftLine, ...]:
    """Lines as they were read; rows count on from `after`."""
    return tuple(
        DraftLine(
            row=after + line.row,
            text=line.text[:500],
            sku=line.sku,
            qty=line.qty,
            asks=line.asks,
            choices=tuple(Choice(sku=x.sku, name=x.name, qty=x.qty) for x in line.candidates),
        )
        for line in lines
    )


def given(parts: Iterable[Mapping[str, object]], fields: Mapping[str, str], reader: OrderReader) -> Draft:
    """An order whose parts were told in cells: each is read, and its quantity taken where it is one."""
    lines = []
    for row, part in enumerate(parts, 1):
        sku, qty = str(part.get("sku", "")), part.get("qty")
        number = qty if isinstance(qty, int) and 1 <= qty <= MOST_QTY else None
        named = reader.named(sku)
        choices = tuple(Choice(sku=one, name=reader.name(one), qty=number or 1) for one in (named or reader.near(sku)))
        is_sure = len(named) == 1 and number is not None
        asks = None if is_sure else "which part, and how many?"
        text = f"{part.get('qty', '')} x {sku}"[:500]
        meant = named[0] if len(named) == 1 else None
        lines.append(DraftLine(row=row, text=text, sku=meant, qty=number, asks=asks, choices=choices))
    return Draft(lines=tuple(lines), fields=fields)


def changed(draft: Draft, told: Mapping[str, str], reader: OrderReader) -> Draft:
    """The order after what a form tells of its lines, places counted from 0.

    `pick` PLACE:NUMBER takes a choice, `drop` PLACE leaves a line out, `back` PLACE takes it in again; `qty.PLACE` and
    `part.PLACE` hold what stands in the fields of a line, `more` has rows to be added.
    """
    lines = [
        _typed(line, told.get(f"part.{place}", ""), told.get(f"qty.{place}", ""), reader)
        for place, line in enumerate(draft.lines)
    ]
    draft = draft.model_copy(update={"lines": tuple(lines)})
    draft = _pressed(draft, told)
    more = told.get("more", "").strip()
    if more:
        after = max((line.row for line in draft.lines), default=0)
        draft = draft.model_copy(update={"lines": (*draft.lines, *drafted(reader.read(more).lines, after))})
    return draft


def _typed(line: DraftLine, part: str, qty: str, reader: OrderReader) -> DraftLine:
    """A line after what stands in its fields: a quantity that is another one, the name of a part."""
    number = int(qty) if qty.strip().isdecimal() and 1 <= int(qty[:9]) <= MOST_QTY else None
    named = reader.named(part) if part.strip() else ()
    sku = named[0] if len(named) == 1 else line.sku
    is_new = (number is not None and number != line.qty) or (sku != line.sku)
    if is_new and sku is None:
        choices = tuple(choice.model_copy(update={"qty": number}) for choice in line.choices)
        return line.model_copy(update={"qty": number, "choices": choices})
    if not is_new or sku is None:
        return line
    wanted = number if number is not None else line.qty
    return line if wanted is None else line.settled(sku, wanted)


def _pressed(draft: Draft, told: Mapping[str, str]) -> Draft:
    """The order after the button that was pressed; one that is not there changes nothing."""
    for button in ("pick", "drop", "back"):
        place, _, number = told.get(button, "").partition(":")
        if not place.isdecimal() or int(place[:6]) >= len(draft.lines):
            continue
        line = draft.lines[int(place)]
        if button == "pick" and number.isdecimal() and int(number[:6]) < len(line.choices):
            choice = line.choices[int(number)]
            return draft.with_line(int(place), line.settled(choice.sku, choice.qty))
        if button != "pick":
            return draft.with_line(int(place), line.model_copy(update={"left_out": button == "drop"}))
    return draft
