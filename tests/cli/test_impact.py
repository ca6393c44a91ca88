"""`portwright catalog impact`, the guard of `catalog import`, `catalog lint` and `next-parts`."""

import json
from pathlib import Path
from typing import Any

import pytest

from service.cli.database import revision_store
from service.storage.revisions import Publishing
from service.usecases.impact import impact_of, impact_told
from service.usecases.next_parts import next_parts_in
from tests.cli.commands import run
from tests.support.builders import TAPER, catalog, part, passage
from tests.support.engine import edition

Json = dict[str, Any]

RETIRED: Json = {"items/PLUG-B8/status": "retired"}
DEARER: Json = {"items/PLUG-B8/price": 1234}


def written(folder: Path, *changes: Json) -> Path:
    file = folder / f"catalog-{len(list(folder.iterdir()))}.json"
    file.write_text(json.dumps(catalog(*changes)), encoding="utf-8")
    return file


def test_impact_of_files(tmp_path: Path) -> None:
    """As JSON the document of the use case without keys; as text a line a question."""
    before, after = written(tmp_path), written(tmp_path, RETIRED)
    told = json.loads(run("catalog", "impact", before, after, "--json").stdout)
    old, new = edition(catalog()), edition(catalog(RETIRED))
    assert told == impact_told(impact_of(old, new), old, new, (str(before), str(after)))
    assert {seen["key"] for one in told["questions"] for seen in (one["before"], one["after"])} == {None}
    result = run("catalog", "impact", before, after)
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0].startswith(f"lost: {told['counts']['lost']}")
    assert lines[1] == "changes: item PLUG-B8 changed"
    assert lines[2].startswith("lost ")
    assert lines[2].endswith("Because of: item PLUG-B8 changed.")
    assert len(lines) == 2 + len(told["questions"])
    both = written(tmp_path, RETIRED, {"items/ADAPT-B8-F6/status": "retired", "policies/max_chain": 2})
    lines = run("catalog", "impact", before, both).stdout.splitlines()
    assert lines[1].startswith("changes: policies changed; item ")
    assert any(line.endswith("No edit is found that decides it alone.") for line in lines[2:])


@pytest.mark.usefixtures("imported")
def test_impact_of_revisions(tmp_path: Path) -> None:
    """A number is a revision, unless there is a file of that name; its keys are told."""
    run("catalog", "import", written(tmp_path, DEARER))
    told = json.loads(run("catalog", "impact", "1", "2", "--json").stdout)
    assert (told["from"], told["to"]) == (1, 2)
    assert told["counts"].keys() == {"price"}
    assert all(one["after"]["key"] for one in told["questions"])
    assert run("catalog", "impact", "1", "7").exit_code == 2
    assert run("catalog", "impact", "1", "nowhere").exit_code == 2


@pytest.mark.usefixtures("imported")
def test_an_import_that_loses_bills_takes_a_reason(tmp_path: Path) -> None:
    """It is refused with what is lost, and nothing is kept; with a reason it is the next revision."""
    worse = written(tmp_path, RETIRED)
    refused = run("catalog", "import", worse)
    assert (refused.exit_code, refused.stdout) == (1, "")
    assert refused.stderr.startswith("portwright: nothing imported: against revision 1, ")
    assert "no bill is left" in refused.stderr
    assert run("catalog", "import", worse, "--accept", " ").exit_code == 1
    assert run("catalog", "import", worse, "--accept", "x", "--author", "a\nb").exit_code == 2
    said = ("--accept", "the plug is not made any more", "--author", " Ada ", "--reason", "spring")
    accepted = run("catalog", "import", worse, *said)
    assert accepted.stdout.startswith("imported as revision 2: ")
    with revision_store() as store:
        kept = store.summaries()[0].publishing
    assert kept == Publishing("Ada", "spring", "the plug is not made any more")


@pytest.mark.usefixtures("imported")
@pytest.mark.parametrize(
    "changes", [DEARER, {"items/-": part("NEW", "plug", TAPER)}, {"items/PLUG-B8/name": "Another"}]
)
def test_what_loses_nothing_is_imported(changes: Json, tmp_path: Path) -> None:
    assert run("catalog", "import", written(tmp_path, changes)).stdout.startswith("imported as revision 2: ")


@pytest.mark.usefixtures("imported")
def test_next_parts_are_listed(tmp_path: Path) -> None:
    """The plug that was retired is wanted back, in words and as JSON."""
    run("catalog", "import", written(tmp_path, RETIRED), "--accept", "for this test")
    told = json.loads(run("next-parts", "--json").stdout)
    assert told == next_parts_in(edition(catalog(RETIRED)))
    first = run("next-parts", "--limit", "1").stdout
    assert first.startswith(f"plug, male boss-8: gives {told[0]['unlocks']} questions a bill; it stands at most ")
    assert len(first.splitlines()) == 1
    assert run("next-parts", "--revision", "9").exit_code == 2


ODD: dict[str, tuple[Json, str]] = {
    "nothing meets it": (
        {
            "port_standards/-": {**catalog()["port_standards"][0], "id": "lone"},
            "items/-": part("X", "plug", ("lone", "male")),
        },
        "/items/{last}: nothing meets X",
    ),
    "a car without a bill": ({"items/RAIL-S/patterns": ["other"]}, "/chassis/0: no layout gives brook a bill"),
    "closed elsewhere": ({"items/PLUG-B8/sold": False}, "is closed only bought elsewhere (PLUG-B8)"),
    "a bore wider than its thread": (
        {
            "port_standards/boss-8/thread": {"diameter_mm": 19.05, "pitch_mm": 1.5875, "form": "unified"},
            "items/ADAPT-B8-F6/flow": passage(25.0),
        },
        "25 mm is wider than its boss-8 (19.05 mm)",
    ),
    "a price ten times its family's": (
        {
            "items/PLUG-B8/family": "plugs",
            "items/PLUG-B8/price": 9000,
            "items/-": part("PLUG-X", "plug", TAPER, family="plugs", price=900),
        },
        "9000 minor units, while others of plugs cost 900",
    ),
    "a name nearly the same": (
        {"items/-": part("X", "plug", TAPER, name="Part twin"), "items/PLUG-B8/name": "part-twim"},
        "is nearly the name of",
    ),
    "nothing meets one of its ports": (
        {
            "port_standards/-": {**catalog()["port_standards"][0], "id": "lone"},
            "items/-": part("X", "fitting", ("boss-8", "male"), ("lone", "female")),
        },
        "/items/{last}/ports/1: nothing meets the female lone port of X",
    ),
    "seals that suit no fuel": (
        {"materials/fluorocarbon/ratings/e85": "D"},
        "none of its seals is rated A or B for e85",
    ),
    "a gauge without a scale": ({"items/-": part("X", "gauge", TAPER)}, "no end of scale is told of X"),
    "a gauge too small": ({"items/-": part("X", "gauge", TAPER, max_kpa=100.0)}, "100 kPa: every car's base pressure"),
}


@pytest.mark.parametrize(("changes", "remark"), ODD.values(), ids=list(ODD))
def test_what_is_odd_is_listed(changes: Json, remark: str, tmp_path: Path) -> None:
    """Each with its place, once it is there and not before."""
    remark = remark.format(last=len(catalog()["items"]))
    assert remark not in run("catalog", "lint", written(tmp_path)).stdout
    result = run("catalog", "lint", written(tmp_path, changes))
    assert result.exit_code == 0
    assert remark in result.stdout
