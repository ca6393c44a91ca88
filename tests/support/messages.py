"""The messages of the service as they stand in its source, and the message files that have them in other languages.

`python -m tests.support.messages` brings the files up to date: new messages come in without a translation, messages
that are gone go.
"""

import ast
import io
import warnings
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import get_args

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from service.documents.catalog import HookupKind, Kind
from service.documents.fields import PLACES, End
from service.domain.orders import Verdict
from service.domain.parts import OWN_RAIL_NAME
from service.domain.tongue import SPOT_CASES, WORD
from service.domain.vehicles import HOOKUP_WORDS, Duty
from service.explain.make_up import SEALED_BY
from service.explain.tongues import MESSAGES

ROOT = Path(__file__).parents[2]
_WORDED = "service.domain.tongue"
_KEYWORDS = {"said": None, "sentence": None, "always": None, "numbered": (2, 3), "plural": (1, 2)}

Id = tuple[str | tuple[str, ...], str | None]
"""What a message is known by: its text, or its texts for one and for many; its context."""


@cache
def in_source() -> Catalog:
    """Every message of the service, in the order of its files."""
    found = Catalog(project="portwright", fuzzy=False)
    for file in sorted((ROOT / "service").rglob("*.py")):
        source = file.read_text()
        if _WORDED in source or file.stem in {"tongue", "rule"} or "always(" in source:
            for message in _messages_in(source):
                found.add(message)
            for word in _words_in(source):
                found.add(word, context=WORD)
    for word in _words_of_data():
        found.add(word, context=WORD)
    for case in SPOT_CASES:
        found.add(("the {spot} spot", "the {spot} spots"), context=case)
    return found


def _messages_in(source: str) -> list[str | tuple[str, ...]]:
    with warnings.catch_warnings(action="ignore"):  # of texts with figures in them, which are no messages
        return [message for _, message, _, _ in extract("python", io.BytesIO(source.encode()), keywords=_KEYWORDS)]


def _words_in(source: str) -> Iterator[str]:
    """The words that a module writes down where it says them; `listed` puts `and` or `or` between its parts."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in {"word", "listed"}:
            given = [node.args[0]] if node.func.id == "word" else node.args[1:]
            for said in (inner for one in given for inner in ast.walk(one)):
                if isinstance(said, ast.Constant) and isinstance(said.value, str) and not _is_key(node, said):
                    yield said.value


def _is_key(call: ast.Call, constant: ast.Constant) -> bool:
    """Whether a text picks a fact, rather than being said."""
    inner = [node for argument in call.args for node in ast.walk(argument)]
    picked = [node.slice for node in inner if isinstance(node, ast.Subscript)]
    got = [argument for node in inner if isinstance(node, ast.Call) for argument in node.args[:1]]
    return any(constant is one for one in (*picked, *got))


def _words_of_data() -> Iterator[str]:
    """The words that facts and documents have."""
    yield from (OWN_RAIL_NAME, "bill", "and", "any", "link between the banks", "the part maker's figure")
    yield from (*PLACES, *get_args(End), *get_args(Kind), *get_args(Duty), *get_args(Verdict))
    yield from (*HOOKUP_WORDS.values(), *SEALED_BY.values(), "drop", "velocity", "pressure", "clearance", "across")
    yield from (f"the {HOOKUP_WORDS[kind]}" for kind in get_args(HookupKind) if kind != "own-hose")


def in_file(language: str) -> Catalog:
    """The messages of a language."""
    with (MESSAGES / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language)


def ids(catalog: Catalog) -> set[Id]:
    """What the messages of a catalog are known by."""
    return {(message.id, message.context) for message in catalog if message.id}


def bring_up_to_date(language: str) -> None:
    """Write the messages of the source into the file of a language, with the translations that it had."""
    before, now = in_file(language), in_source()
    after = Catalog(locale=language, project="portwright", fuzzy=False, header_comment=before.header_comment)
    for message in now:
        if message.id:
            known = before.get(message.id if isinstance(message.id, str) else message.id[0], message.context)
            string = known.string if known is not None and known.id == message.id else None
            after.add(message.id, string, context=message.context)
    text = io.BytesIO()
    write_po(text, after, width=0, omit_header=True, no_location=True)
    header = f'{before.header_comment}\nmsgid ""\nmsgstr ""\n'
    header += "".join(f'"{name}: {value}\\n"\n' for name, value in _HEADERS.items())
    header += f'"Language: {language}\\n"\n"Plural-Forms: {after.plural_forms}\\n"\n\n'
    (MESSAGES / f"{language}.po").write_text(header + text.getvalue().decode())


_HEADERS = {
    "Project-Id-Version": "portwright",
    "MIME-Version": "1.0",
    "Content-Type": "text/plain; charset=utf-8",
    "Content-Transfer-Encoding": "8bit",
}

if __name__ == "__main__":
    for path in MESSAGES.glob("*.po"):
        bring_up_to_date(path.stem)
