"""What must hold of the texts in a second language."""

import pytest

from service.documents.arriving import Part
from service.documents.language_integrity import language_faults
from tests.support.catalogs import small_catalog


@pytest.mark.parametrize("section", ["fuels", "joints"])
def test_cautions_are_told_one_by_one(section: str) -> None:
    """In the same order, so that none is left out; the fault names what it wants and what it found."""
    catalog = small_catalog()
    catalog[section][0] |= {"cautions": ["Mind the flame.", "Mind the fumes."], "second_cautions": ["Varo liekkiä."]}
    [fault] = language_faults(Part((), catalog))
    assert fault.pointer == f"/{section}/0/second_cautions"
    assert (fault.found, fault.expected) == (
        "1 of them",
        "as many as there are cautions, 2, in the same order",
    )
    catalog[section][0]["second_cautions"].append("Varo höyryä.")
    assert list(language_faults(Part((), catalog))) == []
