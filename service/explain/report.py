"""Words an answer: the solver's facts into the answer document."""

from collections.abc import Callable

from service.documents import answer as doc
from service.documents.money import money_of
from service.domain.alternatives import NO_ALTERNATIVES, Alternatives
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment
from service.domain.findings import Rejection
from service.domain.flows import PathFlow
from service.domain.power import Power
from service.domain.revision import Revision
from service.domain.why_not import WhyNot
from service.explain.alternatives import alternative_told
from service.explain.assessment import check_cautions, checks, operating_point, sizing
from service.explain.extras import cautions, extras
from service.explain.figures import figure
from service.explain.lines import lines
from service.explain.margins import margin
from service.explain.power import power_cautions, power_told
from service.explain.safety import safety
from service.explain.telling import Telling, Told
from service.explain.why_not import WhyNotWords

KeyOf = Callable[[Bill], str]
Assess = Callable[[Bill], Assessment]


def report_answer(
    answer: Answer, revision: Revision, key_of: KeyOf, assess: Assess, alternatives: Alternatives = NO_ALTERNATIVES
) -> doc.Answer:
    """The answer document of an answer; `key_of` names a bill for good, `assess` gives the numbers beside it."""
    why_not = answer.why_not
    words = WhyNotWords(answer.request, revision)
    stories = words.stories(why_not)
    telling = Telling(answer.request, revision)
    return {
        "revision": revision.number,
        **money_of(revision),
        "total_valid": answer.total_valid,
        "bills": [report_bill(bill, telling, key_of(bill), assess(bill)) for bill in answer.bills],
        "ruled_out": [report_rejection(rejection, telling) for rejection in answer.rejections],
        "conflicts": [story["wishes"] for story in stories],
        "stories": stories,
        "repairs": words.repairs(why_not),
        "alternatives": [alternative_told(one, revision) for one in alternatives.told],
        "more": report_more(why_not, alternatives),
        "safety": safety(),
    }


def report_bill(bill: Bill, telling: Telling, key: str, assessment: Assessment) -> doc.Bill:
    """The document of one bill."""
    return {
        "key": key,
        "power": power_told(assessment.power),
        "price": bill.price,
        "pieces": bill.pieces,
        "lead_days": bill.lead_days,
        "duties": dict(bill.duties),
        "lines": lines(bill, telling),
        "chains": {placed.spot: list(placed.chain.skus) for placed in bill.chains},
        "flow": {
            "demand_l_h": figure(bill.carried.demand_l_h),
            "paths": [report_path(path) for path in bill.paths],
            "operating_point": operating_point(assessment.supply),
        },
        "margin": margin(bill, telling.revision),
        "sizing": sizing(assessment.sizing, telling.request),
        "checks": checks(assessment, telling),
        "extras": extras(bill, telling),
        "cautions": [told.reason for told in all_cautions(bill, assessment, telling)],
    }


def all_cautions(bill: Bill, assessment: Assessment, telling: Telling) -> list[Told]:
    """What a bill cautions of: its power, its parts and joints, its checks."""
    return [*resting_cautions(bill, assessment.power, telling), *check_cautions(assessment, telling)]


def resting_cautions(bill: Bill, power: Power, telling: Telling) -> list[Told]:
    """What a bill cautions of besides its checks."""
    return [*map(Told.of, power_cautions(power)), *cautions(bill, telling)]


def report_more(why_not: WhyNot, alternatives: Alternatives) -> doc.More:
    """Whether there are more than are listed."""
    return {"conflicts": why_not.more_conflicts, "repairs": why_not.more_repairs, "alternatives": alternatives.more}


def report_rejection(rejection: Rejection, telling: Telling) -> doc.RuledOut:
    """What stops a part, in words."""
    return {"sku": rejection.sku, "spot": rejection.spot, **telling.words.broken(rejection.finding)}


def report_path(path: PathFlow) -> doc.Path:
    """One path that fuel takes."""
    return {
        "duty": path.duty,
        "spots": list(path.spots),
        "flow_l_h": figure(path.flow_l_h),
        "drop_kpa": figure(path.drop_kpa),
        "peak_m_s": figure(path.peak_m_s),
        "limit_kpa": figure(path.limit_kpa),
        "limit_m_s": figure(path.limit_m_s),
        "unrated": list(path.unrated),
        "hose_rated": path.hose_rated,
    }
