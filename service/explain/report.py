"""Words an answer: the solver's facts into the answer document."""

from collections.abc import Callable

from service.documents import answer as doc
from service.domain.alternatives import NO_ALTERNATIVES, Alternatives
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment
from service.domain.findings import Rejection
from service.domain.flows import PathFlow
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.alternatives import alternative_told
from service.explain.assessment import check_cautions, checks, operating_point, sizing
from service.explain.extras import cautions, extras
from service.explain.lines import lines
from service.explain.margins import margin
from service.explain.power import power_cautions, power_told
from service.explain.reasons import broken
from service.explain.safety import SAFETY
from service.explain.why_not import WhyNotWords

KeyOf = Callable[[Bill], str]
Assess = Callable[[Bill], Assessment]


def report_answer(
    answer: Answer,
    revision: Revision,
    key_of: KeyOf,
    assess: Assess,
    alternatives: Alternatives = NO_ALTERNATIVES,
) -> doc.Answer:
    """The answer document of an answer; `key_of` names a bill for good, `assess` gives the numbers beside it."""
    why_not = answer.why_not
    words = WhyNotWords(answer.request, revision)
    stories = words.stories(why_not)
    return {
        "revision": revision.number,
        "currency": revision.currency,
        "total_valid": answer.total_valid,
        "bills": [report_bill(bill, answer.request, revision, key_of(bill), assess(bill)) for bill in answer.bills],
        "ruled_out": [report_rejection(rejection) for rejection in answer.rejections],
        "conflicts": [story["wishes"] for story in stories],
        "stories": stories,
        "repairs": words.repairs(why_not),
        "alternatives": [alternative_told(one, revision) for one in alternatives.told],
        "more": {
            "conflicts": why_not.more_conflicts,
            "repairs": why_not.more_repairs,
            "alternatives": alternatives.more,
        },
        "safety": list(SAFETY),
    }


def report_bill(bill: Bill, request: Request, revision: Revision, key: str, assessment: Assessment) -> doc.Bill:
    """The document of one bill."""
    return {
        "key": key,
        "power": power_told(assessment.power),
        "price": bill.price,
        "pieces": bill.pieces,
        "lead_days": bill.lead_days,
        "duties": dict(bill.duties),
        "lines": lines(bill, request, revision),
        "chains": {placed.spot: list(placed.chain.skus) for placed in bill.chains},
        "flow": {
            "demand_l_h": bill.carried.demand_l_h,
            "paths": [_path(path) for path in bill.paths],
            "operating_point": operating_point(assessment.supply),
        },
        "margin": margin(bill, revision),
        "sizing": sizing(assessment.sizing, request),
        "checks": checks(assessment),
        "extras": extras(bill, request, revision),
        "cautions": power_cautions(assessment.power) + cautions(bill, request, revision) + check_cautions(assessment),
    }


def report_rejection(rejection: Rejection) -> doc.RuledOut:
    """What stops a part, in words."""
    told = broken(rejection.finding)
    return {
        "sku": rejection.sku,
        "spot": rejection.spot,
        "rule": told["rule"],
        "text": told["text"],
        "facts": told["facts"],
    }


def _path(path: PathFlow) -> doc.Path:
    return {
        "duty": path.duty,
        "spots": list(path.spots),
        "flow_l_h": path.flow_l_h,
        "drop_kpa": path.drop_kpa,
        "peak_m_s": path.peak_m_s,
        "limit_kpa": path.limit_kpa,
        "limit_m_s": path.limit_m_s,
        "unrated": list(path.unrated),
        "hose_rated": path.hose_rated,
    }
