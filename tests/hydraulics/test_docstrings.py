"""Every public function of the two packages shows its papers: unit of each argument and of the result."""

import inspect
import re

import pytest

from service import engineering, hydraulics

PUBLIC = {name: getattr(package, name) for package in (engineering, hydraulics) for name in package.__all__}


@pytest.mark.parametrize("public", PUBLIC.values(), ids=PUBLIC)
def test_every_argument_has_its_unit(public: type) -> None:
    """A line of the docstring names each argument, and its unit in square brackets."""
    text = inspect.getdoc(public) or ""
    for argument in inspect.signature(public).parameters:
        assert re.search(rf"^{argument}: .*\[[^\]]+\]", text, re.MULTILINE), f"{argument} has no unit"
