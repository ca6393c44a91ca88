"""What a question shows to be missing from the catalog, in words that are the same for like questions."""

from collections.abc import Sequence
from types import MappingProxyType

from service.documents.answer import Cause, StoppedPart, Story
from service.documents.inquiry import Missing

ENOUGH = "There are valid bills, but they were not what is wanted."
UNTOLD = "There is no valid bill, and no single cause."

BY_RULE = MappingProxyType(
    {
        "pattern": "None is made for such a rail pattern.",
        "layout": "None has the spots that the layout runs fuel through.",
        "mates": "None has an end that meets what is there.",
        "closed": "None is of the kind that belongs there.",
        "simple": "Every way takes too many parts.",
        "via": "None has the part that the layout sends the fuel through.",
        "reach": "None ends where the car's own line is.",
        "clearance": "There is too little room.",
        "fuel": "None stands the fuel.",
        "pressure": "None stands the pressure.",
        "flow": "None lets enough fuel through.",
        "supply": "They are retired or out of stock.",
        "supplied": "The plug that comes with the rail takes its place.",
        "elsewhere": "What would do is not sold here, and something that is sold takes its place.",
        "mounting": "The mounting parts do not go together.",
    }
)
"""By the rule that stops what comes nearest; of the rule `wish` by the wish."""

_BY_LAYOUT = MappingProxyType(
    {
        "banks": "The layout is for engines with another number of banks.",
        "hookup": "The car does not offer the line that the layout runs to.",
        "spot": "None has the spot that was asked for.",
    }
)
"""Of the rule `layout`, by the fact that it found."""

BY_WISH = MappingProxyType(
    {
        "gauge": "None takes the gauge that is wished for.",
        "finish": "None has the finish that is wished for.",
        "exclude": "What would do was not to be used.",
        "allow_unsold": "What would do is not sold here.",
        "max_price": "They cost more than was to be spent.",
    }
)


def missing(stories: Sequence[Story], total_valid: int) -> Missing:
    """What the first conflict of an answer comes to."""
    causes = [cause for story in stories[:1] for cause in story["causes"]]
    if total_valid or not causes:
        return {"rule": None, "spot": None, "duty": None, "text": ENOUGH if total_valid else UNTOLD}
    return _of(causes[0])


def _of(cause: Cause) -> Missing:
    stopped = cause["causes"][0] if cause["causes"] else None
    return {
        "rule": stopped and stopped["rule"],
        "spot": cause["spot"],
        "duty": cause["duty"],
        "text": f"{cause['text']} {_why(stopped)}" if stopped else cause["text"],
    }


def _why(stopped: StoppedPart) -> str:
    rule, facts = stopped["rule"], stopped["facts"]
    if rule == "layout":
        return next((words for fact, words in _BY_LAYOUT.items() if fact in facts), BY_RULE[rule])
    if rule == "wish":
        return BY_WISH[str(facts["wish"]).partition("/")[0]]
    return BY_RULE[rule]
