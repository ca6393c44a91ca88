"""`portwright catalog impact`: what one catalog does to the standing questions of another."""

import json
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Annotated

import typer

from service.cli.catalogs import checked
from service.cli.console import errors, output
from service.cli.database import opened_database
from service.cli.refusals import refusals_told
from service.documents.impact import CatalogChange, ImpactAnswer, ImpactQuestion
from service.documents.rendering import printable
from service.impact.questions import Kept
from service.settings import read_settings
from service.storage.engine import Database
from service.storage.revisions import RevisionStore
from service.usecases.impact import impact_of, impact_told
from service.usecases.impact_orders import orders_told
from service.usecases.library import Edition, Library
from service.usecases.standing import KeptQuestions, questions_in

_TEXT_LIMIT = 2_000
_MOST_NAMED = 5


@refusals_told()
def impact(
    from_: Annotated[str, typer.Argument(metavar="FROM", help="A revision's number, or a catalog as for `check`.")],
    to: Annotated[str, typer.Argument(metavar="TO", help="The same, of what is held against it.")],
    as_json: Annotated[bool, typer.Option("--json", help="All that is known, as JSON.")] = False,
) -> None:
    """Tell what one catalog does to the answers of another: promises broken, bills lost and gained, and which edits did
    it."""
    with ExitStack() as stack:
        kept, library = KeptQuestions(), None
        if any(map(_is_number, (from_, to))):
            database = stack.enter_context(opened_database())
            kept, library = questions_in(database, read_settings().keeping), Library(RevisionStore(database))
        before, after = _edition(from_, library, 1), _edition(to, library, 2)
        with errors().status("Asking every standing question of both"):
            found = impact_of(before, after, kept.gather())
            orders = orders_told(before, after, kept.orders)
    names = tuple(int(name) if _is_number(name) else name for name in (from_, to))
    told = impact_told(found, before, after, (names[0], names[1]))
    if kept.orders is not None:
        told["orders"] = orders
    for line in [json.dumps(told, ensure_ascii=False, indent=2)] if as_json else impact_lines(told):
        output().print(line, soft_wrap=True, markup=False, highlight=False)


def kept_in(database: Database) -> Kept:
    """Return the standing questions that are kept in a database beside its catalogs."""
    return questions_in(database, read_settings().keeping).gather()


def impact_lines(told: ImpactAnswer) -> Iterator[str]:
    """Yield an impact as text: how many questions have which outcome, then each that is not the same."""
    yield ", ".join(f"{outcome}: {count}" for outcome, count in told["counts"].items()) or "no standing question"
    yield f"changes: {_named(told['changes']) if told['changes'] else 'none'}"
    for question in told["questions"]:
        yield question_line(question)
    if (orders := told.get("orders")) and orders["otherwise"]:
        named = ", ".join(orders.get("ids", [])[:_MOST_NAMED])
        yield f"kept order checks judged otherwise: {orders['otherwise']:,} of {orders['looked_at']:,}: {named}"
    for request in told["not_asked"]:
        yield f"not asked, as it takes too much work: {json.dumps(request)}"


def question_line(question: ImpactQuestion) -> str:
    """Return a question with its outcome, and what did it, in a line."""
    because = f" Because of: {_named(question['because'])}." if question["because"] else ""
    return printable(f"{question['outcome']:<11} {question['text']}{because}", _TEXT_LIMIT)


def _named(changes: list[CatalogChange]) -> str:
    named = [f"{change['kind'].replace('_', ' ')} {change['id']} {change['what']}" for change in changes[:_MOST_NAMED]]
    more = len(changes) - len(named)
    return "; ".join(named) + (f"; and {more:,} more" if more else "")


def _is_number(name: str) -> bool:
    return name.isascii() and name.isdecimal() and len(name) < 11 and not Path(name).exists()


def _edition(name: str, library: Library | None, number: int) -> Edition:
    if library is not None and _is_number(name):
        return library.edition(int(name))
    return Edition(number, checked(Path(name)))
