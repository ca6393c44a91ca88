"""A taper joint whose own two figures disagree is a fault of the catalog; hand-tight engagement is ASME B1.20.1's."""

import pytest

from service.documents.check import CatalogFaultsError, check_catalog
from tests.support.catalogs import changed
from tests.support.engineering_data import told_catalog

JOINT = "/joints/2"


def faults(changes: dict[str, object]) -> list[tuple[str, str]]:
    try:
        check_catalog(changed(told_catalog(), changes))
    except CatalogFaultsError as error:
        return [(fault.pointer, fault.expected) for fault in error.faults]
    return []


@pytest.mark.published
@pytest.mark.parametrize(
    ("least", "most", "turns", "expected"),
    [
        pytest.param(3, 6, 1, None, id="4.36 threads by hand and one turn: 5.36 of 3 to 6 [ASME B1.20.1]"),
        pytest.param(3, 6, 1.64, None, id="to six threads"),
        pytest.param(3, 6, 1.7, "0.00 to 1.64", id="past six threads"),
        pytest.param(3, 6, 2.5, "0.00 to 1.64", id="6.9 threads of 3 to 6"),
        pytest.param(5, 6, 0, "0.64 to 1.64", id="by hand alone"),
        pytest.param(1, 4, 0, "0.00 to 0.00", id="hand-tight is too deep"),
    ],
)
def test_turns_lead_to_the_threads(least: float, most: float, turns: float, expected: str | None) -> None:
    """Within a hundredth of a turn; the fault tells the turns that would do."""
    found = faults({f"{JOINT}/min_threads": least, f"{JOINT}/max_threads": most, f"{JOINT}/turns_past_hand": turns})
    if expected is None:
        assert found == []
    else:
        [(pointer, told)] = found
        assert pointer == f"{JOINT}/turns_past_hand"
        assert told.startswith(f"{expected}: 4.36 threads are engaged by hand")


@pytest.mark.parametrize("figure", [10**400, -1, "5", None])
def test_a_broken_figure_is_its_own_fault_alone(figure: object) -> None:
    """What is no figure is compared with nothing."""
    found = faults({"/port_standards/2/taper/pitch_mm": figure})
    assert found
    assert not [pointer for pointer, _ in found if pointer.startswith("/joints")]
