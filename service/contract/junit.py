"""Outcomes as JUnit XML, the form that continuous integration reads."""

import re
from collections.abc import Sequence
from itertools import groupby
from xml.etree import ElementTree as ET

from service.contract.outcomes import Outcome

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def junit_xml(outcomes: Sequence[Outcome]) -> bytes:
    """A document with a suite a group and a test case a promise."""
    root = ET.Element("testsuites", _counts(outcomes) | {"name": "portwright contract"})
    for group, members in groupby(outcomes, key=lambda outcome: outcome.group):
        of_group = list(members)
        suite = ET.SubElement(root, "testsuite", _counts(of_group) | {"name": group})
        for outcome in of_group:
            case = ET.SubElement(suite, "testcase", {"classname": group, "name": _written(outcome.name)})
            if outcome.broken:
                message = _written(outcome.broken[0])
                ET.SubElement(case, "failure", {"message": message}).text = _written("\n".join(outcome.broken))
    return bytes(ET.tostring(root, encoding="utf-8", xml_declaration=True))


def _counts(outcomes: Sequence[Outcome]) -> dict[str, str]:
    failures = sum(not outcome.is_kept for outcome in outcomes)
    return {"tests": str(len(outcomes)), "failures": str(failures), "errors": "0"}


def _written(text: str) -> str:
    """Without the characters that XML 1.0 does not have."""
    return _NOT_XML.sub("\ufffd", text)
