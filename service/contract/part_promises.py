"""What the API promises of parts: why they are in bills or are not, what joins them, and what they are used for."""

from collections.abc import Iterator

from service.contract import operations, sections
from service.contract.list_promises import everything
from service.contract.outcomes import Broken
from service.contract.questions import bills_of, first_bill, full, wishes_of
from service.contract.sections import uses_of
from service.contract.site import NotTriedError, Site
from service.documents.explain import Explanation, VerdictTold
from service.documents.uses import Use

_MOST_USES = 2
_MOST_OUT = 2
_ALL = 100
_MOST_ON_A_PAGE = 200


def explanations_are_true(site: Site) -> Iterator[Broken]:
    """What stands in a bill is explained so, at its spots; what is ruled out at a spot does not stand there."""
    question = site.question()
    for spot, chain in first_bill(site)["chains"].items():
        if not chain:
            continue
        told = site.ask(operations.explain({"request": question, "sku": chain[0]}))
        if told["sku"] != chain[0]:
            yield Broken("an explanation is of another part", "#/sku", chain[0], told["sku"])
        if not told["in_bills"] or spot not in told["where"]:
            what = f"{chain[0]} stands at the {spot} spot of a bill, but its explanation says otherwise"
            yield Broken(what, "#/where", spot, ", ".join(told["where"]) or "nowhere")
        if any(one["stands"] is not (one["spot"] in told["where"]) for one in told["verdicts"] if _is_spot(one)):
            what = f"the verdicts on {chain[0]} say otherwise where it stands than its explanation does"
            yield Broken(what, "#/verdicts", ", ".join(told["where"]), _standing(told))
    for ruled in full(site)["ruled_out"][:_MOST_OUT]:
        told = site.ask(operations.explain({"request": question, "sku": ruled["sku"]}))
        place = ruled["spot"] or "rail"
        if ruled["rule"] != "wish" and place in told["where"]:
            what = f"{ruled['sku']} is ruled out at {place}, but its explanation says that it is there"
            yield Broken(what, "#/where", f"not {place}", ", ".join(told["where"]))
        for verdict in told["verdicts"]:
            if not verdict["stands"] and not verdict["rules"]:
                yield Broken(
                    f"the explanation of {ruled['sku']} names no rule that stops it", "#/verdicts", "a rule", "none"
                )
    yield from _what_no_bill_has(site)


def _is_spot(verdict: VerdictTold) -> bool:
    """Whether a verdict is on one spot; what links two banks has one on each end, but stands at one of them."""
    return verdict["spot"] is not None and verdict["duty"] != "link"


def _standing(told: Explanation) -> str:
    return ", ".join(str(one["spot"]) for one in told["verdicts"] if one["stands"]) or "nowhere"


def _what_no_bill_has(site: Site) -> Iterator[Broken]:
    """Where all bills are listed: no part is said to be in bills that none of them has."""
    cheapest = {"max_price": first_bill(site)["price"], "limit": _ALL, "group_variants": False}
    question = site.question() | cheapest
    answer = site.ask(operations.find_bills(question, "full"))
    listed = {line["sku"] for bill in answer["bills"] for line in bill["lines"]}
    if answer["total_valid"] > len(answer["bills"]):
        return
    out = [ruled["sku"] for ruled in answer["ruled_out"] if ruled["sku"] not in listed]
    for sku in dict.fromkeys(out[:_MOST_OUT] + out[-1:]):
        told = site.ask(operations.explain({"request": question, "sku": sku}))
        places = set(told["where"]) - {"extra", "box"}
        if told["in_bills"] and places:
            what = f"{sku} is said to be in bills, but none of all {answer['total_valid']} bills has it"
            yield Broken(what, "#/in_bills", "false", "true")


def joints_are_true(site: Site) -> Iterator[Broken]:
    """Parts that stand on one another in a bill are said to meet, from either side; two equal ends are said not to."""
    bill = first_bill(site)
    revision = site.question().get("revision")
    rails = [line["sku"] for line in bill["lines"] if not line["spots"] and line["source"] == "buy"]
    pairs = [(chain[0], chain[1]) for chain in bill["chains"].values() if len(chain) > 1]
    seated = next((chain[0] for chain in bill["chains"].values() if chain), None)
    if rails and seated and not site.question().get("own_rail"):
        pairs.append((rails[0], seated))
    if not pairs:
        raise NotTriedError("no two parts of the first bill stand on one another")
    one, other = pairs[0]
    for a, b in ((one, other), (other, one)):
        told = site.ask(operations.join({"one": {"sku": a}, "other": {"sku": b}, "revision": revision}))
        if not (told["meets"] and told["joints"]):
            yield Broken(
                f"{a} and {b} stand on one another in a bill, but are said not to meet", "#/meets", "true", "false"
            )
        if any((joint["one"]["sku"], joint["other"]["sku"]) != (a, b) for joint in told["joints"]):
            sides = [f"{joint['one']['sku']} with {joint['other']['sku']}" for joint in told["joints"]]
            yield Broken(f"the joint of {a} with {b} is told of other sides", "#/joints", f"{a} with {b}", sides[0])
        if told["meets"] and told["gap"]:
            yield Broken(f"{a} and {b} meet, but a gap is told", "#/gap", "none", f"{len(told['gap'])} gaps")
    standard = next(iter(site.ask(operations.page(sections.PORT_STANDARDS, limit=1)).results), None)
    if standard is not None:
        end = {"standard": standard.id, "end": "male"}
        told = site.ask(operations.join({"one": end, "other": end, "revision": revision}))
        if told["meets"]:
            yield Broken(f"two male ends of {standard.id} are said to meet", "#/meets", "false", "true")


def uses_are_bills(site: Site) -> Iterator[Broken]:
    """Where a part could be used there is a bill that has it, at the spots that are told."""
    bill = bills_of(site)[0]
    sku = next((chain[0] for chain in bill["chains"].values() if chain), bill["lines"][0]["sku"])
    revision = site.question().get("revision")
    page = site.ask(operations.page(uses_of(sku), limit=_MOST_USES, revision=revision))
    if not page.results:
        yield Broken(f"{sku} stands in a bill, but is told to be used nowhere", "#/results", "a use", "none")
    if page.sku != sku:
        yield Broken(f"the uses of {sku} are told as those of another part", "#/sku", sku, str(page.sku))
    yield from _uses_of_cases(site, sku)
    for use in page.results:
        if "too_costly" not in use:
            yield from _faults_of_use(site, sku, use)


def _uses_of_cases(site: Site, sku: str) -> Iterator[Broken]:
    """Where a case without a wish has the part in its first bill, its car and layout are among the uses."""
    told = {(use["chassis"], use["layout"]) for use in everything(site, uses_of(sku), _MOST_ON_A_PAGE)}
    for case in site.bill_cases(has_bill=True):
        question = case.request.model_dump(exclude_unset=True)
        if wishes_of(question):
            continue
        bills = site.ask(operations.find_bills(question))["bills"][:1]
        stands = any(sku in chain for bill in bills for chain in bill["chains"].values())
        if stands and (question["chassis"], question["layout"]) not in told:
            what = f"{sku} stands in a bill for {question['chassis']} with {question['layout']}, none of its uses"
            yield Broken(what, "#/results", question["layout"], f"{len(told)} others")


def _faults_of_use(site: Site, sku: str, use: Use) -> Iterator[Broken]:
    standing: set[str] = set()
    for gauge in ("any",) if use["needs_gauge"] else ("none", "any"):
        request = {"chassis": use["chassis"], "layout": use["layout"], "gauge": gauge}
        standing |= set(site.ask(operations.explain({"request": request, "sku": sku}))["where"])
    told = {*use["spots"], *use["roles"]}
    if not told or not told <= standing:
        where = ", ".join(sorted(told)) or "nowhere"
        what = f"{sku} is said to be used in {use['chassis']} with {use['layout']} at {where}, but is in no such bill"
        yield Broken(what, "#/where", where, ", ".join(sorted(standing)) or "nowhere")
