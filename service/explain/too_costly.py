"""Words for a question that ended at its budget of work: what made it long, and what makes it shorter."""

from service.domain.tongue import said, sentence
from service.domain.work import Doing, TooCostlyError

_MADE_IT_SO: dict[Doing, str] = {
    "chains": sentence("so many parts of the catalog fit one another that the chains of parts at a spot are too many"),
    "feeds": sentence("so many parts fit both feeds that the ways in which these share the flow are too many"),
    "bills": sentence("so many parts do in each place that the bills to be ranked are too many"),
    "order": sentence("so many parts are ordered that several spots could take that the ways to use them are too many"),
    "wishes": sentence(
        "so many wishes could be changed, over so many parts, that the ways to mend the request are too many"
    ),
    "part": sentence("the part could stand in too many chains"),
}
_HELPS: dict[Doing, str] = {
    "chains": "Ask for a finish, exclude parts that resemble others, or choose a layout with fewer parts in a row.",
    "feeds": "Ask for a finish, exclude parts that resemble others, or ask for a layout with one feed.",
    "bills": "Ask for a finish, group variants, order by price, or ask for fewer bills at once (limit).",
    "order": "Name the layout, or check the order in parts.",
    "wishes": "Drop the wishes that matter least, or name the finish.",
    "part": "Name the spot, or ask for a finish.",
}


def too_costly_here(error: TooCostlyError) -> str:
    """The sentences for one of many questions that are asked at once."""
    why = said(_MADE_IT_SO[error.doing])
    return said("Not worked out among all layouts: {why}. Ask for this one alone.", why=why)


def too_costly(error: TooCostlyError) -> str:
    """The sentences: what was too much, and what helps."""
    return (
        f"The question takes more work than one may take (the limit is {error.limit:,}): {_MADE_IT_SO[error.doing]}. "
        f"{_HELPS[error.doing]}"
    )
