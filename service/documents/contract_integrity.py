"""What must hold of standing cases: promises that can be kept together, and a pump that rises."""

from collections.abc import Iterator

from service.documents.arriving import Part
from service.documents.engineering_integrity import curve_faults
from service.documents.faults import Fault
from service.documents.rendering import rendered

_OF_A_BILL = ("contains", "never_contains", "price", "keyed", "key")


def contract_faults(catalog: Part) -> Iterator[Fault]:
    """Yield the faults of each case that no single field tells."""
    for case in catalog.parts("contract_cases"):
        yield from case_faults(case)


def case_faults(case: Part) -> Iterator[Fault]:
    """Yield those of one case."""
    if request := case.part("request"):
        yield from curve_faults(request)
    if promises := case.part("promises"):
        yield from promise_faults(promises)


def promise_faults(promises: Part) -> Iterator[Fault]:
    """Yield the promises that do not go together."""
    if promises.fields.get("has_bill") is False:
        for name in _OF_A_BILL:
            if promises.has(name):
                yield promises.fault("nothing: has_bill is false", name, found=rendered(promises.fields[name]))
    if promises.fields.get("exists") is False:
        for name in ("price", "status"):
            if promises.has(name):
                yield promises.fault("nothing: exists is false", name, found=rendered(promises.fields[name]))
    if promises.fields.get("in_bills") is False and promises.has("where"):
        yield promises.fault("nothing: in_bills is false", "where", found=rendered(promises.fields["where"]))
    if promises.fields.get("meets") is True and promises.has("bridged_by"):
        yield promises.fault("nothing: meets is true", "bridged_by", found=rendered(promises.fields["bridged_by"]))
    price = promises.part("price")
    low, high = (price.number("at_least"), price.number("at_most")) if price else (None, None)
    if price and low is not None and high is not None and low > high:
        yield price.fault(f"at least at_least, which is {rendered(low)} minor units", "at_most")
    for name, other, what in (("never_contains", "contains", "an item"), ("without_bills", "with_bills", "a layout")):
        wanted = [value for _, value in promises.elements(other)]
        for path, value in promises.elements(name):
            if value in wanted:
                yield promises.fault(f"{what} that {other} does not name", *path[-2:], found=rendered(value))
