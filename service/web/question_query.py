"""A whole question as a query string, so that its answer can be cached and a link can hold it."""

from typing import Annotated, Any

from pydantic import Field, ValidationError

from service.documents.faults import MOST_TOLD, faults_of
from service.documents.fields import ID_PATTERN, PLACES
from service.documents.question_parameters import fields_of, query_of
from service.documents.rendering import rendered
from service.documents.request import BillRequest, Detail
from service.usecases.errors import RequestFaultsError
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.queries import RevisionQuery

_ID = ID_PATTERN[1:-1]
_NUMBER = r"[+-]?\d{1,15}(\.\d{1,15})?"
_LONGEST = 8_000


def _text(pattern: str, description: str, example: str) -> Any:
    return Field(pattern=f"^{pattern}$", max_length=_LONGEST, description=description, examples=[example])


def _listed(pattern: str) -> str:
    return f"{pattern}(,{pattern})*"


YesNo = Annotated[str | None, _text("(true|false)", "true or false", "true")]
_SPOT = "[a-z0-9.]{1,10}"


class WishesQuery(RevisionQuery):
    """The fields of a question but car and layout as text; lists with commas, what has parts with colons."""

    fuel: Annotated[str | None, _text(_ID, "the id of a fuel; default: the catalog's first", "petrol")] = None
    power_kw: Annotated[str | None, _text(_NUMBER, "a number of kW; default: the chassis's stock power", "90")] = None
    pump_l_h: Annotated[str | None, _text(_NUMBER, "a number of L/h that the pump moves, with a return", "120")] = None
    pump: Annotated[
        str | None, _text(_listed(f"{_NUMBER}:{_NUMBER}"), "KPA:L_H and so on, pressures rising", "0:180,400:120")
    ] = None
    pump_v: Annotated[str | None, _text(f"{_NUMBER}:{_NUMBER}", "RATED:FED, in volts", "12:13.5")] = None
    regulator: Annotated[
        str | None,
        _text(
            _listed(f"(set_kpa:{_NUMBER}|follows:(manifold|atmosphere))"),
            "set_kpa:N, follows:manifold or follows:atmosphere, with commas; each once",
            "set_kpa:350,follows:manifold",
        ),
    ] = None
    injectors: Annotated[
        str | None,
        _text(
            f"{_NUMBER}:{_NUMBER}(:{_NUMBER})?", "STATIC_L_H:RATED_KPA, or STATIC_L_H:RATED_KPA:MAX_DUTY", "30:300:0.85"
        ),
    ] = None
    feed_hose_m: Annotated[str | None, _text(_NUMBER, "a number of metres", "1.5")] = None
    return_hose_m: Annotated[str | None, _text(_NUMBER, "a number of metres", "1.5")] = None
    boost_kpa: Annotated[str | None, _text(_NUMBER, "a number of kPa beyond that of the add-ons", "20")] = None
    addons: Annotated[str | None, _text(_listed(_ID), "ids of add-ons, with commas between them", "blower")] = None
    clearances: Annotated[
        str | None,
        _text(
            _listed(f"{_SPOT}:(axial_mm|across_mm):{_NUMBER}"),
            "SPOT:axial_mm:N or SPOT:across_mm:N, with commas",
            "top:axial_mm:80",
        ),
    ] = None
    gauge: Annotated[str | None, _text(_SPOT, "none, any, or a spot", "none")] = None
    finish: Annotated[str | None, Field(max_length=120, description="a finish", examples=["slate"])] = None
    exclude: Annotated[str | None, _text(_listed(_ID), "SKUs, with commas between them", "LINE-F6")] = None
    in_stock_only: YesNo = None
    allow_unsold: YesNo = None
    max_price: Annotated[str | None, _text(r"\d{1,15}", "a whole number of minor units", "100000")] = None
    have: Annotated[str | None, _text(_listed(rf"{_ID}:\d{{1,6}}"), "SKU:QTY, with commas", "GAUGE-T:1")] = None
    own_rail: Annotated[
        str | None,
        _text(_listed(f"{_SPOT}:{_ID}:(male|female)"), "SPOT:STANDARD:END, with commas", "left:boss-8:female"),
    ] = None
    limit: Annotated[str | None, _text(r"\d{1,3}", "how many bills at most, a whole number from 1 to 100", "1")] = None
    group_variants: YesNo = None
    order_by: Annotated[
        str | None,
        _text("(price|pieces|drop|lead|margin|power)", "price, pieces, drop, lead, margin or power", "price"),
    ] = None

    def question_on(self, chassis: str, layout: str) -> BillRequest:
        """The question that the query holds, on this car and layout. Raises InvalidQueryError with every fault of its
        values."""
        given = self.model_dump(exclude_none=True, include=set(BillRequest.model_fields))
        plain = fields_of(given) | {"chassis": chassis, "layout": layout}
        spots = [] if self.own_rail is None else self.own_rail.split(",")
        if len(spots) > len(PLACES) or len(spots) > len(plain.get("own_rail", ())):
            raise InvalidQueryError(ParameterFault("own_rail", rendered(self.own_rail), "each spot once"))
        if self.regulator is not None and len(self.regulator.split(",")) > len(plain["regulator"]):
            raise InvalidQueryError(ParameterFault("regulator", rendered(self.regulator), "each of its facts once"))
        try:
            return BillRequest.model_validate(plain)
        except ValidationError as error:
            faults = [_fault(x.pointer, x.found, x.expected) for x in faults_of(error, most=MOST_TOLD)]
            raise InvalidQueryError(*faults, more=error.error_count() - len(faults)) from None


class QuestionQuery(WishesQuery):
    """The fields of a question as text."""

    chassis: Annotated[str, _text(_ID, "the id of a chassis", "brook")]
    layout: Annotated[str, _text(_ID, "the id of a layout", "factory")]

    def question(self) -> BillRequest:
        """The question that the query holds. Raises InvalidQueryError with every fault of its values."""
        return self.question_on(self.chassis, self.layout)


class BillsQuery(QuestionQuery):
    """The same, and how much is told of what is found."""

    detail: Annotated[Detail, Field(description="brief, reasons or full", examples=["brief"])] = "reasons"


def query_text(question: BillRequest) -> dict[str, str]:
    """The query that holds a question, what has its default left out: `QuestionQuery.question` reads it back."""
    return query_of(question.model_dump(exclude_defaults=True))


def of_query(error: RequestFaultsError) -> InvalidQueryError:
    """The faults that were found against the catalog, as faults of the query."""
    return InvalidQueryError(*(_fault(x.pointer, x.found, x.expected, x.nearest) for x in error.faults))


def _fault(pointer: str, found: str, expected: str, nearest: tuple[str, ...] = ()) -> ParameterFault:
    return ParameterFault(pointer.split("/")[1], found, expected, nearest)
