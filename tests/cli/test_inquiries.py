"""`portwright inquiries`: what was sent, grouped or in a row, and the deleting of it."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.cli.database import opened_database
from service.documents.inquiry import SentInquiry
from service.storage.inquiries import InquiryStore
from service.storage.revisions import RevisionStore
from service.usecases.keep_inquiry import Inquiries
from service.usecases.library import Library
from tests.cli.commands import run
from tests.support.keeping import kept_inquiry

QUESTION: dict[str, Any] = {"chassis": "brook", "layout": "hose-centre"}


def send(*sent: dict[str, Any]) -> list[str]:
    """Keep inquiries as the API does; their ids."""
    with opened_database() as database:
        inquiries = Inquiries(Library(RevisionStore(database)), InquiryStore(database))
        return [kept_inquiry(inquiries, SentInquiry.model_validate({"contact": "Ottilie"} | one)).id for one in sent]


@pytest.fixture(name="ids")
def _ids(catalog_file: Path) -> list[str]:
    """Three inquiries, of which the first and the last lack the same."""
    assert run("catalog", "import", catalog_file).exit_code == 0
    return send(
        {"request": QUESTION | {"max_price": 1}, "note": "on the phone\nin a hurry"},
        {"request": QUESTION},
        {"request": QUESTION | {"max_price": 2}, "contact": "Z\u202e\u2066\u00e9"},
    )


def test_groups_with_their_questions(ids: list[str]) -> None:
    """What was missing and how often, then each inquiry: id, time, contact line, question and note."""
    result = run("inquiries", "list")
    assert result.exit_code == 0, result.output
    first, *lines = result.stdout.splitlines()
    assert first.endswith("They cost more than was to be spent. (2 inquiries)")
    assert lines[0].startswith(f"  {ids[2]}  20")
    assert lines[0].endswith("Z  Z\\u202e\\u2066\u00e9")
    assert lines[1] == '    brook, hose-centre with {"max_price": 2} (catalog revision 1)'
    assert lines[2].startswith(f"  {ids[0]}  ")
    assert lines[4:7] == ["    > on the phone", "    > in a hurry", ""]
    assert lines[7] == "There are valid bills, but they were not what is wanted. (1 inquiry)"
    assert lines[9].endswith("valid)")


def test_a_group_is_cut_where_it_says(ids: list[str]) -> None:
    """And how many are left out is told."""
    lines = run("inquiries", "list", "--limit", "1").stdout.splitlines()
    assert "  and 1 older: see --limit" in lines
    assert not any(ids[0] in line for line in lines)


def test_newest_first_page_by_page(ids: list[str]) -> None:
    """The last line says how to go on; the last page does not."""
    first = run("inquiries", "list", "--newest", "--limit", "2").stdout.splitlines()
    assert first[-1] == f"more: --newest --after {ids[1]}"
    assert first[2] == "  " + json.loads(run("inquiries", "list", "--json").stdout)["groups"][0]["missing"]
    last = run("inquiries", "list", "--newest", "--after", ids[1]).stdout
    assert last.startswith(ids[0])
    assert "more:" not in last


def test_json_has_all_of_it(ids: list[str]) -> None:
    """In groups and in a row."""
    groups = json.loads(run("inquiries", "list", "--json").stdout)["groups"]
    assert [group["count"] for group in groups] == [2, 1]
    row = json.loads(run("inquiries", "list", "--newest", "--json", "--limit", "2").stdout)
    assert ([inquiry["id"] for inquiry in row["inquiries"]], row["next"]) == ([ids[2], ids[1]], ids[1])
    assert row["inquiries"][0]["contact"] == "Z\u202e\u2066\u00e9"
    assert groups[0]["inquiries"][0] == row["inquiries"][0]


def test_nothing_was_sent() -> None:
    """That is said, and no failure; in JSON it is an empty list."""
    for options in ([], ["--newest"]):
        result = run("inquiries", "list", *options)
        assert (result.exit_code, result.stdout) == (0, "no inquiries\n")
    assert json.loads(run("inquiries", "list", "--json").stdout) == {"groups": []}


def test_answering_and_closing(ids: list[str]) -> None:
    """The reply stands below the question; lists are narrowed by status."""
    assert run("inquiries", "answer", ids[0], "In May,\nwe hope.").stdout == f"inquiry {ids[0]} is answered\n"
    assert run("inquiries", "mark", ids[1], "closed").stdout == f"inquiry {ids[1]} is closed\n"
    lines = run("inquiries", "list", "--status", "answered").stdout.splitlines()
    assert lines[0].endswith("(1 inquiry)")
    assert lines[1].endswith("Ottilie  answered")
    assert lines[-2:] == ["    < In May,", "    < we hope."]
    listed = json.loads(run("inquiries", "list", "--newest", "--json", "--status", "open").stdout)["inquiries"]
    assert [one["id"] for one in listed] == [ids[2]]
    wrong = run("inquiries", "mark", ids[2], "answered")
    assert (wrong.exit_code, "without a reply" in wrong.stderr) == (2, True)
    too_long = run("inquiries", "answer", ids[2], "x" * 2_001)
    assert (too_long.exit_code, "expected" in too_long.stderr) == (2, True)


def test_deleting(ids: list[str]) -> None:
    """Once; what is not there is told."""
    result = run("inquiries", "delete", ids[0])
    assert (result.exit_code, result.stdout) == (0, f"deleted inquiry {ids[0]}\n")
    assert ids[0] not in run("inquiries", "list", "--json").stdout
    again = run("inquiries", "delete", ids[0])
    assert again.exit_code == 2
    assert f"no inquiry '{ids[0]}'" in again.stderr
    assert "no inquiry '-hJeWXoSZbucyqId2NkNbw'" in run("inquiries", "delete", "-hJeWXoSZbucyqId2NkNbw").stderr
    assert run("inquiries", "list", "--newest", "--after", ids[0]).exit_code == 2
