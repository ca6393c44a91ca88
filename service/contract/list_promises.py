"""What the API promises of lists: every thing once, none lost, filters filter, ids lead to what the list shows."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from service.client import Call
from service.contract import operations, sections
from service.contract.outcomes import Broken
from service.contract.problems import faults_of_problem
from service.contract.questions import newest
from service.contract.sections import Listed, Page, Section
from service.contract.site import BrokenError, NotTriedError, Site
from service.contract.wire_promises import object_of

_SMALL, _LARGE = 7, 200
_MOST_PAGES = 2_000
_NO_SKU = "no-such-part"


def _id(one: Any) -> str:
    return str(getattr(one, "sku", None) or getattr(one, "id", ""))


def _page(section: Listed[Any], limit: int, filters: Mapping[str, str]) -> Call[Page[Any]]:
    first = operations.page(section, limit=limit)
    return replace(first, params={**first.params, **filters})


def everything(site: Site, section: Listed[Any], limit: int, **filters: str) -> list[Any]:
    """Everything in a list by its pages. Raises BrokenError where they have no end."""
    found: list[Any] = []
    seen: set[str] = set()
    page: Page[Any] = site.ask(_page(section, limit, filters))
    for _ in range(_MOST_PAGES):
        found += page.results
        after = operations.page_after(section, page)
        if after is None:
            return found
        if after.path in seen:
            raise BrokenError(
                Broken(
                    f"the pages of {section.path} lead back to one that was read", "#/next", "a new page", after.path
                )
            )
        seen.add(after.path)
        page = site.ask(after)
    raise BrokenError(Broken(f"{section.path} has no last page among the first {_MOST_PAGES}", "#/next", "a last page"))


def pages_add_up(site: Site) -> Iterator[Broken]:
    """The pages of each list have everything once, whatever their size, and as many as the revision has."""
    counts = newest(site)["counts"]
    for section in sections.SECTIONS:
        whole = [_id(one) for one in everything(site, section, _LARGE)]
        small = (
            [_id(one) for one in everything(site, section, _SMALL)]
            if section is sections.ITEMS or len(whole) < _LARGE
            else whole
        )
        for ids, limit in ((small, _SMALL), (whole, _LARGE)):
            doubled = sorted({id_ for id_ in ids if ids.count(id_) > 1})
            if doubled:
                told = f"{section.path} gives something twice by pages of {limit}"
                yield Broken(told, "#/results", "each once", ", ".join(doubled[:5]))
        if small != whole:
            told = f"{section.path} gives {len(small)} by pages of {_SMALL} and {len(whole)} by pages of {_LARGE}"
            yield Broken(told, "#/results", f"{len(whole)}", f"{len(small)}")
        count = counts.get(section.path.rpartition("/")[2].replace("-", "_"), len(whole))
        if count != len(whole):
            told = f"{section.path} has {len(whole)} of the {count} that the revision has"
            yield Broken(told, "#/results", str(count), str(len(whole)))
    refused = site.get("/v1/items", {"cursor": "no-cursor"})
    yield from faults_of_problem("/v1/items with a cursor that is none", refused, 422, at="cursor")


def ids_lead_to_what_lists_show(site: Site) -> Iterator[Broken]:
    """Each list's first and last things are the same by their ids; an almost right id is refused with the right one."""
    for section in sections.SECTIONS:
        listed = everything(site, section, _LARGE)
        for one in listed[:1] + listed[-1:]:
            alone = site.ask(operations.detail(section, _id(one))).result
            if alone != one:
                told = f"{section.path}/{_id(one)} is another one by its id than in the list"
                yield Broken(told, "#/result", _id(one), _id(alone))
        if listed and section in (sections.ITEMS, sections.CHASSIS, sections.LAYOUTS):
            yield from _almost(site, section, _id(listed[0]))


def _almost(site: Site, section: Section[Any], id_: str) -> Iterator[Broken]:
    response = site.get(f"{section.path}/{id_}zz")
    yield from faults_of_problem(f"{section.path} with an id that is almost right", response, 404, code="unknown-id")
    errors = object_of(response).get("errors") or [{}]
    nearest = errors[0].get("nearest", []) if isinstance(errors[0], dict) else []
    if id_ not in nearest:
        got = ", ".join(map(str, nearest)) or "nothing"
        yield Broken(f"{section.path}/{id_}zz suggests {got}, but not {id_}", "#/errors/0/nearest", id_, got)


def filters_filter(site: Site) -> Iterator[Broken]:
    """The filters of the items leave what they name, all of it and nothing else."""
    items = everything(site, sections.ITEMS, _LARGE)
    kinds = sorted({item.kind for item in items})
    ports = sorted({(port.standard, port.end) for item in items for port in item.ports or ()})
    if not kinds or not ports:
        raise NotTriedError("the catalog has no items with ports")
    opposite = {"male": "female", "female": "male"}
    standard, end = ports[0]
    wanted: list[tuple[dict[str, str], set[str]]] = [
        ({"kind": kind}, {item.sku for item in items if item.kind == kind}) for kind in (kinds[0], kinds[-1])
    ]
    mating = {i.sku for i in items for p in i.ports or () if (p.standard, p.end) == (standard, opposite[end])}
    wanted.append(({"mates": f"{standard}:{end}"}, mating))
    first = items[0]
    named = {item.sku for item in items if item.name == first.name}
    wanted += [
        ({"sku": first.sku}, {first.sku}),
        ({"status": "retired"}, {item.sku for item in items if item.status == "retired"}),
        ({"sold": "false"}, {item.sku for item in items if not item.sold}),
    ]
    found = {item.sku for item in everything(site, sections.ITEMS, _LARGE, q=first.name)}
    if not named <= found or len(found) == len(items) > 1:
        what = f"the filter q is ignored or wrong: {first.name} leaves {len(found)} items"
        yield Broken(what, "#/results", f"{first.sku} and what is called alike", f"{len(found)} items")
    for filters, expected in wanted:
        told = {item.sku for item in everything(site, sections.ITEMS, _LARGE, **filters)}
        if told != expected:
            name, value = next(iter(filters.items()))
            odd = sorted(told ^ expected)
            what = f"the filter {name} is ignored or wrong: {value} leaves {len(told)} items, not {len(expected)}"
            yield Broken(
                what, "#/results", f"{len(expected)} items", f"{len(told)} items, with or without {', '.join(odd[:3])}"
            )
    both = site.ask(_page(sections.ITEMS, _LARGE, {"sku": f"{first.sku},{_NO_SKU}"}))
    if both.not_found != [_NO_SKU]:
        what = "of two SKUs in the filter the one that there is not is not told"
        yield Broken(what, "#/not_found", _NO_SKU, str(both.not_found))
    cars = everything(site, sections.CHASSIS, _LARGE)
    car = next(iter(cars), None)
    if car is not None:
        same = {one.id for one in everything(site, sections.CHASSIS, _LARGE, q=car.name)}
        if car.id not in same or (len(same) == len(cars) > 1 and len({one.name for one in cars}) > 1):
            what = f"the filter q of the cars is ignored or wrong: {car.name} leaves {len(same)}"
            yield Broken(what, "#/results", car.id, f"{len(same)} of {len(cars)} cars")
        fitting = {item.sku for item in everything(site, sections.ITEMS, _LARGE, fits=car.id)}
        for item in items:
            patterns = getattr(item, "patterns", None)
            pattern = getattr(car, "pattern", None)
            if item.kind == "rail" and patterns and pattern and item.sku in fitting and pattern not in patterns:
                yield Broken(
                    f"the filter fits is ignored: {item.sku} is not made for {car.id}",
                    "#/results",
                    "no such rail",
                    item.sku,
                )


def cases_are_all_told(site: Site) -> Iterator[Broken]:
    """As many standing cases are told as the revision has."""
    revision = newest(site)
    told = site.ask(operations.contract_cases()).content
    own = [case.id for case in told.cases if case.account is None] if told else []
    count = revision["counts"].get("contract_cases", 0)
    if len(own) != count:
        what = f"{len(own)} standing cases are told of the {count} that revision {revision['number']} has"
        yield Broken(what, "#/cases", f"{count} cases", f"{len(own)} cases")
    if len(set(own)) < len(own):
        yield Broken("a standing case is told twice", "#/cases", "each id once")
