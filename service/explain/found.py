"""Words what was found in the detail that is asked for: each thing once, however many bills share it."""

from collections.abc import Callable, Hashable, Iterable
from typing import Any, Literal

from service.documents import answer as doc
from service.documents import found
from service.documents.money import money_of
from service.domain.alternatives import NO_ALTERNATIVES, Alternatives
from service.domain.answer import Answer, Bill
from service.domain.assessment import Assessment, Check, ShortAssessment
from service.domain.power import Power
from service.domain.revision import Revision
from service.domain.tongue import named
from service.explain.alternatives import alternative_told
from service.explain.assessment import CheckLines, check_with_key, operating_point, sizing
from service.explain.extras import extras
from service.explain.figures import figure, figure_of
from service.explain.lines import ToldLine, stock_beside, told_lines
from service.explain.margins import margin
from service.explain.power import power_said, power_told
from service.explain.report import (
    Assess,
    KeyOf,
    all_cautions,
    report_more,
    report_path,
    report_rejection,
    resting_cautions,
)
from service.explain.safety import safety
from service.explain.telling import Telling, Told
from service.explain.why_not import WhyNotWords


def report_found(
    answer: Answer,
    revision: Revision,
    key_of: KeyOf,
    assess: Assess,
    alternatives: Alternatives = NO_ALTERNATIVES,
    detail: Literal["reasons", "full"] = "reasons",
) -> found.FoundAnswer:
    """The document of an answer with its reasons; `key_of` names a bill for good, `assess` gives the numbers beside
    it."""
    telling = Telling(answer.request, revision)
    words = WhyNotWords(answer.request, revision)
    once = _Once(telling, is_full=detail == "full")
    return {
        **_found(answer, words, revision, alternatives),
        "detail": detail,
        "bills": [once.bill(bill, key_of(bill), assess(bill)) for bill in answer.bills],
        "ruled_out": [report_rejection(rejection, telling) for rejection in answer.rejections],
        "stories": words.stories(answer.why_not),
        "alternatives": [
            {**alternative_told(one, revision), "power": once.power(one.power)} for one in alternatives.told
        ],
        "safety": safety(),
    }


def report_brief(
    answer: Answer,
    revision: Revision,
    key_of: KeyOf,
    assess: Callable[[Bill], ShortAssessment],
    alternatives: Alternatives = NO_ALTERNATIVES,
) -> found.BriefAnswer:
    """The document of an answer in short."""
    telling, places = Telling(answer.request, revision, is_silent=True), _Places()
    bills = [_brief(bill, key_of(bill), assess(bill), telling, places) for bill in answer.bills]
    others: list[found.BriefAlternative] = [
        {**alternative_told(one, revision), "power": power_head(one.power)} for one in alternatives.told
    ]
    return {
        **_found(answer, WhyNotWords(answer.request, revision), revision, alternatives),
        "detail": "brief",
        "parts": places.parts,
        "lines": places.lines,
        "bills": bills,
        "alternatives": others,
    }


def _found(answer: Answer, words: WhyNotWords, revision: Revision, alternatives: Alternatives) -> found.Found:
    """What is told in every detail."""
    return {
        "revision": revision.number,
        **money_of(revision),
        "total_valid": answer.total_valid,
        "conflicts": [list(story.wishes) for story in answer.why_not.stories],
        "repairs": words.repairs(answer.why_not),
        "more": report_more(answer.why_not, alternatives),
    }


def power_head(power: Power) -> found.PowerHead:
    """What a set-up carries, in short."""
    return {
        "carries_kw": figure_of(power.carries_kw),
        "verdict": power.verdict,
        "limited_by": None if power.least is None else power.least.what,
        "not_told": list(power.not_told),
    }


def _brief(
    bill: Bill, key: str, assessment: ShortAssessment, telling: Telling, places: dict[ToldLine, int]
) -> found.BriefBill:
    return {
        "key": key,
        "price": bill.price,
        "pieces": bill.pieces,
        "lead_days": bill.lead_days,
        "power": power_head(assessment.power),
        "lines": [places[line] for line in told_lines(bill, telling)],
        "cautions": len(resting_cautions(bill, assessment.power, telling)) + assessment.cautions,
    }


class _Places(dict[ToldLine, int]):
    """The place of each line of an answer in short among the lines of all its bills; those that say the same have one.

    It has to be quick: an answer of ten bills asks for some seventy.
    """

    def __init__(self) -> None:
        self.parts: dict[str, found.BriefPart] = {}
        self.lines: list[found.BriefLine] = []
        self._alike: dict[tuple[Any, ...], int] = {}

    def __missing__(self, line: ToldLine) -> int:
        place = self._alike.setdefault((line.item.sku, line.qty, line.source, *line.spots), len(self.lines))
        if place == len(self.lines):
            sku, spots = line.item.sku, list(line.spots)
            self.lines.append({"sku": sku, "qty": line.qty, "source": line.source, "price": line.price, "spots": spots})
            self.parts[sku] = {"name": named(line.item.name), "price": line.item.price}
        self[line] = place
        return place


class _Once:
    """Bills with their reasons. The first one is whole; a later one names what stands in one before it."""

    def __init__(self, telling: Telling, *, is_full: bool) -> None:
        self._telling = telling
        self._is_full = is_full
        self._checked = CheckLines(telling)
        self._ids: dict[Hashable, int] = {}
        self._before = 0
        """What has a smaller id stands in an earlier bill."""
        self._known: dict[tuple[Told, ...], tuple[int, list[int]]] = {}
        """Of reasons that were told together their ids, and how many ids there were then."""
        self._again: dict[ToldLine, found.FoundLine] = {}
        """Lines of which every reason stands in an earlier bill."""

    def bill(self, bill: Bill, key: str, assessment: Assessment) -> found.FoundBill:
        telling = self._telling
        lines = [self._line(line) for line in told_lines(bill, telling)]
        extras_, repeats = self._extras(extras(bill, telling))
        cautions, repeated = self._reasons(tuple(all_cautions(bill, assessment, telling)))
        told: found.FoundBill = {
            "key": key,
            "power": self.power(assessment.power),
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
            "cautions": cautions,
            "repeats": repeats + repeated,
        }
        if self._is_full:
            told["flow"]["operating_point"] = operating_point(assessment.supply)
            told["margin"] = margin(bill, telling.revision)
            told["sizing"] = sizing(assessment.sizing, telling.request)
            told["checks"] = self._checks(assessment.checks, told["repeats"])
        else:
            told["sound"] = self._sound(assessment.checks, told["repeats"])
        self._before = len(self._ids)
        return told

    def power(self, power: Power) -> found.FoundPower:
        """The power answer, in `full` with facts and sources."""
        if not self._is_full:
            return power_said(power)
        told = power_told(power)
        return {**told, "limits": [{**limit} for limit in told["limits"]]}

    def _line(self, line: ToldLine) -> found.FoundLine:
        known = self._again.get(line)
        if known is not None:
            return known
        reasons, repeats = self._reasons(line.reasons if self._is_full else line.by_text)
        stock: doc.Stocked = stock_beside(line) if self._is_full else {}
        told: found.FoundLine = {**line.head, **stock, "reasons": reasons, "repeats": repeats}
        if not reasons:
            self._again[line] = told
        return told

    def _reasons(self, reasons: tuple[Told, ...]) -> tuple[list[found.SaidReason], list[int]]:
        """The reasons that no earlier bill has, and the ids of those that one has."""
        new, repeats = self._apart(reasons)
        if self._is_full:
            return [{"id": id_, **told.reason} for id_, told in new], repeats
        return [{"id": id_, "rule": told.rule, "text": told.text} for id_, told in new], repeats

    def _apart(self, reasons: tuple[Told, ...]) -> tuple[list[tuple[int, Told]], list[int]]:
        before, ids = self._before, self._ids
        known = self._known.get(reasons)
        if known is not None and known[0] <= before:
            return [], known[1]
        keys = [told.whole if self._is_full else told.short for told in reasons]
        told_ids = [ids.setdefault(key, len(ids)) for key in keys]
        self._known[reasons] = len(ids), told_ids
        new = [(id_, told) for id_, told in zip(told_ids, reasons, strict=True) if id_ >= before]
        return new, [id_ for id_ in told_ids if id_ < before] if new else told_ids

    def _extras(self, told: Iterable[doc.Extra]) -> tuple[list[found.SaidExtra], list[int]]:
        ids = [(self._id((one["sku"], one["qty"], one["text"])), one) for one in told]
        new: list[found.SaidExtra] = [{"id": id_, **one} for id_, one in ids if id_ >= self._before]
        return new, [id_ for id_, _ in ids if id_ < self._before]

    def _checks(self, checks: Iterable[Check], repeats: list[int]) -> list[found.SaidCheck]:
        """The checks that no earlier bill has; `repeats` gets the ids of the others."""
        new: list[found.SaidCheck] = []
        for check in checks:
            told, key = check_with_key(check, self._telling)
            id_ = self._id(key)
            if id_ < self._before:
                repeats.append(id_)
            else:
                new.append({"id": id_, **told})
        return new

    def _sound(self, checks: Iterable[Check], repeats: list[int]) -> list[found.SoundCheck]:
        """The same of those that came out well, a line each."""
        lines = self._checked
        new, repeated = self._apart(tuple([lines[check] for check in checks if check.verdict == "ok"]))
        repeats += repeated
        return [{"id": id_, "check": told.rule, "text": told.text} for id_, told in new]

    def _id(self, key: Hashable) -> int:
        return self._ids.setdefault(key, len(self._ids))
