"""Verdicts from what was found."""

from service.domain.assessment import Verdict


def judged(holds: bool | None) -> Verdict:
    """The verdict of what holds or does not; None: there is no limit to hold it to."""
    if holds is None:
        return "not-judged"
    return "ok" if holds else "caution"
