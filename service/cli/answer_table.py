"""An answer as a person reads it, in 80 columns or more."""

from collections.abc import Iterable, Iterator

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from service.documents.answer import Answer, Bill, Extra, Line, Path, Reason, RuledOut
from service.domain import units
from service.domain.money import priced

_SOURCES = {
    "buy": "buy",
    "elsewhere": "elsewhere",
    "supplied": "in the box",
    "have": "you have it",
    "on-car": "on the car",
    "add-on": "add-on",
}
_INDENT = 4


def answer_table(answer: Answer) -> Group:
    """Show the bills of an answer; where there are none, why, what would help, and what was ruled out."""
    bills = answer["bills"]
    parts: list[RenderableType] = [Text(_headline(answer), style="bold")]
    for number, bill in enumerate(bills, start=1):
        parts += _bill(bill, number, answer["currency"])
    parts += _sentences("With one change", (one["text"] for one in answer["alternatives"]))
    if not bills:
        parts += _sentences("Why", (story["text"] for story in answer["stories"]))
        parts += _sentences("What would help", (repair["text"] for repair in answer["repairs"]))
        parts += _ruled_out(answer["ruled_out"])
    parts.append(Text())
    parts += _sentences("Cautions", _cautions(bills))
    parts += _sentences("Before you begin", answer["safety"])
    return Group(*parts)


def _headline(answer: Answer) -> str:
    revision, total, shown = answer["revision"], answer["total_valid"], len(answer["bills"])
    if total == 0:
        return f"No valid bill (catalog revision {revision})."
    bills = "1 valid bill" if total == 1 else f"{total:,} valid bills"
    first = f", the first {shown} of them" if shown < total else ""
    return f"{bills}{first} (catalog revision {revision}):"


def _bill(bill: Bill, number: int, currency: str) -> Iterator[RenderableType]:
    pieces = "1 piece" if bill["pieces"] == 1 else f"{bill['pieces']} pieces"
    lead = "1 day" if bill["lead_days"] == 1 else f"{bill['lead_days']} days"
    yield Text()
    yield Rule(
        Text(f"Bill {number}: {priced(bill['price'], currency)}, {pieces}, lead time {lead}", style="bold"),
        align="left",
    )
    yield Text(bill["power"]["text"], style="bold")
    yield Text(", ".join(f"{spot}: {duty}" for spot, duty in bill["duties"].items()))
    for line in bill["lines"]:
        yield _line(line, currency)
        yield _what_and_why(line)
    demand = units.flow(bill["flow"]["demand_l_h"])
    yield from _sentences(f"Flow, for a demand of {demand}", map(_path, bill["flow"]["paths"]))
    point = bill["flow"]["operating_point"]
    limits = [limit["text"] for limit in bill["power"]["limits"]]
    yield from _sentences("Behind the power", [*limits, *([] if point is None else [point["text"]])])
    tightest = bill["margin"]["tightest"]
    yield from _sentences("How close to a limit", [] if tightest is None else [tightest["text"]])
    yield from _sentences("Besides, not in the price", map(_extra, bill["extras"]))
    yield Text(f"Key: {bill['key']}", style="dim", overflow="fold")


def _line(line: Line, currency: str) -> Table:
    table = Table.grid(padding=(0, 1), expand=True)
    table.add_column(width=_INDENT - 1, justify="right")
    table.add_column(ratio=1, overflow="fold", style="bold")
    table.add_column(width=10)
    table.add_column(width=14, overflow="fold")
    table.add_column(min_width=10, justify="right", no_wrap=True)
    price = priced(line["price"], currency) if line["source"] == "buy" else ""
    table.add_row(str(line["qty"]), line["sku"], _SOURCES[line["source"]], ", ".join(line["spots"]), price)
    return table


def _what_and_why(line: Line) -> Padding:
    others = [sku for sku in line["choices"] if sku != line["sku"]]
    name = Text(line["name"] + (f" (or {', '.join(others)})" if others else ""))
    return Padding(Group(name, _reasons(line["reasons"])), (0, 0, 0, _INDENT))


def _reasons(reasons: Iterable[Reason | RuledOut]) -> Table:
    table = Table.grid(padding=(0, 1))
    table.add_column(width=9, style="dim")
    table.add_column(overflow="fold")
    for reason in reasons:
        table.add_row(reason["rule"], reason["text"])
    return table


def _extra(extra: Extra) -> str:
    return f"{extra['qty']} x {extra['sku']}: {extra['text']}"


def _path(path: Path) -> str:
    drop, velocity = units.pressure(path["drop_kpa"]), units.velocity(path["peak_m_s"])
    text = (
        f"{path['duty']} {', '.join(path['spots'])}: {units.flow(path['flow_l_h'])}, drop {drop} of at most "
        f"{units.pressure(path['limit_kpa'])}, peak {velocity} of at most {units.velocity(path['limit_m_s'])}"
    )
    unrated = [*path["unrated"], *(["the hose"] if path["hose_rated"] is False else [])]
    return text + (f"; not rated: {', '.join(unrated)}" if unrated else "")


def _cautions(bills: list[Bill]) -> Iterator[str]:
    """Yield each caution once, with the bills that it is about where not all have it."""
    numbers: dict[str, list[str]] = {}
    for number, bill in enumerate(bills, start=1):
        for text in dict.fromkeys(caution["text"] for caution in bill["cautions"]):
            numbers.setdefault(text, []).append(str(number))
    for text, about in numbers.items():
        yield text if len(about) == len(bills) else f"Bill {', '.join(about)}: {text}"


def _ruled_out(ruled_out: list[RuledOut]) -> Iterator[RenderableType]:
    if ruled_out:
        yield Text("What was ruled out, and the first rule that stops it:")
    for part in ruled_out:
        where = f" at {part['spot']}" if part["spot"] else ""
        yield Text.assemble((part["sku"], "bold"), where)
        yield Padding(_reasons([part]), (0, 0, 0, _INDENT))


def _sentences(title: str, sentences: Iterable[str]) -> Iterator[RenderableType]:
    table = Table.grid(padding=(0, 1))
    table.add_column(width=_INDENT - 2, justify="right")
    table.add_column(overflow="fold")
    for sentence in sentences:
        table.add_row("-", sentence)
    if table.row_count:
        yield Text(f"{title}:", style="bold")
        yield table
