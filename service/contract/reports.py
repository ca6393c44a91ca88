"""Outcomes in the forms that continuous integration reads: JUnit XML, and the workflow commands of GitHub Actions."""

import re
from collections.abc import Iterator, Sequence
from itertools import groupby
from xml.etree import ElementTree as ET

from service.contract.outcomes import Outcome

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NO_ANSWER = ("slow", "failing")


def junit_xml(outcomes: Sequence[Outcome]) -> bytes:
    """A document with a suite a group and a test case a promise: a broken one fails, one without an answer is an
    error."""
    root = ET.Element("testsuites", _counts(outcomes) | {"name": "portwright contract"})
    for group, members in groupby(outcomes, key=lambda outcome: outcome.group):
        of_group = list(members)
        suite = ET.SubElement(root, "testsuite", _counts(of_group) | {"name": group})
        for outcome in of_group:
            case = ET.SubElement(suite, "testcase", {"classname": group, "name": _written(outcome.name)})
            if outcome.state == "broken":
                text = "\n".join(line for broken in outcome.broken for line in broken.lines())
                message = _written(outcome.broken[0].what)
                ET.SubElement(case, "failure", {"message": message}).text = _written(text)
            elif not outcome.is_kept:
                tag = "error" if outcome.state in _NO_ANSWER else "skipped"
                ET.SubElement(case, tag, {"message": _written(f"{outcome.state}: {outcome.why}")})
    return bytes(ET.tostring(root, encoding="utf-8", xml_declaration=True))


def _counts(outcomes: Sequence[Outcome]) -> dict[str, str]:
    states = [outcome.state for outcome in outcomes]
    return {
        "tests": str(len(states)),
        "failures": str(states.count("broken")),
        "errors": str(sum(state in _NO_ANSWER for state in states)),
        "skipped": str(states.count("skipped")),
    }


def _written(text: str) -> str:
    """Without the characters that XML 1.0 does not have."""
    return _NOT_XML.sub("\ufffd", text)


def github_lines(outcome: Outcome) -> Iterator[str]:
    """Yield the workflow commands of an outcome: an error a broken promise, a warning without an answer, a notice where
    it was skipped."""
    title = _property(f"{outcome.group}: {outcome.name}")
    for broken in outcome.broken:
        text = "\n".join(broken.lines())
        yield f"::error title={title}::{_data(text)}"
    if outcome.state in _NO_ANSWER:
        yield f"::warning title={title}::{_data(f'{outcome.state}: {outcome.why}')}"
    elif outcome.state == "skipped":
        yield f"::notice title={title}::{_data(f'skipped: {outcome.why}')}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
