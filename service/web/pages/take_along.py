"""A bill to take along: as text for a mail, and as rows for a spreadsheet."""

import csv
import io

from service.documents.answer import Bill, Line
from service.documents.money import InMoney
from service.domain.money import priced
from service.usecases.check_sheet import plain
from service.usecases.sheet_names import amount

SOURCES = {
    "buy": "bought",
    "elsewhere": "buy elsewhere",
    "supplied": "comes with a part",
    "have": "at hand",
    "on-car": "on the car",
    "add-on": "comes with the add-on",
}
"""Where the units of a line come from."""
CAUTION = (
    "A check on paper does not prove that an assembly is safe. Fuel under pressure burns people: "
    "have a qualified technician do or inspect the work."
)


def text_of(bill: Bill, title: str, currency: str, link: str) -> str:
    """The list in plain lines, with total, power and where to find it again."""
    days = "1 day" if bill["lead_days"] == 1 else f"{bill['lead_days']} days"
    lines = [title, "", *(_line(line, currency) for line in bill["lines"]), ""]
    lines += [f"Total {priced(bill['price'], currency)}, {bill['pieces']} pieces, lead time {days}."]
    lines += [bill["power"]["text"], "", f"Bill {bill['key']}", link, "", CAUTION, ""]
    return "\n".join(lines)


def _line(line: Line, currency: str) -> str:
    at = f" ({', '.join(line['spots'])})" if line["spots"] else ""
    price = priced(line["price"], currency) if line["source"] == "buy" else SOURCES[line["source"]]
    return f"{line['qty']} x {line['sku']}  {line['name']}{at}: {price}"


def csv_of(bill: Bill, money: InMoney) -> str:
    """A row a line, then the total; texts that a spreadsheet would take for formulas are marked."""
    currency, tax = money["currency"], money["tax"] or ""
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\r\n")
    rows.writerow(["qty", "sku", "name", "spots", "source", "price", "currency", "unit_price", "tax"])
    for line in bill["lines"]:
        name, spots = plain(line["name"]), " ".join(line["spots"])
        is_bought, source = line["source"] == "buy", SOURCES[line["source"]]
        price, unit_price = (amount(line[x], currency) if is_bought else "" for x in ("price", "unit_price"))
        rows.writerow([line["qty"], plain(line["sku"]), name, spots, source, price, currency, unit_price, tax])
    rows.writerow(["", "", "total", "", "", amount(bill["price"], currency), currency, "", tax])
    return written.getvalue()
