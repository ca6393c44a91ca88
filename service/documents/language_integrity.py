"""What must hold of the texts in a catalog's second language."""

from collections.abc import Iterator

from service.documents.arriving import Part
from service.documents.faults import Fault


def language_faults(catalog: Part) -> Iterator[Fault]:
    """Yield cautions in the second language that are not those in English, by their number."""
    for section in ("fuels", "joints"):
        for one in catalog.parts(section):
            cautions, seconds = list(one.elements("cautions")), list(one.elements("second_cautions"))
            if one.has("second_cautions") and len(cautions) != len(seconds):
                expected = f"as many as there are cautions, {len(cautions)}, in the same order"
                yield one.fault(expected, "second_cautions", found=f"{len(seconds)} of them")
