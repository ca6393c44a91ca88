"""The page on the solver: its examples come out as they say, and what it points at is there."""

import re
from doctest import DocTestParser, DocTestRunner
from pathlib import Path

from service import solver

README = Path(solver.__path__[0]) / "README.md"
TEXT = README.read_text("utf-8")


def test_examples() -> None:
    examples = DocTestParser().get_doctest(re.sub(r"^```.*$", "", TEXT, flags=re.MULTILINE), {}, "README", None, 0)
    assert len(examples.examples) > 20
    assert DocTestRunner().run(examples).failed == 0


def test_paths() -> None:
    """Every module that is named stands where it is said to stand."""
    root = README.parents[2]
    named = set(re.findall(r"`((?:\w+/)*\w+\.py|(?:\w+/)+)`", TEXT))
    assert len(named) > 40
    places = {name: (root / name, README.parent / name, root / "service/rules" / name) for name in named}
    assert [name for name, found in places.items() if not any(place.exists() for place in found)] == []
