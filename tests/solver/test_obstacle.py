"""What an engine says where nothing fits, and which bills it does not take for its own."""

from service.documents.request import BillRequest
from service.usecases.browse import chassis_layouts
from service.usecases.resolve_request import resolve_request
from tests.support.builders import HOSE, catalog, room
from tests.support.engine import edition
from tests.support.reading import ask


def test_the_far_end_of_a_link_is_blamed() -> None:
    """Where a link has no room at its far end, the layouts of the car name that end."""
    document = catalog({"chassis/heron/clearances/-": room("2.right", axial_mm=10.0)})
    told = [x["ruled_out_by"] for x in chassis_layouts(edition(document), "heron") if not x["total_valid"]]
    assert "2.right" in [reason["facts"].get("spot") for reason in told if reason and reason["rule"] == "clearance"]


def test_no_finish_is_told_unasked() -> None:
    """A supplied plug that is not sold has no reason about a finish that nobody asked for."""
    answer = ask(catalog({"items/PLUG-T/sold": False}), HOSE | {"allow_unsold": False})
    assert answer["bills"]
    texts = [reason["text"] for line in answer["bills"][0]["lines"] for reason in line["reasons"]]
    assert not [text for text in texts if "None" in text]


def test_what_runs_out_over_the_whole_bill_is_blamed() -> None:
    """Where each spot is served for itself, but both need the one plug that is in stock."""
    ready = edition(catalog({"items/PLUG-B8/stock": 1}))
    asked = resolve_request(BillRequest.model_validate(HOSE | {"in_stock_only": True}), ready.revision)
    found = ready.engine.obstacle(asked)
    assert (found.rule, found.facts["sku"], found.facts["needed"]) == ("supply", "PLUG-B8", 2)
