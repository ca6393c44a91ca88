"""What a question shows to be missing from the catalog, in words that are the same for like questions."""

from collections.abc import Sequence

from service.documents.answer import Cause, Story
from service.documents.inquiry import Missing
from service.rules import RULE_BY_ID

ENOUGH = "There are valid bills, but they were not what is wanted."
UNTOLD = "There is no valid bill, and no single cause."


def missing(stories: Sequence[Story], total_valid: int) -> Missing:
    """What the first conflict of an answer comes to."""
    causes = [cause for story in stories[:1] for cause in story["causes"]]
    if total_valid or not causes:
        return {"rule": None, "spot": None, "duty": None, "text": ENOUGH if total_valid else UNTOLD}
    return _of(causes[0])


def _of(cause: Cause) -> Missing:
    rule, text = None, cause["text"]
    if cause["causes"]:
        nearest = cause["causes"][0]
        rule = nearest["rule"]
        text = f"{text} {RULE_BY_ID[rule].missing(nearest['facts'])}"
    return {"rule": rule, "spot": cause["spot"], "duty": cause["duty"], "text": text}
