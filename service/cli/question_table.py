"""A question as it was read, for a person: what is understood, what has to be asked, what was not read."""

from collections.abc import Collection

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.text import Text

from service.documents.question_reading import OpenField, ReadQuestion
from service.documents.rendering import printable
from service.documents.unknown_car import UnknownCarSaid

_INDENT = 2
_MOST_SHOWN, _MOST_PATTERNS = 12, 6
_LONGEST = 400


def question_table(told: ReadQuestion, settled: Collection[str] = ()) -> Group:
    """Show a reading; `settled`: the fields that options tell, which are not asked."""
    rows: list[RenderableType] = []
    if told["understood"]:
        rows.append(Text("Understood", style="bold"))
        rows += [_indented(f'{one["field"]}: {one["says"]} ("{one["words"]}")') for one in told["understood"]]
    asked = [one for one in told["open"] if one["field"] not in settled]
    if asked:
        rows.append(Text("To be asked", style="bold"))
        for question in asked:
            rows += _asked(question)
    if told["unread"]:
        rows.append(Text("Not read", style="bold"))
        rows.append(_indented(", ".join(told["unread"])))
    if told["unknown_car"]:
        rows += _unknown(told["unknown_car"])
    if not rows:
        rows.append(Text("Nothing was understood."))
    return Group(*rows)


def _unknown(said: UnknownCarSaid) -> list[RenderableType]:
    """What can be said of a car that the catalog does not have."""
    facts = ", ".join(f"{name.replace('_', ' ')}: {value}" for name, value in said["car"].items())
    rows: list[RenderableType] = [Text("Perhaps a car that is not in the catalog", style="bold"), _indented(facts)]
    rows.append(_indented(said["by_pattern"]))
    for one in said["patterns"][:_MOST_PATTERNS]:
        cars, rails = (
            ", ".join(names) for names in ([x["name"] for x in one["cars"]], [x["sku"] for x in one["rails"]])
        )
        rows.append(_indented(f"pattern {one['pattern']}, as on {cars}: {rails}", 2 * _INDENT))
    rows += [_indented(said["by_own_rail"]), _indented("To be measured or told:")]
    rows += [_indented(one["text"], 2 * _INDENT) for one in said["measure"]]
    return [*rows, _indented(said["caution"])]


def _asked(question: OpenField) -> list[RenderableType]:
    rows: list[RenderableType] = [_indented(f"{question['field']}: {question['asks']}")]
    choices = question["choices"]
    for choice in choices[:_MOST_SHOWN]:
        value = choice["value"]
        shown = f"{value}: {choice['says']}" if isinstance(value, str) else choice["says"]
        rows.append(_indented(shown, 2 * _INDENT))
    if len(choices) > _MOST_SHOWN:
        rows.append(_indented(f"and {len(choices) - _MOST_SHOWN} more", 2 * _INDENT))
    return rows


def _indented(text: str, by: int = _INDENT) -> Padding:
    return Padding(Text(printable(text, _LONGEST)), (0, 0, 0, by))
