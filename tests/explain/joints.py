"""Answers on joints as the explain layer words them."""

from typing import Any

from service.documents.catalog import Catalog
from service.documents.compile import compile_revision
from service.documents.joint import JointAnswer
from service.explain.joints import report_join
from service.solver.joints import find_join
from tests.support.builders import catalog
from tests.support.slow_joints import ends

Json = dict[str, Any]

BOSS_8 = "Straight-thread O-ring boss, size 8"
FLARE_6 = "37-degree flare, size 6"


def told(one: str, other: str, *changes: Json) -> JointAnswer:
    """The answer on two sides, each told in a line, in the small catalog with changes."""
    revision = compile_revision(Catalog.model_validate(catalog(*changes)), 1)
    return report_join(find_join(ends(revision, one), ends(revision, other), revision), revision)
