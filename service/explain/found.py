"""Words what was found in the detail that is asked for: each thing once, however many bills share it."""

from collections.abc import Hashable
from typing import Any, TypeVar

from service.documents import answer as doc
from service.documents import found
from service.documents.request import Detail
from service.domain.alternatives import NO_ALTERNATIVES, Alternatives
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment
from service.domain.power import Power
from service.domain.revision import Revision
from service.explain.alternatives import alternative_told
from service.explain.assessment import check_cautions, checks, operating_point, sizing
from service.explain.extras import cautions, extras
from service.explain.figures import figure, figure_of
from service.explain.lines import ToldLine, head, stock_beside, told_lines
from service.explain.margins import margin
from service.explain.power import power_cautions, power_told
from service.explain.report import Assess, KeyOf, report_more, report_path, report_rejection
from service.explain.safety import SAFETY
from service.explain.telling import Telling
from service.explain.why_not import WhyNotWords

Said = TypeVar("Said", found.SaidReason, found.SaidExtra, found.SaidCheck)


def report_found(
    answer: Answer,
    revision: Revision,
    key_of: KeyOf,
    assess: Assess,
    alternatives: Alternatives = NO_ALTERNATIVES,
    detail: Detail = "reasons",
) -> found.BriefAnswer | found.FoundAnswer:
    """The document of an answer; `key_of` names a bill for good, `assess` gives the numbers beside it."""
    telling = Telling(answer.request, revision, is_silent=detail == "brief")
    words = WhyNotWords(answer.request, revision)
    stories = words.stories(answer.why_not)
    whole: found.Found = {
        "revision": revision.number,
        "currency": revision.currency,
        "total_valid": answer.total_valid,
        "conflicts": [story["wishes"] for story in stories],
        "repairs": words.repairs(answer.why_not),
        "more": report_more(answer.why_not, alternatives),
    }
    told = [alternative_told(one, revision) for one in alternatives.told]
    if detail == "brief":
        brief = _Brief(telling)
        bills = [brief.bill(bill, key_of(bill), assess(bill)) for bill in answer.bills]
        others: list[found.BriefAlternative] = [
            {**one, "power": power_head(alternative.power)}
            for one, alternative in zip(told, alternatives.told, strict=True)
        ]
        return {
            **whole,
            "detail": "brief",
            "parts": brief.parts,
            "lines": brief.lines,
            "bills": bills,
            "alternatives": others,
        }
    once = _Once(telling, is_full=detail == "full")
    return {
        **whole,
        "detail": detail,
        "bills": [once.bill(bill, key_of(bill), assess(bill)) for bill in answer.bills],
        "ruled_out": [report_rejection(rejection) for rejection in answer.rejections],
        "stories": stories,
        "alternatives": [{**one, "power": once.power(one["power"])} for one in told],
        "safety": list(SAFETY),
    }


def power_head(power: Power) -> found.PowerHead:
    """What a set-up carries, in short."""
    return {
        "carries_kw": figure_of(power.carries_kw),
        "verdict": power.verdict,
        "limited_by": None if power.least is None else power.least.what,
        "not_told": list(power.not_told),
    }


class _Brief:
    """Bills in short, with the lines of all of them."""

    def __init__(self, telling: Telling) -> None:
        self._telling = telling
        self._places: dict[tuple[Any, ...], int] = {}
        self.parts: dict[str, found.BriefPart] = {}
        self.lines: list[found.BriefLine] = []

    def bill(self, bill: Bill, key: str, assessment: Assessment) -> found.BriefBill:
        return {
            "key": key,
            "price": bill.price,
            "pieces": bill.pieces,
            "lead_days": bill.lead_days,
            "power": power_head(assessment.power),
            "lines": [self._place(line) for line in told_lines(bill, self._telling)],
            "cautions": len(_cautions(bill, assessment, self._telling)),
        }

    def _place(self, line: ToldLine) -> int:
        place = self._places.setdefault((line.item.sku, line.qty, line.source, *line.spots), len(self.lines))
        if place == len(self.lines):
            self.lines.append(
                {
                    "sku": line.item.sku,
                    "qty": line.qty,
                    "source": line.source,
                    "price": line.price,
                    "spots": line.spots,
                }
            )
            self.parts[line.item.sku] = {"name": line.item.name, "price": line.item.price}
        return place


class _Once:
    """Bills with their reasons. The first one is whole; a later one names what stands in one before it."""

    def __init__(self, telling: Telling, *, is_full: bool) -> None:
        self._telling = telling
        self._is_full = is_full
        self._reasons: dict[Hashable, found.SaidReason] = {}
        self._extras: dict[str, found.SaidExtra] = {}
        self._checks: dict[str, found.SaidCheck] = {}
        self._before = range(0)

    def bill(self, bill: Bill, key: str, assessment: Assessment) -> found.FoundBill:
        telling = self._telling
        lines = [self._line(line) for line in told_lines(bill, telling)]
        cautioned = map(telling.number, _cautions(bill, assessment, telling))
        extras_, repeats = self._apart([self._extra(extra) for extra in extras(bill, telling)])
        cautions_, repeated = self._apart([self._reason(number) for number in cautioned])
        repeats += repeated
        told: found.FoundBill = {
            "key": key,
            "power": self.power(power_told(assessment.power)),
            "price": bill.price,
            "pieces": bill.pieces,
            "lead_days": bill.lead_days,
            "duties": dict(bill.duties),
            "lines": lines,
            "chains": {placed.spot: list(placed.chain.skus) for placed in bill.chains},
            "flow": {
                "demand_l_h": figure(bill.carried.demand_l_h),
                "paths": [report_path(path) for path in bill.paths],
            },
            "extras": extras_,
            "cautions": cautions_,
            "repeats": repeats,
        }
        if self._is_full:
            told["flow"]["operating_point"] = operating_point(assessment.supply)
            told["margin"] = margin(bill, telling.revision)
            told["sizing"] = sizing(assessment.sizing, telling.request)
            told["checks"], repeated = self._apart([self._check(check) for check in checks(assessment, telling)])
            repeats += repeated
        self._before = range(self._next_id)
        return told

    def power(self, power: doc.Power) -> found.FoundPower:
        """The power answer, in `full` with facts and sources."""
        limits: list[found.FoundLimit] = [
            {**limit} if self._is_full else {"what": limit["what"], "kw": limit["kw"], "text": limit["text"]}
            for limit in power["limits"]
        ]
        return {**power, "limits": limits}

    def _line(self, line: ToldLine) -> found.FoundLine:
        reasons, repeats = self._apart([self._reason(number) for number in line.reasons])
        stock: doc.Stocked = stock_beside(line) if self._is_full else {}
        return {**head(line), **stock, "reasons": reasons, "repeats": repeats}

    def _apart(self, said: list[Said]) -> tuple[list[Said], list[int]]:
        """What no earlier bill has, and the ids of what one has."""
        before = self._before
        return [one for one in said if one["id"] not in before], [one["id"] for one in said if one["id"] in before]

    def _reason(self, number: int) -> found.SaidReason:
        reason = self._telling.reasons[number]
        key = number if self._is_full else (reason["rule"], reason["text"])
        said = self._reasons.get(key)
        if said is None:
            said = {"id": self._next_id, "rule": reason["rule"], "text": reason["text"]}
            if self._is_full:
                said["facts"] = reason["facts"]
            self._reasons[key] = said
        return said

    def _extra(self, extra: doc.Extra) -> found.SaidExtra:
        return self._extras.setdefault(str(extra), {"id": self._next_id, **extra})

    def _check(self, check: doc.Check) -> found.SaidCheck:
        key = str(check)  # the same text may stand for facts that differ in a later digit
        return self._checks.setdefault(key, {"id": self._next_id, **check})

    @property
    def _next_id(self) -> int:
        return len(self._reasons) + len(self._extras) + len(self._checks)


def _cautions(bill: Bill, assessment: Assessment, telling: Telling) -> list[doc.Reason]:
    return power_cautions(assessment.power) + cautions(bill, telling) + check_cautions(assessment, telling)
