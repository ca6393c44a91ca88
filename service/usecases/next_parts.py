"""Work out which part next: what single part would give most standing questions without a bill one."""

from service.documents import next_part as doc
from service.domain.request import Request
from service.domain.work import TooCostlyError, metered
from service.impact.questions import Kept, Standing, standing_questions, told_request
from service.nextparts import Found, Needs, Unanswered, next_parts
from service.usecases.errors import RequestFaultsError
from service.usecases.impact import NewMeter, usual_meter
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request


def next_parts_in(
    edition: Edition,
    kept: Kept = Kept(),  # noqa: B008 it never changes
    new_meter: NewMeter = usual_meter,
) -> list[doc.NextPart]:
    """Return the parts that unlock something in an edition, those that unlock most first."""
    questions = _unanswered(edition, kept, new_meter)
    unanswered = [Unanswered(request, len(asked), sum(x.times for x in asked)) for request, asked in questions]
    found = next_parts(edition.revision, unanswered, new_meter)
    return [_told(one, [asked for _, asked in questions]) for one in found]


def _unanswered(edition: Edition, kept: Kept, new_meter: NewMeter) -> list[tuple[Request, list[Standing]]]:
    """The requests without a bill, each once, with the standing questions that ask it."""
    by_text: dict[str, list[Standing]] = {}
    every = standing_questions(edition.catalog, kept)
    for question in [one for one in every if isinstance(one, Standing)]:
        by_text.setdefault(question.text, []).append(question)
    found = []
    for asked in by_text.values():
        try:
            request = resolve_request(asked[0].request, edition.revision)
            with metered(new_meter()):
                if not edition.engine.count(request):
                    found.append((request, asked))
        except (RequestFaultsError, TooCostlyError):
            continue  # not understood by this catalog, or too much to answer: no part helps
    return found


def _told(found: Found, questions: list[list[Standing]]) -> doc.NextPart:
    return {
        "kind": "plug" if found.candidate.kind == "plug" else "fitting",
        "ports": [
            {"standard": port.standard, "end": "male" if port.end == "male" else "female"}
            for port in found.candidate.ports
        ],
        "unlocks": found.questions,
        "asked": found.asked,
        "questions": [_question(one) for unlocked in found.unlocked for one in questions[unlocked.place]],
        "needs": _needs(found.needs),
    }


def _question(question: Standing) -> doc.StandingQuestion:
    told: doc.StandingQuestion = {"origin": question.origin, "request": told_request(question.request)}
    if question.id is not None:
        told["id"] = question.id
    if question.account is not None:
        told["account"] = question.account
    return told


def _needs(needs: Needs) -> doc.PartNeeds:
    return {
        "standout_mm_at_least": needs.standout_mm_at_least,
        "standout_mm_at_most": needs.standout_mm_at_most,
        "across_mm_at_most": needs.across_mm_at_most,
        "kpa_at_least": needs.kpa_at_least,
        "fuels": list(needs.fuels),
        "power_kw_at_least": needs.power_kw_at_least,
        "bore_mm_at_least": needs.bore_mm_at_least,
    }
