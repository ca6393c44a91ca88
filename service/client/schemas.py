"""The documents of the API: what is sent and what is answered.

Made from the OpenAPI document; tests/support/client_source.py says how.
"""

from typing import Any, Literal, NotRequired, TypeAlias

from typing_extensions import TypedDict


class Clearance(TypedDict):
    """The room at a spot: along its axis and across it. Missing: not limited."""

    spot: str
    """left, centre, right or top; 1.left ... 2.top on two banks"""
    axial_mm: NotRequired[float | None]
    """room along the axis of the port, mm"""
    across_mm: NotRequired[float | None]
    """room, or width, across the axis of the port, mm"""


class Mounting(TypedDict):
    role: str
    """what it is there for"""
    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""


class Fastener(TypedDict):
    """Screws or nuts of one kind that hold an add-on on."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""


class Addon(TypedDict):
    """Equipment on the car that changes the rules."""

    id: str
    """its id"""
    name: str
    """its name"""
    chassis: list[str]
    """id of the car, or ids of the cars"""
    boost_kpa: float
    """boost that the fuel pressure follows, gauge, kPa"""
    clearances: list[Clearance]
    """room at each spot, by spot"""
    mounting: list[Mounting]
    """screws, spacers and other parts that mount the rail"""
    raises_seat_mm: NotRequired[float | None]
    """by how much it raises the seat of the rail, mm"""
    fasteners: NotRequired[list[Fastener] | None]
    """the screws and other parts that hold it"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""


class AddonDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: Addon
    """the object itself"""


class AddonPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Addon]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class AnyBill(TypedDict):
    """What documents named Bill have in common."""

    key: str
    """its key: of a bill, or of an object in its section"""
    lead_days: int
    """lead time; 0: from stock, days"""
    pieces: int
    """how many pieces it has"""
    price: int
    """integer minor units; parts bought elsewhere are not in it, minor units of the currency"""


_AnyFacts = TypedDict("_AnyFacts", {"in": NotRequired[str]})


class AnyFacts(_AnyFacts):
    """What documents named Facts have in common."""

    chain: NotRequired[list[str]]
    """SKUs of the chain, outwards"""
    layout: NotRequired[str]
    """the layout"""
    part: NotRequired[str]
    """name of the part"""
    qty: NotRequired[int]
    """how many, pieces"""
    sets: NotRequired[int]
    """how many sets"""
    sku: NotRequired[str]
    """SKU of the part"""
    spot: NotRequired[str | None]
    """the spot"""


class AnyJoint(TypedDict):
    """What documents named Joint have in common."""

    cautions: list[str]
    """what to mind: fuel under pressure burns people"""
    consumables: NotRequired[list[str] | None]
    """what is used up when the joint is made: sealant, seals"""
    id: str
    """its id"""
    second_cautions: NotRequired[list[str] | None]
    """the same cautions in the second language, in the same order"""
    source: str
    """where it comes from: of a figure the standard, of a part the supplier"""
    spare_seal: NotRequired[str | list[str] | None]
    """SKUs of seals that fit the joint; null: none"""


class PowerLimit(TypedDict):
    """One thing that stops a set-up, as the power that it feeds until then."""

    what: Literal["plumbing", "pump", "injectors"]
    """what it is about, or what was done"""
    kw: float
    """the power at this limit, kW"""
    text: str
    """the same in words, for people"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""
    source: str
    """the handbook that the figures rest on"""


class PowerHead(TypedDict):
    """How much power a set-up feeds, and what stops it there."""

    carries_kw: float | None
    """the least of the limits that are told; null: none is, kW"""
    verdict: Literal["ok", "tight", "over"]
    """over: more is asked than it carries; tight: it carries that, but not the reserve on top"""
    limited_by: Literal["plumbing", "pump", "injectors"] | None
    """what runs out first; null: nothing does"""
    not_told: list[Literal["plumbing", "pump", "injectors"]]
    """the limits that no fact tells"""


class Power(PowerHead):
    """How much power a set-up feeds, what stops it there, and whether that is enough."""

    asked_kw: float
    """the request's power, else the stock power, kW"""
    assumed: bool
    """whether the stock power was taken"""
    limits: list[PowerLimit]
    """the limits that are told"""
    reserve: float
    """the part of the power asked that should be left on top"""
    follows: Literal["manifold", "atmosphere", "not told"]
    """what the regulator holds its pressure over"""
    text: str
    """the same in words, for people"""


class Reason(TypedDict):
    """A rule, what it found in words, and the facts that it found."""

    rule: str
    """id of the rule; `facts` are those of this rule"""
    text: str
    """the same in words, for people"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""


class Line(TypedDict):
    """One line of a bill: how many of what, where from, where each goes, what else would do, and why."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    qty: int
    """how many, pieces"""
    source: Literal["buy", "elsewhere", "supplied", "have", "on-car", "add-on"]
    """where it comes from: of a figure the standard, of a part the supplier"""
    unit_price: int
    """of one, minor units; 0 unless bought from us, minor units of the currency"""
    price: int
    """of the whole line, minor units; 0 unless bought from us, minor units of the currency"""
    spots: list[str]
    """the spots of the rail"""
    choices: list[str]
    """SKUs that would do as well"""
    need: NotRequired[int]
    """units to be got from us: for one set, in an order check for all sets"""
    in_stock: NotRequired[int]
    """how many are in stock, pieces"""
    short: NotRequired[int]
    """units that are needed beyond the stock"""
    rest_days: NotRequired[int]
    """days until the short ones come; 0 where none is short"""
    reasons: list[Reason]
    """why: a rule each, with its facts"""


class Path(TypedDict):
    """One path that fuel takes, held to its limits."""

    duty: Literal["feed", "return", "link", "gauge", "closed"]
    """what the spot, or the path, is for"""
    spots: list[str]
    """the spots of the rail"""
    flow_l_h: float
    """flow of fuel, l/h"""
    drop_kpa: float
    """pressure that the path loses, kPa"""
    peak_m_s: float
    """the fastest that the fuel moves, m/s"""
    limit_kpa: float
    """the most that the path may lose, kPa"""
    limit_m_s: float
    """the fastest that the fuel may move, m/s"""
    unrated: list[str]
    """SKUs whose flow is not rated"""
    hose_rated: bool | None
    """null where no hose or line of the car is on the path"""


class OperatingPoint(TypedDict):
    """Where the pump settles: what it moves against base pressure, boost and the drop of the lines."""

    pump: Literal["request", "chassis"]
    """whose curve: the request's, else the car's"""
    kpa: float
    """gauge, at the pump's outlet"""
    drop_kpa: float
    """what the lines take beyond what the regulator holds, kPa"""
    flow_l_h: float
    """what the pump moves at that pressure, l/h"""
    left_over_l_h: float
    """beyond what the engine burns; below 0: short of it, l/h"""
    returned_l_h: float | None
    """null where the layout has no return, l/h"""
    carried_back_w: float
    """of the pump's work, what goes back to the tank as heat"""
    warming_k: float | None
    """null where the fuel's heat capacity is not told"""
    runs_out_l_h: float
    """where the engine would burn all that the pump moves, l/h"""
    runs_out_kw: float
    """the power at which it runs out, kW"""
    text: str
    """the same in words, for people"""


class FlowReport(TypedDict):
    demand_l_h: float
    """fuel that the engine burns, l/h"""
    paths: list[Path]
    """the paths that fuel takes"""
    operating_point: OperatingPoint | None
    """null where no pump curve is told"""


class MarginLeft(TypedDict):
    """What is left of one limit."""

    what: str
    """clearance, across, pressure, drop, velocity"""
    spot: str | None
    """where; null for a rail, of a link the spot that sorts first"""
    part: str | None
    """the SKU whose limit it is; null where it is a spot's or a path's"""
    left: float
    """what is left of the limit, in the unit told beside it; below 0: over it"""
    unit: str
    """mm, kPa, % (of the limit, for a drop) or m/s"""
    relative: float
    """left over limit: 1 where nothing is used, 0 where nothing is left"""
    text: str
    """the same in words, for people"""


class BillMargin(TypedDict):
    """How far a bill is from its limits; null where nothing is limited."""

    tightest: MarginLeft | None
    """the limit of which relatively least is left"""
    clearance_mm: float | None
    """the least room left, along or across, at a limited spot, mm"""
    pressure_kpa: float | None
    """the least pressure left among parts that have a limit, kPa"""
    drop_percent: float | None
    """the least that the drop of a path leaves of its limit, %"""


class LimitingPath(TypedDict):
    """The paths that come to a limit first."""

    duty: Literal["feed", "return", "link", "gauge", "closed"]
    """what the spot, or the path, is for"""
    spots: list[str]
    """the spots of the rail"""
    limit: Literal["drop", "velocity"]
    """how many bills at most; of a path, which limit is met first"""


class Sizing(TypedDict):
    """The largest power that the plumbing carries within policy; null where none of it is rated."""

    largest_power_kw: float | None
    """the largest power that the plumbing carries; null: not known, kW"""
    largest_demand_l_h: float | None
    """the largest flow that the plumbing carries; null: not known, l/h"""
    limited_by: LimitingPath | None
    """what runs out first; null: nothing does"""
    text: str
    """the same in words, for people"""


class Check(TypedDict):
    """One thing that engineering looked at beside the rules; a caution never makes a bill invalid."""

    check: str
    """the name of the check"""
    verdict: Literal["ok", "caution", "not-judged"]
    """not-judged: a figure is missing, or the maker has set no limit"""
    text: str
    """the same in words, for people"""
    skus: list[str]
    """SKUs of the parts that it is about"""
    spots: list[str]
    """the spots of the rail"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""
    source: str
    """the standard or handbook that the figures rest on, or common practice"""


class Extra(TypedDict):
    """What the joints need besides: sealant, spare seals. Never in the price."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    text: str
    """the same in words, for people"""


class Bill(AnyBill):
    """A complete bill of material."""

    power: Power
    """what this set-up carries"""
    duties: dict[str, Literal["feed", "return", "link", "gauge", "closed"]]
    """the duty of each spot, by spot"""
    lines: list[Line]
    """the lines: what, how many, where from"""
    chains: dict[str, list[str]]
    """the parts at each spot, outwards, by spot"""
    flow: FlowReport
    """how the fuel flows: bore, length and loss, or what each path loses"""
    margin: BillMargin
    """what is left of the tightest limit"""
    sizing: Sizing
    """the largest power that the plumbing carries"""
    checks: list[Check]
    """what engineering says of the bill"""
    extras: list[Extra]
    """what it takes beside the parts: cautions to buy for, consumables"""
    cautions: list[Reason]
    """what to mind: fuel under pressure burns people"""


class Change(TypedDict):
    """So many units of a SKU to add or to remove, and why."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    why: str
    """the reason, in words"""


_Swap = TypedDict("_Swap", {"in": str})


class Swap(_Swap):
    out: str
    """SKU of what goes out"""
    qty: int
    """how many, pieces"""
    spot: str | None
    """where the new part goes; null for a rail"""
    why: str
    """the reason, in words"""


class FromElsewhere(TypedDict):
    """So many units that the bill takes and that we do not sell: no change of the order, but to be got as well."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    text: str
    """the same in words, for people"""


class StockLine(TypedDict):
    """Stock beside what all sets need of a SKU; what the customer has is needed no more."""

    sku: str
    """SKU of the part"""
    need: int
    """units to be got from us for all sets"""
    in_stock: int
    """how many are in stock, pieces"""
    short: int
    """units that are needed beyond the stock"""
    rest_days: int
    """days until the short ones come; 0 where none is short"""


class Ships(TypedDict):
    """When the right order ships; what is got elsewhere is left out."""

    now: int
    """whole sets for which all is in stock"""
    rest_days: int
    """days until the other sets can follow; 0 where there are none"""


class OtherLayout(TypedDict):
    """Another layout that the order could be made to fit."""

    layout: str
    """id of the layout"""
    changes: int
    """units added plus units removed; a swap is one of each"""
    verdict: Literal["complete", "short", "surplus", "wrong", "impossible"]
    """complete: nothing to change; short: only to add; surplus: only to remove; wrong: both; impossible: no bill
    is valid
    """
    price_change: int | None
    """minor units: the price of the bill less that of what was ordered; null without a bill"""
    tie: NotRequired[bool]
    """whether it takes as few changes as the one that is shown: the order could be meant for it"""
    edits: NotRequired[int]
    """the changes as people count them: a swap is one"""


class OrderExtra(TypedDict):
    """Something ordered that is not compared: whether it goes with the bill."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    goes: bool
    """whether it can be used with the right order"""
    text: str
    """the same in words, for people"""


class Note(TypedDict):
    """What to know of a SKU that was ordered."""

    sku: str
    """SKU of the part"""
    text: str
    """the same in words, for people"""


class OrderCheck(TypedDict):
    """A judged order as it is kept."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    sets: int
    """for how many such cars the order is"""
    verdict: Literal["complete", "short", "surplus", "wrong", "impossible"]
    """complete: nothing to change; short: only to add; surplus: only to remove; wrong: both; impossible: no bill
    is valid
    """
    layout: str | None
    """id of the layout"""
    bill: Bill | None
    """the bill, with all its lines"""
    add: list[Change]
    """what the order lacks"""
    remove: list[Change]
    """what the order has too much"""
    swap: list[Swap]
    """what is to be swapped"""
    elsewhere: NotRequired[list[FromElsewhere]]
    """what the bill takes that we do not sell; missing in checks that are older than this field"""
    price_change: int | None
    """minor units: the price of the bill less that of what was ordered; null without a bill"""
    edits: NotRequired[int | None]
    """the changes as people count them: a swap is one; null without a bill"""
    stock: NotRequired[list[StockLine]]
    """of each SKU that the right order buys"""
    ships: NotRequired[Ships | None]
    """null without a bill"""
    also_possible: list[OtherLayout]
    """the nearest first: at most 5, but up to 20 that take as few changes as the one shown"""
    extras: list[OrderExtra]
    """what it takes beside the parts: cautions to buy for, consumables"""
    notes: list[Note]
    """what is to be said of parts of the order"""
    reasons: list[Reason]
    """why: a rule each, with its facts"""
    id: str
    """names the check for good"""
    language: NotRequired[str]
    """the languages of its texts, where they are not in English alone"""


class ProblemError(TypedDict):
    """One fault: the place is a `pointer` into the body, or the name of a `parameter` of path or query."""

    pointer: NotRequired[str | None]
    """JSON Pointer as a URI fragment"""
    parameter: NotRequired[str | None]
    """a path or query parameter, or a header"""
    detail: str
    """the fault in one sentence"""
    found: str
    """what stood there, cut short; `nothing` where it is missing"""
    expected: str
    """what would be right"""
    nearest: NotRequired[list[str]]
    """known ids or names that are alike, the nearest first; unless told: []"""


class Problem(TypedDict):
    """A problem document. Tell problems apart by `type`; `detail` is for people and may change."""

    type: str
    """a path that identifies the type and serves a page about it"""
    title: str
    """always the same for one type"""
    status: int
    """where it stands; of a problem, the HTTP status"""
    detail: str
    """what went wrong this time, and how to put it right"""
    instance: NotRequired[str]
    """this very occurrence, by its request id; unless told: "\""""
    errors: NotRequired[list[ProblemError]]
    """every fault, where there can be several; the first 20 of many; unless told: []"""
    more: NotRequired[int | None]
    """how many faults there are besides those of `errors`; absent: none"""


class BatchLine(TypedDict):
    """The answer to one line: a check, or the problem of this line alone."""

    line: int
    """the line of the body, counted from 1"""
    status: int
    """as if the order had come alone: 201, or that of the problem"""
    result: NotRequired[OrderCheck]
    """the object itself"""
    problem: NotRequired[Problem]
    """the problem of a line that was refused (RFC 9457)"""


class BegunDraft(TypedDict):
    """A draft to begin: a named working copy of a revision."""

    name: str
    """its name"""
    author: NotRequired[str | None]
    """who did it, or began it, by name"""
    base: NotRequired[int | None]
    """the revision to start from; default: the newest"""


_BegunSweep = TypedDict("_BegunSweep", {"from": int})


class BegunSweep(_BegunSweep):
    """What is held against what."""

    to: int | str
    """the number of the revision that is held against it, or the id of a draft"""


class BeingWorkedOut(TypedDict):
    """An answer that is worked out in the background: ask again."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    text: str
    """the same in words, for people"""


class StandingPart(TypedDict):
    """A part that stands at a spot, outwards."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    kind: str
    """what kind of thing it is"""
    standout_mm: float
    """how far it stands out of the port, mm"""
    across_mm: float | None
    """room, or width, across the axis of the port, mm"""
    side: bool
    """it only closes a side port of the part before it"""


class SheetPart(TypedDict):
    """What a step takes."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    qty: int
    """how many, pieces"""


class SheetSpot(TypedDict):
    """A spot with what goes in and what is left of the room; a limit is null where the room has none."""

    spot: str
    """the spot of the rail; null: it stands at none"""
    duty: Literal["feed", "return", "link", "gauge", "closed"]
    """what the spot, or the path, is for"""
    flows: Literal["in", "out", "both", "none"]
    """as seen from the rail; both: a link between two banks that are fed"""
    flow_l_h: float | None
    """flow of fuel, l/h"""
    standing: list[StandingPart]
    """up to the first line: what takes up the room"""
    beyond: list[SheetPart]
    """that line and what follows it"""
    leads_to: str | None
    """in words; null where it ends in itself"""
    standout_mm: float
    """how far it stands out of the port, mm"""
    width_mm: float
    """width, mm"""
    axial_mm: float | None
    """room along the axis of the port, mm"""
    axial_left_mm: float | None
    """what is left of the room along the axis, mm"""
    across_mm: float | None
    """room, or width, across the axis of the port, mm"""
    across_left_mm: float | None
    """what is left of the room across, mm"""
    text: str
    """the same in words, for people"""


class SheetRail(TypedDict):
    """A rail with its spots; `at_mm` has where along it they are, where the catalog tells."""

    bank: str
    """1 or 2; empty on an engine of one bank"""
    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    length_mm: float | None
    """of its bore; null where it is not told, mm"""
    at_mm: dict[str, float]
    """the place of each spot along the rail, mm, by spot"""
    spots: list[SheetSpot]
    """the spots of the rail"""


class PathStation(TypedDict):
    """A thing that fuel meets on its way."""

    kind: Literal["hookup", "part", "side-plug", "rail"]
    """hookup: the hose or line behind it; side-plug: nothing runs there"""
    sku: str | None
    """null for a hookup"""
    name: str
    """its name"""
    regulates: bool
    """it holds the pressure before it, whatever its own bore loses"""
    drop_kpa: float | None
    """what its bore loses; null where its flow is not rated, kPa"""
    lost_kpa: float
    """what all that is rated has lost from the start to behind this, kPa"""
    kpa: float | None
    """gauge, behind it; null where something not rated hides the pressure"""


class PathProfile(TypedDict):
    """The pressure along one path, at the flow that it is judged at, beside its limit."""

    duty: Literal["feed", "return", "link", "gauge", "closed"]
    """what the spot, or the path, is for"""
    spots: list[str]
    """the spots of the rail"""
    flow_l_h: float
    """flow of fuel, l/h"""
    drop_kpa: float
    """as of the path in the bill: the sum over the stations, kPa"""
    limit_kpa: float
    """the most that the path may lose, kPa"""
    left_kpa: float
    """what is left of the limit of the loss, kPa"""
    start_kpa: float | None
    """gauge, before the first station; null where not known, kPa"""
    stations: list[PathStation]
    """in the order in which fuel meets them"""
    text: str
    """the same in words, for people"""


class BillDrawing(TypedDict):
    """The rails of a bill and the pressure along each of its paths, in its own revision."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    key: str
    """its key: of a bill, or of an object in its section"""
    title: str
    """what it is called, in a line"""
    text: str
    """the same in words, for people"""
    rails: list[SheetRail]
    """the rails"""
    held_kpa: float
    """what the regulator holds: with the boost on top, unless it is told to follow the atmosphere, kPa"""
    rail_kpa: float | None
    """gauge, in the rail: what is held, but for what lies between the rail and the regulator, kPa"""
    paths: list[PathProfile]
    """the flowing paths, in the order of the bill's own"""


class PumpPoint(TypedDict):
    """A point of a pump's curve: what it moves against a pressure."""

    kpa: float
    """pressure, kPa gauge"""
    l_h: float
    """flow, L/h"""


class PumpVolts(TypedDict):
    """The voltage that the curve was measured at, and the one that the pump gets in the car."""

    rated: float
    """voltage that the curve is rated at, V"""
    fed: float
    """voltage that the pump gets, V"""


class Regulator(TypedDict):
    """What a request tells of the regulator: the pressure that it is set to, and what it follows."""

    set_kpa: NotRequired[float | None]
    """default: the chassis's base_kpa"""
    follows: NotRequired[Literal["manifold", "atmosphere"] | None]
    """what the regulator holds its pressure over"""


class InjectorFlow(TypedDict):
    """What an injector delivers held open, at which pressure over it, and which part of the time it may be open."""

    static_l_h: float
    """flow of an injector that is held open, l/h"""
    rated_kpa: float
    """pressure that the flow is rated at, gauge, kPa"""
    max_duty: NotRequired[float | None]
    """default: 0.85"""


class HadPart(TypedDict):
    """So many units of a part of the catalog that the customer already has."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""


class OwnSpot(TypedDict):
    """What a spot of the customer's own rail offers."""

    standard: str
    """id of the port standard"""
    end: Literal["male", "female"]
    """whether the end is male or female"""


class CaseCar(TypedDict):
    """A car, with wishes."""

    fuel: NotRequired[str | None]
    """default: the catalog's first fuel"""
    power_kw: NotRequired[float | None]
    """default: the chassis's stock power, kW"""
    pump_l_h: NotRequired[float | None]
    """default, with a return: what the pump moves at idle, else demand times recirculation, l/h"""
    pump: NotRequired[list[PumpPoint] | None]
    """the pump's curve; default: the car's own, where the catalog tells it"""
    pump_v: NotRequired[PumpVolts | None]
    """of `pump`, or of the car's own pump; default: the pump gets what its curve is told for"""
    regulator: NotRequired[Regulator | None]
    """a fact; default: what the part or the car tells"""
    injectors: NotRequired[InjectorFlow | None]
    """a fact; default: the car's own"""
    feed_hose_m: NotRequired[float | None]
    """length of the feed hose, m"""
    return_hose_m: NotRequired[float | None]
    """length of the return hose, m"""
    boost_kpa: NotRequired[float]
    """boost that the fuel pressure follows, gauge, kPa; unless told: 0.0"""
    addons: NotRequired[list[str]]
    """ids of the add-ons that the car has"""
    clearances: NotRequired[list[Clearance]]
    """the smallest of car, add-ons and these counts"""
    gauge: NotRequired[str]
    """none, any, or a spot: left, centre, right, top (1.left ... 2.top on two banks); unless told: "none\""""
    finish: NotRequired[str | None]
    """the finish, by the catalog's name"""
    exclude: NotRequired[list[str]]
    """SKUs that must not stand in a bill"""
    in_stock_only: NotRequired[bool]
    """whether everything has to be in stock; unless told: false"""
    allow_unsold: NotRequired[bool]
    """whether parts that are bought elsewhere may stand in a bill; unless told: true"""
    max_price: NotRequired[int | None]
    """the most that a bill may cost, minor units, minor units of the currency"""
    have: NotRequired[list[HadPart]]
    """parts at hand; the same SKU twice adds up"""
    own_rail: NotRequired[dict[str, OwnSpot] | None]
    """a rail by somebody else, by its spots (both banks alike), in place of the catalog's"""
    chassis: str
    """id of the car, or ids of the cars"""


class CarQuestion(CaseCar):
    """A car, with wishes, and perhaps a revision."""

    revision: NotRequired[int | None]
    """default: the newest"""


class BillRequest(CarQuestion):
    """A chassis, a layout, and the wishes that narrow the answer."""

    layout: str
    """id of the layout"""
    limit: NotRequired[int]
    """how many bills at most; of a path, which limit is met first; unless told: 10"""
    group_variants: NotRequired[bool]
    """whether bills that differ in finish or seal alone count as one; unless told: true"""
    order_by: NotRequired[Literal["price", "pieces", "drop", "lead", "margin", "power"]]
    """margin: the most left of the tightest limit first; power: what carries most first; unless told: "price\""""


class LinkPort(TypedDict):
    """A port of a part of the bridge."""

    port: str
    """id of the port"""
    standard: str
    """id of the port standard"""
    end: str
    """male or female"""


class OpenPort(TypedDict):
    """A port that the bridge leaves open, and what closes it."""

    port: str
    """id of the port"""
    standard: str
    """id of the port standard"""
    end: str
    """male or female"""
    text: str
    """the same in words, for people"""


class BridgeLink(TypedDict):
    """A part of the bridge: the port that meets what is before it, the one that carries on, those that stay open."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    sold: bool
    """false: bought elsewhere, and its price is an estimate"""
    price: int
    """integer minor units, minor units of the currency"""
    enters: LinkPort
    """the port by which the chain comes in"""
    leaves: LinkPort
    """the port by which the chain goes on"""
    open_ports: list[OpenPort]
    """ports that nothing closes"""


class PortTold(TypedDict):
    """A port of a part, or a bare one, which has neither sku nor port."""

    sku: str | None
    """SKU of the part"""
    port: str | None
    """id of the port"""
    standard: str
    """id of the port standard"""
    end: str
    """male or female"""


class JointTold(TypedDict):
    """How a joint is made up."""

    id: str
    """its id"""
    method: Literal["torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click"]
    """how the joint is tightened"""
    text: str
    """the same in words, for people"""


class Meeting(TypedDict):
    """Two ports that mate, and how their joint is made up."""

    one: PortTold
    """one side"""
    other: PortTold
    """the other side"""
    joint: JointTold
    """how the joint is made up"""
    text: str
    """the same in words, for people"""


class BridgeTold(TypedDict):
    """The shortest chain of catalog parts that joins the two sides, from `one` to `other`."""

    items: list[str]
    """SKUs of the parts"""
    price: int
    """integer minor units; parts bought elsewhere are not in it, minor units of the currency"""
    chain: list[BridgeLink]
    """the parts from one side to the other, in order"""
    joints: list[Meeting]
    """every joint that the chain makes, in order"""
    text: str
    """the same in words, for people"""


class BriefAlternative(TypedDict):
    change: dict[str, str]
    """gauge to another place, or layout to another one"""
    total_valid: int
    """valid bills (with group_variants: groups) after the change"""
    price: int
    """of the first bill that counts, minor units, minor units of the currency"""
    text: str
    """the same in words, for people"""
    power: PowerHead
    """of that bill"""


class Repair(TypedDict):
    """The least that has to change, and what it gives."""

    change: dict[str, Any]
    """wish to new value; null: dropped to no value"""
    text: str
    """the same in words, for people"""
    total_valid: int
    """valid bills (with group_variants: groups) after the change"""


class More(TypedDict):
    """Whether there are more than are listed."""

    conflicts: bool
    """the sets of wishes that cannot hold together"""
    repairs: bool
    """the least changes of wishes that help"""
    alternatives: bool
    """other layouts, or places of the gauge, that are offered instead"""


class BriefPart(TypedDict):
    """A part that stands in lines."""

    name: str
    """its name"""
    price: int
    """of one, minor units; of a part bought elsewhere an estimate, minor units of the currency"""


class BriefLine(TypedDict):
    """One line of a bill."""

    sku: str
    """its part, one of the answer's `parts`"""
    qty: int
    """how many, pieces"""
    source: Literal["buy", "elsewhere", "supplied", "have", "on-car", "add-on"]
    """where it comes from: of a figure the standard, of a part the supplier"""
    price: int
    """of the whole line, minor units; 0 unless bought from us, minor units of the currency"""
    spots: list[str]
    """the spots of the rail"""


class BriefBill(AnyBill):
    """A complete bill of material in short."""

    power: PowerHead
    """the power that it carries"""
    lines: list[int]
    """the places of its lines in the answer's `lines`, from 0"""
    cautions: int
    """how many cautions it has: read them before it is built"""


class BriefAnswer(TypedDict):
    """The answer to a request in short."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    total_valid: int
    """how many valid bills (with group_variants: groups) there are, exactly"""
    conflicts: list[list[str]]
    """without a valid bill: every minimal set of wishes that has none, at most 20"""
    repairs: list[Repair]
    """every minimal set of wishes to change, at most 20"""
    more: More
    """what may be asked for beside this"""
    detail: Literal["brief"]
    """how much is told"""
    parts: dict[str, BriefPart]
    """the parts of all lines, by SKU"""
    lines: list[BriefLine]
    """the lines of all bills, each once"""
    bills: list[BriefBill]
    """the bills, best first"""
    alternatives: list[BriefAlternative]
    """other layouts, or places of the gauge, that are offered instead"""


class Bsfc(TypedDict):
    """Brake-specific fuel consumption, g/kWh, naturally aspirated and boosted."""

    na: float
    """without boost, g/kWh"""
    boosted: float
    """with boost, g/kWh"""


class CaseQuestion(CaseCar):
    """The fields of a request for bills, without a revision: a catalog's case is asked of its own."""

    layout: str
    """id of the layout"""
    limit: NotRequired[int | None]
    """how many bills at most; of a path, which limit is met first"""
    group_variants: NotRequired[bool | None]
    """whether bills that differ in finish or seal alone count as one"""
    order_by: NotRequired[Literal["price", "pieces", "drop", "lead", "margin", "power"] | None]
    """what the bills are ordered by; where they are level, by price"""


class PinnedQuestion(CaseQuestion):
    """The same, perhaps of one revision."""

    revision: NotRequired[int | None]
    """default: the newest"""


class PriceRange(TypedDict):
    """What may be paid, both ends included."""

    at_least: int
    """integer minor units of the currency"""
    at_most: int
    """integer minor units of the currency"""


class FilePromises(TypedDict):
    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    currency: NotRequired[str | None]
    """the code that the answer tells"""
    has_bill: bool
    """whether the answer has a valid bill"""
    contains: NotRequired[list[str] | None]
    """SKUs that stand in the first bill"""
    never_contains: NotRequired[list[str] | None]
    """SKUs that stand in no bill that is listed"""
    price: NotRequired[PriceRange | None]
    """of the first bill, minor units of the currency"""
    key: NotRequired[str | None]
    """of the first bill"""


class FileCase(TypedDict):
    """A case of bills in a file."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: NotRequired[Literal["bills"]]
    """what kind of thing it is; unless told: "bills\""""
    request: PinnedQuestion
    """the question, as POST /v1/bills takes it"""
    promises: FilePromises
    """what the answer has to keep"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""


class OrderLine(TypedDict):
    """So many units of a SKU."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""


class OrderRequest(TypedDict):
    """An order, the car that it is for, and the wishes that a right order would meet; or the key of a bill."""

    key: NotRequired[str | None]
    """of a bill: the order is compared with that very bill in its own revision; it takes the place of chassis,
    layout, wishes and revision
    """
    chassis: NotRequired[str | None]
    """needed, unless there is a key"""
    layout: NotRequired[str | None]
    """default: the one nearest to the order"""
    fuel: NotRequired[str | None]
    """default: the catalog's first fuel"""
    power_kw: NotRequired[float | None]
    """default: the chassis's stock power, kW"""
    pump_l_h: NotRequired[float | None]
    """default, with a return: what the pump moves at idle, else demand times recirculation, l/h"""
    pump: NotRequired[list[PumpPoint] | None]
    """the pump's curve; default: the car's own, where the catalog tells it"""
    pump_v: NotRequired[PumpVolts | None]
    """of `pump`, or of the car's own pump; default: the pump gets what its curve is told for"""
    regulator: NotRequired[Regulator | None]
    """a fact; default: what the part or the car tells"""
    injectors: NotRequired[InjectorFlow | None]
    """a fact; default: the car's own"""
    feed_hose_m: NotRequired[float | None]
    """length of the feed hose, m"""
    return_hose_m: NotRequired[float | None]
    """length of the return hose, m"""
    boost_kpa: NotRequired[float]
    """boost that the fuel pressure follows, gauge, kPa; unless told: 0.0"""
    addons: NotRequired[list[str]]
    """ids of the add-ons that the car has"""
    clearances: NotRequired[list[Clearance]]
    """the smallest of car, add-ons and these counts"""
    gauge: NotRequired[str]
    """none, any, or a spot: left, centre, right, top (1.left ... 2.top on two banks); unless told: "none\""""
    finish: NotRequired[str | None]
    """the finish, by the catalog's name"""
    exclude: NotRequired[list[str]]
    """SKUs that must not stand in a bill"""
    in_stock_only: NotRequired[bool]
    """whether everything has to be in stock; unless told: false"""
    allow_unsold: NotRequired[bool]
    """whether parts that are bought elsewhere may stand in a bill; unless told: true"""
    max_price: NotRequired[int | None]
    """the most that a bill may cost, minor units, minor units of the currency"""
    have: NotRequired[list[HadPart]]
    """parts at hand; the same SKU twice adds up"""
    own_rail: NotRequired[dict[str, OwnSpot] | None]
    """a rail by somebody else, by its spots (both banks alike), in place of the catalog's"""
    lines: list[OrderLine]
    """what is ordered; the same SKU twice adds up"""
    sets: NotRequired[int]
    """for how many such cars the order is; unless told: 1"""
    revision: NotRequired[int | None]
    """default: the newest"""


class OrderPromises(TypedDict):
    """What holds of an order check."""

    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    verdict: NotRequired[Literal["complete", "short", "surplus", "wrong", "impossible"] | None]
    """verdict"""
    layout: NotRequired[str | None]
    """of the bill that is nearest to the order"""
    edits: NotRequired[int | None]
    """at most so many changes; a swap is one"""


class OrderCase(TypedDict):
    """An order held to a car, or to the key of a bill. Each time it is asked over HTTP an order check is kept."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""
    kind: Literal["order_check"]
    """what kind of thing it is"""
    request: OrderRequest
    """the question, as POST /v1/bills takes it"""
    promises: OrderPromises
    """what the answer has to keep"""


class ExplainRequest(TypedDict):
    """A request for bills, and the part that the question is about."""

    request: BillRequest
    """the question, as POST /v1/bills takes it"""
    sku: str
    """a part of the catalog, or own-rail where the request has one"""
    spot: NotRequired[str | None]
    """default: every spot that the rails offer"""


class ExplainPromises(TypedDict):
    """What holds of an explanation."""

    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    currency: NotRequired[str | None]
    """the code that the answer tells"""
    in_bills: NotRequired[bool | None]
    """in bills"""
    where: NotRequired[list[str] | None]
    """the spots at which it stands, all of these"""
    stopped_by: NotRequired[list[str] | None]
    """rules that stop it somewhere, all of these"""


class ExplainCase(TypedDict):
    """A part, and why it is in the bills or is not."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""
    kind: Literal["explain"]
    """what kind of thing it is"""
    request: ExplainRequest
    """the question, as POST /v1/bills takes it"""
    promises: ExplainPromises
    """what the answer has to keep"""


class LayoutsPromises(TypedDict):
    """What holds of the layouts of a car."""

    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    currency: NotRequired[str | None]
    """the code that the answer tells"""
    with_bills: NotRequired[list[str] | None]
    """layouts that have a bill"""
    without_bills: NotRequired[list[str] | None]
    """layouts that have none"""


class LayoutsCase(TypedDict):
    """The layouts of a car."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""
    kind: Literal["layouts"]
    """what kind of thing it is"""
    request: CarQuestion
    """the question, as POST /v1/bills takes it"""
    promises: LayoutsPromises
    """what the answer has to keep"""


class ItemQuestion(TypedDict):
    """An item, perhaps of a revision."""

    sku: str
    """SKU of the part"""
    revision: NotRequired[int | None]
    """default: the newest"""


class ItemPromises(TypedDict):
    """What holds of an item."""

    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    exists: NotRequired[bool]
    """exists; unless told: true"""
    price: NotRequired[PriceRange | None]
    """of one, minor units, minor units of the currency"""
    status: NotRequired[Literal["active", "retired"] | None]
    """where it stands; of a problem, the HTTP status"""


class ItemCase(TypedDict):
    """An item by its SKU."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""
    kind: Literal["item"]
    """what kind of thing it is"""
    request: ItemQuestion
    """the question, as POST /v1/bills takes it"""
    promises: ItemPromises
    """what the answer has to keep"""


class PartSide(TypedDict):
    """A part of the catalog, by itself or as one of its ports."""

    sku: str
    """SKU of the part"""
    port: NotRequired[str | None]
    """default: whichever of its ports is best"""


class PortSide(TypedDict):
    """A bare port: whatever has this standard in this end."""

    standard: str
    """id of the port standard"""
    end: Literal["male", "female"]
    """whether the end is male or female"""


class JointQuestion(TypedDict):
    """Two sides, in either order."""

    one: PartSide | PortSide
    """one side"""
    other: PartSide | PortSide
    """the other side"""
    revision: NotRequired[int | None]
    """default: the newest"""


class JointPromises(TypedDict):
    """What holds of a joint."""

    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    currency: NotRequired[str | None]
    """the code that the answer tells"""
    meets: NotRequired[bool | None]
    """whether the two meet as they are"""
    bridged_by: NotRequired[list[str] | None]
    """SKUs of the bridge, in order"""


class JointCase(TypedDict):
    """Two sides, and whether they meet."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    account: NotRequired[str | None]
    """whose case it is; left out: the catalog's own, or the account of the key that is shown"""
    kind: Literal["joint"]
    """what kind of thing it is"""
    request: JointQuestion
    """the question, as POST /v1/bills takes it"""
    promises: JointPromises
    """what the answer has to keep"""


class CaseFile(TypedDict):
    """The cases that `GET /v1/contract/cases` serves, and those of a partner's own file."""

    revision: NotRequired[int | None]
    """default: the newest"""
    currency: NotRequired[str | None]
    """of the prices that are promised"""
    tax: NotRequired[Literal["net", "gross"] | None]
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    cases: list[FileCase | OrderCase | ExplainCase | LayoutsCase | ItemCase | JointCase]
    """the cases, in their order"""


class CaseItem(TypedDict):
    """An item by its SKU."""

    sku: str
    """SKU of the part"""


class CaseSide(TypedDict):
    """A part, perhaps one of its ports; or a bare port by standard and end."""

    sku: NotRequired[str | None]
    """SKU of the part"""
    port: NotRequired[str | None]
    """id of the port"""
    standard: NotRequired[str | None]
    """id of the port standard"""
    end: NotRequired[Literal["male", "female"] | None]
    """whether the end is male or female"""


class CaseJoint(TypedDict):
    """Two sides, in either order."""

    one: CaseSide
    """one side"""
    other: CaseSide
    """the other side"""


class CaseOrder(CaseCar):
    """An order, and the car that it is for."""

    layout: NotRequired[str | None]
    """default: the one nearest to the order"""
    lines: list[OrderLine]
    """the lines: what, how many, where from"""
    sets: NotRequired[int]
    """for how many such cars the order is; unless told: 1"""


class CasePart(CaseQuestion):
    """A request for bills, and the part that the question is about."""

    sku: str
    """SKU of the part"""
    spot: NotRequired[str | None]
    """default: every spot that the rails offer"""


class CatalogPromises(TypedDict):
    max_ms: NotRequired[int | None]
    """milliseconds: the median of five answers, each asked anew, takes at most so long"""
    must_say: NotRequired[list[str] | None]
    """words that stand in some text of the answer"""
    currency: NotRequired[str | None]
    """the code that the answer tells"""
    has_bill: bool
    """whether the answer has a valid bill"""
    contains: NotRequired[list[str] | None]
    """SKUs that stand in the first bill"""
    never_contains: NotRequired[list[str] | None]
    """SKUs that stand in no bill that is listed"""
    price: NotRequired[PriceRange | None]
    """of the first bill, minor units of the currency"""
    keyed: NotRequired[bool | None]
    """true: which bill is the first is promised too"""


class CatalogCase(TypedDict):
    """A case of the catalog; `says` tells in plain words what it is about."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: NotRequired[Literal["bills"]]
    """what kind of thing it is; unless told: "bills\""""
    request: CaseQuestion
    """the question, as POST /v1/bills takes it"""
    promises: CatalogPromises
    """what the answer has to keep"""


class CatalogChange(TypedDict):
    """One object that is in one of two catalogs alone, or differs."""

    kind: str
    """item, chassis, layout, addon, fuel, fuel_order, policies ..."""
    id: str
    """its id"""
    what: Literal["added", "removed", "changed"]
    """what it is about, or what was done"""
    fields: list[str]
    """the top-level fields that differ, where it is in both"""


class CatalogExplainCase(TypedDict):
    """A part, and why it is in the bills or is not."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: Literal["explain"]
    """what kind of thing it is"""
    request: CasePart
    """the question, as POST /v1/bills takes it"""
    promises: ExplainPromises
    """what the answer has to keep"""


class CatalogItemCase(TypedDict):
    """An item."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: Literal["item"]
    """what kind of thing it is"""
    request: CaseItem
    """the question, as POST /v1/bills takes it"""
    promises: ItemPromises
    """what the answer has to keep"""


class CatalogJointCase(TypedDict):
    """Two sides, and whether they meet."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: Literal["joint"]
    """what kind of thing it is"""
    request: CaseJoint
    """the question, as POST /v1/bills takes it"""
    promises: JointPromises
    """what the answer has to keep"""


class CatalogLayoutsCase(TypedDict):
    """The layouts of a car."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: Literal["layouts"]
    """what kind of thing it is"""
    request: CaseCar
    """the question, as POST /v1/bills takes it"""
    promises: LayoutsPromises
    """what the answer has to keep"""


class CatalogOrderCase(TypedDict):
    """An order held to a car."""

    id: str
    """its id"""
    says: str
    """what it is about, in plain words"""
    kind: Literal["order_check"]
    """what kind of thing it is"""
    request: CaseOrder
    """the question, as POST /v1/bills takes it"""
    promises: OrderPromises
    """what the answer has to keep"""


RuleId: TypeAlias = Literal[
    "pattern",
    "layout",
    "mates",
    "closed",
    "simple",
    "via",
    "reach",
    "clearance",
    "fuel",
    "pressure",
    "flow",
    "supply",
    "supplied",
    "elsewhere",
    "mounting",
    "wish",
]
"""a rule of valid bills; what `facts` it tells, the schema of its name with Facts says"""


class StoppedPart(TypedDict):
    """The part that comes nearest, what stops it, and how many others are stopped by the same rule."""

    sku: str | None
    """null where it is no single part"""
    rule: RuleId
    """id of the rule; `facts` are those of this rule"""
    text: str
    """the same in words, for people"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""
    others: int
    """how many other parts are stopped by the same rule"""


class Cause(TypedDict):
    """A spot that nothing serves with its duty, and what stops its parts; both null: the rail, or the whole bill."""

    spot: str | None
    """the spot of the rail; null: it stands at none"""
    duty: Literal["feed", "return", "link", "gauge", "closed"] | None
    """what the spot, or the path, is for"""
    text: str
    """the same in words, for people"""
    causes: list[StoppedPart]
    """what stops it, spot by spot or rule by rule"""


class ChangeTold(TypedDict):
    """The smallest change of a single wish with which the part is there, tried on the whole request."""

    change: dict[str, Any]
    """the wish at its new value; null: dropped to no value"""
    text: str
    """the same in words, for people"""
    total_valid: int
    """how many bills (or groups, as asked) there are with it"""


class ChangedPart(TypedDict):
    """What became of a part of a bill since."""

    sku: str
    """SKU of the part"""
    what: Literal["gone", "retired", "replaced", "price", "changed"]
    """replaced: its successor takes its place; changed: figures that the rules go by"""
    text: str
    """the same in words, for people"""


class SectionChange(TypedDict):
    """An item, car, layout, add-on or fuel that a revision added, retired, removed or changed."""

    kind: Literal["item", "chassis", "layout", "addon", "fuel"]
    """what kind of thing it is"""
    id: str
    """its id"""
    what: Literal["added", "retired", "removed", "changed"]
    """what it is about, or what was done"""
    fields: list[str]
    """the top-level fields that differ, where it was there before"""


class RevisionChanges(TypedDict):
    """What one revision changed against the one before it."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    changes: list[SectionChange]
    """what differs"""


class ChangesSince(TypedDict):
    """What changed since a revision, by revision, the first after it first."""

    since: int
    """the revision that the changes start from"""
    revision: int
    """the newest"""
    revisions: list[RevisionChanges]
    """the revisions, each with its changes"""
    next: NotRequired[str]
    """path of what changed after the last of these"""


class Flow(TypedDict):
    """What the fuel runs through: a bore with its length, minor-loss coefficient and wall roughness."""

    bore_mm: float
    """the narrowest bore, mm"""
    length_mm: float
    """length, mm"""
    loss_k: float
    """coefficient of the loss, without unit"""
    roughness_mm: float
    """roughness of the bore, mm"""


class Reach(TypedDict):
    """The window, in standout from the spot, in which a hookup can be reached."""

    min_mm: float
    """the shortest, mm"""
    max_mm: float
    """the longest, mm"""


class Hookup(TypedDict):
    """An end that the car offers."""

    id: str
    """its id"""
    standard: str
    """id of the port standard"""
    end: Literal["male", "female"]
    """whether the end is male or female"""
    flow: NotRequired[Flow | None]
    """how the fuel flows: bore, length and loss, or what each path loses"""
    spots: NotRequired[dict[str, Reach] | None]
    """the spots of the rail"""


class ChassisMounting(TypedDict):
    role: str
    """what it is there for"""
    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    optional: NotRequired[bool | None]
    """whether it may be missing"""


class Injectors(TypedDict):
    """The engine's injectors; lengths from the shoulder that rests in the manifold, positions of rings on them."""

    static_l_h: float
    """flow of an injector that is held open, l/h"""
    rated_kpa: float
    """pressure that the flow is rated at, gauge, kPa"""
    max_duty: NotRequired[float | None]
    """default: 0.85"""
    length_mm: float
    """length, mm"""
    length_tol_mm: float
    """plus or minus, mm"""
    upper_ring_mm: float
    """diameter that the upper ring seals, mm"""
    lower_ring_mm: float
    """diameter that the lower ring seals, mm"""
    bore_mm: float
    """the narrowest bore, mm"""
    material: str
    """id of the material"""


class ChassisRegulator(TypedDict):
    """The car's own regulator: where it holds the pressure while nothing returns from the rail, and what it
    follows.

    `at` tank (the default): at the pump's outlet; rail: at the rail, by a sensor that holds the pump to it.
    `reference`: where on the manifold a regulator takes its reference, as it stands after `to`.
    """

    at: NotRequired[Literal["tank", "rail"] | None]
    """where it is"""
    follows: NotRequired[Literal["manifold", "atmosphere"] | None]
    """what the regulator holds its pressure over"""
    reference: NotRequired[str | None]
    """reference"""


class Manifold(TypedDict):
    """Where rail and injectors stand: the injector's seat over (below 0: under) the face for rail or spacers."""

    seat_mm: float
    """diameter of the seat of an injector, mm"""
    seat_tol_mm: float
    """plus or minus, mm"""
    thread_mm: float
    """length of thread in the manifold, mm"""
    material: str
    """id of the material"""
    cold_c: float
    """temperature of the cold engine, °C"""
    hot_c: float
    """temperature of the hot engine, °C"""


class Tank(TypedDict):
    """The fuel before the pump, and the rail after a hot stop.

    `lift_m`: from the fuel up to the pump's inlet, below 0 where the pump stands under it; `rest_kpa`: what the
    rail still holds after soaking, gauge.
    """

    fuel_c: float
    """temperature of the fuel, °C"""
    soak_c: float
    """temperature of the fuel when the hot engine stands, °C"""
    lift_m: float
    """height of the pump over the fuel"""
    inlet_loss_kpa: float
    """what the inlet of the pump loses, kPa"""
    rest_kpa: float
    """pressure that stays in the standing system, gauge, kPa"""


class Chassis(TypedDict):
    """A vehicle application: its engine, rail pattern, hookups, clearances and base pressure."""

    id: str
    """its id"""
    name: str
    """its name"""
    engine: str
    """the engine, as it is called"""
    cylinders: int
    """number of cylinders"""
    banks: Literal[1, 2]
    """banks of cylinders"""
    pattern: str
    """the pattern of rails that fits the engine"""
    base_kpa: float
    """fuel pressure without boost, gauge, kPa"""
    stock_kw: float
    """power of the engine as it was made, kW"""
    hookups: list[Hookup]
    """the lines that the car offers"""
    clearances: list[Clearance]
    """room at each spot, by spot"""
    mounting: list[ChassisMounting]
    """screws, spacers and other parts that mount the rail"""
    pump: NotRequired[list[PumpPoint] | None]
    """points of the pump's curve"""
    pump_v: NotRequired[PumpVolts | None]
    """voltages of the pump"""
    injectors: NotRequired[Injectors | None]
    """the injectors of the car"""
    regulator: NotRequired[ChassisRegulator | None]
    """the regulator of the car; null: not known"""
    manifold: NotRequired[Manifold | None]
    """the manifold that the injectors stand in; null: not known"""
    tank: NotRequired[Tank | None]
    """the tank and what lies before the pump; null: not known"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""


class ChassisDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: Chassis
    """the object itself"""


class LayoutChoice(TypedDict):
    """A layout for a chassis: what it carries, how many bills it has and from what price, or what rules it out; or
    why that takes too much work to find out.
    """

    layout: str
    """id of the layout"""
    name: str
    """its name"""
    summary: str
    """what it does, in a sentence"""
    total_valid: int | None
    """null where it takes too much work to find out"""
    power: Power | None
    """what its best bill carries; null where it has none"""
    duties: dict[str, Literal["feed", "return", "link", "gauge", "closed"]] | None
    """what each spot does in its best bill; null where it has none"""
    largest_power_kw: float | None
    """a figure of the plumbing alone, whatever pump and injectors do: where the best of its bills is at a limit;
    null where it has none or nothing of it is rated, kW
    """
    lowest_price: int | None
    """price of the cheapest bill, minor units; null: there is no bill, minor units of the currency"""
    ruled_out_by: Reason | None
    """what stops the part that came furthest"""
    too_costly: str | None
    """why it takes too much work among all layouts; it may be asked for alone"""


class ChassisLayouts(TypedDict):
    """Every layout of the catalog for one chassis, each asked for with the same wishes and facts."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    chassis: str
    """id of the car, or ids of the cars"""
    layouts: list[LayoutChoice]
    """the layouts, in the catalog's order"""


class ChassisPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Chassis]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class ClearanceFacts(AnyFacts):
    """the facts of the rule `clearance`, those that the case has"""

    across_left_mm: NotRequired[float]
    """what is left of it, mm"""
    across_mm: NotRequired[float]
    """room across the axis, mm"""
    axial_left_mm: NotRequired[float]
    """what is left of it, mm"""
    axial_mm: NotRequired[float]
    """room along the axis, mm"""
    standout_mm: NotRequired[float]
    """how far the chain stands out, mm"""
    width_mm: NotRequired[float]
    """how wide the chain is, mm"""


class ClosedFacts(AnyFacts):
    """the facts of the rule `closed`, those that the case has"""

    duty: NotRequired[str]
    """what the spot is for"""
    kind: NotRequired[str]
    """kind of the part"""
    leads_to: NotRequired[str | None]
    """where the path leads, in words"""
    portless: NotRequired[bool]
    """the part has no port"""
    side_of: NotRequired[str | None]
    """name of the part whose side port it closes"""
    side_port: NotRequired[str]
    """id of the port standard of a side port that stays open"""
    spots: NotRequired[list[str]]
    """the spots"""


class Current(TypedDict):
    """How the newest revision judges the order."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    same: bool
    """the same verdict, layout and changes; prices and texts may differ"""
    verdict: Literal["complete", "short", "surplus", "wrong", "impossible"] | None
    """null where the order cannot be judged any more"""
    text: str
    """the same in words, for people"""


class CurrentBill(TypedDict):
    """Whether the same rail, duties and chains are a valid bill of the newest revision; a retired part by its
    successor.
    """

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    valid: bool
    """whether it is still valid"""
    price: int | None
    """what it costs now, minor units; null where it is not valid, minor units of the currency"""
    changed: list[ChangedPart]
    """what was changed, or when"""
    key: str | None
    """of the bill in that revision; null where it is not valid"""
    text: str
    """the same in words, for people"""


class CurvePoint(TypedDict):
    """At one power the path that is nearest to its limit of drop."""

    power_kw: float
    """power of the engine, kW"""
    demand_l_h: float
    """what the engine burns, l/h"""
    duty: Literal["feed", "return", "link", "gauge", "closed"]
    """what the spot, or the path, is for"""
    spots: list[str]
    """the spots of the rail"""
    flow_l_h: float
    """flow of fuel, l/h"""
    drop_kpa: float
    """pressure that the path loses, kPa"""
    limit_kpa: float
    """the most that the path may lose, kPa"""
    used_percent: float
    """drop over limit, %"""
    within: bool
    """whether every path keeps its limits of drop and of velocity"""


class DetailedRequest(BillRequest):
    """The same, and how much is told of what is found."""

    detail: NotRequired[Literal["brief", "reasons", "full"]]
    """brief: prices and parts; reasons: with the reason for every line; full: with every figure; unless told:
    "reasons\"
    """


class DraftFault(TypedDict):
    """What does not hold in the catalog as the draft has it."""

    section: str
    """the section of the catalog"""
    key: str
    """of the object; empty where the section as a whole is at fault"""
    pointer: str
    """JSON Pointer within the object"""
    found: str
    """what stood there, cut short"""
    expected: str
    """what would be right"""


class DraftHead(TypedDict):
    """A draft without its content."""

    id: str
    """its id"""
    name: str
    """its name"""
    author: str | None
    """who did it, or began it, by name"""
    base: int
    """the revision that it starts from"""
    version: int
    """counts what was done to it"""
    begun: str
    """in UTC"""
    changed: str
    """in UTC"""
    published: int | None
    """the revision that it became: nothing changes it any more"""


class Draft(DraftHead):
    """A draft: how much it has otherwise than its base, and what does not hold in it."""

    faults: list[DraftFault]
    """what does not hold together, the first 20"""
    more_faults: int
    """how many there are besides"""
    edits: dict[str, int]
    """objects that it has otherwise than its base"""


class DraftChange(TypedDict):
    """An object that a draft has otherwise than its base."""

    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    what: Literal["added", "changed", "removed"]
    """what it is about, or what was done"""
    fields: list[str]
    """the top-level fields that differ, where it is in both"""
    etag: str | None
    """null: it is removed"""
    author: str | None
    """who did it, or began it, by name"""
    changed: str
    """in UTC"""


class DraftChanges(TypedDict):
    """What a draft has otherwise than its base, in the order in which it was done."""

    draft: str
    """id of the draft"""
    base: int
    """the revision that the draft starts from"""
    results: list[DraftChange]
    """what is on this page"""
    next: NotRequired[str]
    """path of the next page"""


class FuelOrder(TypedDict):
    """The ids of fuels, the first one first; a fuel that is not named stands behind those that are, where it
    stood.
    """

    fuels: list[str]
    """ids of the fuels that it has to stand"""


class DraftFuelOrder(TypedDict):
    """The order of fuels as the draft has it: the first is what is asked where no fuel is told."""

    draft: str
    """id of the draft"""
    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    etag: str | None
    """for If-Match, as the header has it; null: it is removed"""
    what: Literal["added", "changed", "removed"] | None
    """against the base; null: as it is there"""
    author: str | None
    """who changed it last in this draft"""
    changed: str | None
    """what was changed, or when"""
    result: FuelOrder
    """the object itself"""


class Maker(TypedDict):
    name: str
    """its name"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: NotRequired[Literal["net", "gross"] | None]
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    second_language: NotRequired[str | None]
    """a language besides English, as BCP 47 writes it, such as de or pt-BR"""


class DraftMaker(TypedDict):
    """The maker as the draft has it."""

    draft: str
    """id of the draft"""
    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    etag: str | None
    """for If-Match, as the header has it; null: it is removed"""
    what: Literal["added", "changed", "removed"] | None
    """against the base; null: as it is there"""
    author: str | None
    """who changed it last in this draft"""
    changed: str | None
    """what was changed, or when"""
    result: Maker
    """the object itself"""


class DraftMove(TypedDict):
    """How a draft moves to the newest revision."""

    author: NotRequired[str | None]
    """who did it, or began it, by name"""
    keep: NotRequired[Literal["draft", "newest"] | None]
    """whose state stays where both have changed an object; default: then nothing moves"""


class Port(TypedDict):
    """A port of an item; `spot` tells its place on a rail and stands on rails alone."""

    id: str
    """its id"""
    standard: str
    """id of the port standard"""
    end: Literal["male", "female"]
    """whether the end is male or female"""
    spot: NotRequired[Literal["left", "centre", "right", "top"] | None]
    """the spot of the rail; null: it stands at none"""


class Supplied(TypedDict):
    """What comes in the box of an item: for a spot of the rail, for a mounting role, or just so."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    spot: NotRequired[Literal["left", "centre", "right", "top"] | None]
    """the spot of the rail; null: it stands at none"""
    role: NotRequired[str | None]
    """what it is there for"""


class Ring(TypedDict):
    """An O-ring."""

    inside_mm: float
    """inside diameter, mm"""
    section_mm: float
    """thickness of the ring, mm"""
    inside_tol_mm: float
    """plus or minus, mm"""
    section_tol_mm: float
    """plus or minus, mm"""


class StraightThread(TypedDict):
    """A straight thread; `unified` has its stress area by ASME B1.1, `metric` by ISO 898-1."""

    diameter_mm: float
    """nominal diameter of the thread, mm"""
    pitch_mm: float
    """pitch of the thread, mm"""
    form: Literal["metric", "unified"]
    """the form of the thread"""


class TorqueRange(TypedDict):
    min: float
    """the least, in the unit that the object around it names"""
    max: float
    """the most, in the unit that the object around it names"""


class NutFactorRange(TypedDict):
    """K in torque = K * preload * diameter, dry to oiled."""

    min: float
    """the least, in the unit that the object around it names"""
    max: float
    """the most, in the unit that the object around it names"""


class Screw(TypedDict):
    thread: StraightThread
    """the thread; null: it has none"""
    strength_class: Literal["8.8", "10.9"]
    """strength class (ISO 898-1)"""
    length_mm: float
    """length, mm"""
    torque_nm: TorqueRange
    """range of the torque, N·m"""
    nut_factor: NutFactorRange
    """the range of the nut factor, without unit"""
    material: str
    """id of the material"""


class Spacer(TypedDict):
    """A tube between manifold and rail, around a screw."""

    height_mm: float
    """height, mm"""
    height_tol_mm: float
    """plus or minus, mm"""
    outside_mm: float
    """outside diameter, mm"""
    inside_mm: float
    """inside diameter, mm"""
    material: str
    """id of the material"""


class RailSeats(TypedDict):
    """How a rail takes its injectors: from the underside of its foot up to the roof of a cup, from roof to mouth."""

    roof_mm: float
    """from the seat of the rail to the roof of the cup, mm"""
    roof_tol_mm: float
    """plus or minus, mm"""
    cup_depth_mm: float
    """depth of the cup that an injector stands in, mm"""
    foot_mm: float
    """from the seat of the rail to its foot, mm"""
    material: str
    """id of the material"""


class Regulates(TypedDict):
    """What a regulator can be set to, and what it follows; `nipple`: where its own is, as it stands after
    `nipple`.
    """

    min_kpa: float
    """the lowest pressure, gauge, kPa"""
    max_kpa: float
    """the highest pressure that it stands, gauge; null: not rated, kPa"""
    follows: Literal["manifold", "atmosphere"]
    """what a regulator holds its pressure over: the manifold, boosted or not, or the outside air"""
    nipple: NotRequired[str | None]
    """nipple"""


class Item(TypedDict):
    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    kind: Literal[
        "rail",
        "fitting",
        "plug",
        "gauge",
        "line",
        "regulator",
        "seal",
        "fastener",
        "spacer",
        "clip",
        "bracket",
        "consumable",
    ]
    """what kind of thing it is"""
    family: NotRequired[str | None]
    """what it belongs to: parts that differ in finish alone, or standards of one make"""
    finish: NotRequired[str | None]
    """the finish, by the catalog's name"""
    sold: bool
    """whether it is sold; false: it is bought elsewhere"""
    status: Literal["active", "retired"]
    """where it stands; of a problem, the HTTP status"""
    superseded_by: NotRequired[str | None]
    """SKU of what takes its place; null: nothing does"""
    price: int
    """integer minor units of the currency"""
    stock: int
    """how many are in stock, pieces"""
    lead_days: int
    """lead time; 0: from stock, days"""
    mass_g: float
    """mass, g"""
    gtin: NotRequired[str | None]
    """its Global Trade Item Number, with the check digit of GS1"""
    mpn: NotRequired[str | None]
    """the number that its own maker gives it"""
    country: NotRequired[str | None]
    """where it is made, by ISO 3166-1 alpha-2; its form alone is looked at"""
    url: NotRequired[str | None]
    """address of its page"""
    image: NotRequired[str | None]
    """address of a picture of it"""
    ports: list[Port]
    """its ports"""
    wetted: list[str]
    """ids of the materials that touch fuel"""
    max_kpa: NotRequired[float | None]
    """the highest pressure that it stands, gauge; null: not rated, kPa"""
    standout_mm: NotRequired[float | None]
    """how far it stands out of the port, mm"""
    across_mm: NotRequired[float | None]
    """room, or width, across the axis of the port, mm"""
    hex_mm: NotRequired[float | None]
    """size of its hexagon; null: it has none, mm"""
    drive: NotRequired[str | None]
    """the tool that turns it"""
    outlet_deg: NotRequired[float | None]
    """outlet deg, degrees"""
    min_bend_mm: NotRequired[float | None]
    """min bend mm"""
    flow: NotRequired[Flow | None]
    """how the fuel flows: bore, length and loss, or what each path loses"""
    patterns: NotRequired[list[str] | None]
    """the patterns that the rail is made for"""
    supplied: NotRequired[list[Supplied] | None]
    """what comes with it in the box"""
    ring: NotRequired[Ring | None]
    """the ring that it is; null: it is none"""
    screw: NotRequired[Screw | None]
    """the screw that it is; null: it is none"""
    spacer: NotRequired[Spacer | None]
    """the spacer that it is; null: it is none"""
    seats: NotRequired[RailSeats | None]
    """the seats of the injectors; null: it is no rail"""
    injector_positions_mm: NotRequired[list[float] | None]
    """the place of each injector along the rail, mm"""
    spot_positions_mm: NotRequired[dict[str, float] | None]
    """the place of each spot along the rail, mm, by spot"""
    regulates: NotRequired[Regulates | None]
    """the range of pressure that it regulates; null: it is no regulator"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""


class LayoutHookup(TypedDict):
    """Where a duty leads. All but `kind` is that of an own-hose; the car tells what its own lines are."""

    kind: Literal["factory-line", "bulkhead", "own-hose"]
    """what kind of thing it is"""
    standard: NotRequired[str | None]
    """id of the port standard"""
    end: NotRequired[Literal["male", "female"] | None]
    """whether the end is male or female"""
    flow: NotRequired[Flow | None]
    """how the fuel flows: bore, length and loss, or what each path loses"""
    hex_mm: NotRequired[float | None]
    """size of its hexagon; null: it has none, mm"""
    min_bend_mm: NotRequired[float | None]
    """min bend mm"""


class DutyEntry(TypedDict):
    duty: Literal["feed", "return", "link"]
    """what the spot, or the path, is for"""
    hookup: NotRequired[LayoutHookup | None]
    """the line of the car that the path goes on to; null: none"""
    to_spot: NotRequired[str | None]
    """the spot that the path goes on to; null: it goes on to none"""
    via: NotRequired[
        list[
            Literal[
                "rail",
                "fitting",
                "plug",
                "gauge",
                "line",
                "regulator",
                "seal",
                "fastener",
                "spacer",
                "clip",
                "bracket",
                "consumable",
            ]
        ]
        | None
    ]
    """the kinds of parts that the path leads through"""


class Layout(TypedDict):
    """How fuel runs: which spots have which duties, and to which hookups."""

    id: str
    """its id"""
    name: str
    """its name"""
    summary: str
    """what it does, in a sentence"""
    banks: Literal[1, 2]
    """banks of cylinders"""
    placements: list[dict[str, DutyEntry]]
    """the duty of each spot, one object a way in which the layout can be laid"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""
    second_summary: NotRequired[str | None]
    """the summary in the second language"""


class VapourPoint(TypedDict):
    """A point of a fuel's vapour pressure."""

    c: float
    """temperature, °C"""
    kpa_abs: float
    """vapour pressure, kPa absolute"""


class Fuel(TypedDict):
    id: str
    """its id"""
    name: str
    """its name"""
    density_kg_m3: float
    """density, kg/m³"""
    viscosity_mpa_s: float
    """dynamic viscosity, mPa·s"""
    stoich_afr: float
    """mass of air for each mass of fuel, without unit"""
    bsfc_g_kwh: Bsfc
    """fuel that the engine burns for each unit of work, g/kWh"""
    source: str
    """where it comes from: of a figure the standard, of a part the supplier"""
    lhv_mj_kg: NotRequired[float | None]
    """lower heating value, MJ/kg"""
    cautions: NotRequired[list[str] | None]
    """what to mind: fuel under pressure burns people"""
    heat_capacity_j_kg_k: NotRequired[float | None]
    """heat capacity, J/(kg·K)"""
    vapour: NotRequired[list[VapourPoint] | None]
    """vapour pressure by temperature"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""
    second_cautions: NotRequired[list[str] | None]
    """the same cautions in the second language, in the same order"""


class Material(TypedDict):
    id: str
    """its id"""
    name: str
    """its name"""
    ratings: dict[str, Literal["A", "B", "C", "D"]]
    """A (stands it) to D (does not), by fuel"""
    min_c: float
    """the lowest temperature, °C"""
    max_c: float
    """the highest temperature, °C"""
    source: str
    """where it comes from: of a figure the standard, of a part the supplier"""
    conductivity_w_m_k: NotRequired[float | None]
    """thermal conductivity, W/(m·K)"""
    expansion_1_k: NotRequired[float | None]
    """thermal expansion, 1/K"""
    shear_mpa: NotRequired[float | None]
    """shear strength, MPa"""
    aliases: NotRequired[list[str] | None]
    """what else people call it; case, dashes, spaces, accents and the plural do not count"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""


class Gland(TypedDict):
    """The room of the ring of an O-ring boss: what the ring sits on, the bore around it, the depth of it.

    A seat with a cone is told by the rectangle of the same volume; without a `source` nothing is judged by it.
    """

    inside_mm: float
    """inside diameter, mm"""
    outside_mm: float
    """outside diameter, mm"""
    depth_mm: float
    """depth of the groove, mm"""
    diameter_tol_mm: float
    """plus or minus, mm"""
    depth_tol_mm: float
    """plus or minus, mm"""
    source: NotRequired[str | None]
    """where it comes from: of a figure the standard, of a part the supplier"""


class PipeTaper(TypedDict):
    """A taper pipe thread: the pipe's outside diameter, the pitch, how far it goes in by hand."""

    outside_mm: float
    """outside diameter, mm"""
    pitch_mm: float
    """pitch of the thread, mm"""
    hand_tight_mm: float
    """engagement when tight by hand, mm"""


class PortStandard(TypedDict):
    """A published connection in one size."""

    id: str
    """its id"""
    name: str
    """its name"""
    family: str
    """what it belongs to: parts that differ in finish alone, or standards of one make"""
    size: str
    """nominal size, by the name of the trade"""
    seal: Literal["o-ring", "cone", "taper", "bead"]
    """how the joint seals"""
    published: str
    """the standard that it is published in; null: none"""
    joint: str
    """how the joint is made up"""
    thread: NotRequired[StraightThread | None]
    """the thread; null: it has none"""
    gland: NotRequired[Gland | None]
    """the groove for the seal; null: it has none"""
    taper: NotRequired[PipeTaper | None]
    """the taper of the thread; null: it has none"""
    second_name: NotRequired[str | None]
    """the name in the second language; without it the English one is given"""


class TorqueJoint(AnyJoint):
    method: Literal["torque"]
    """how the joint is tightened"""
    min_nm: float
    """the lowest torque, N·m"""
    max_nm: float
    """the highest torque, N·m"""


class PastHandTightJoint(AnyJoint):
    method: Literal["past-hand-tight"]
    """how the joint is tightened"""
    min_deg: float
    """the least that it is turned past hand-tight, degrees"""
    max_deg: float
    """the most that it is turned past hand-tight, degrees"""


class FlangeToFaceJoint(AnyJoint):
    method: Literal["flange-to-face"]
    """how the joint is tightened"""
    min_nm: NotRequired[float | None]
    """the lowest torque, N·m"""
    max_nm: NotRequired[float | None]
    """the highest torque, N·m"""


class TurnsEngagedJoint(AnyJoint):
    method: Literal["turns-engaged"]
    """how the joint is tightened"""
    min_threads: float
    """the fewest threads engaged"""
    max_threads: float
    """the most threads engaged"""
    turns_past_hand: float
    """turns past hand-tight"""


class PushToClickJoint(AnyJoint):
    method: Literal["push-to-click"]
    """how the joint is tightened"""


class DraftObject(TypedDict):
    """An object of the catalog as it stands in a draft."""

    draft: str
    """id of the draft"""
    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    etag: str | None
    """for If-Match, as the header has it; null: it is removed"""
    what: Literal["added", "changed", "removed"] | None
    """against the base; null: as it is there"""
    author: str | None
    """who changed it last in this draft"""
    changed: str | None
    """what was changed, or when"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    result: (
        Item
        | Chassis
        | Layout
        | Addon
        | Fuel
        | Material
        | PortStandard
        | TorqueJoint
        | PastHandTightJoint
        | FlangeToFaceJoint
        | TurnsEngagedJoint
        | PushToClickJoint
        | CatalogCase
        | CatalogOrderCase
        | CatalogExplainCase
        | CatalogLayoutsCase
        | CatalogItemCase
        | CatalogJointCase
    )
    """the object itself"""


class DraftPage(TypedDict):
    """Drafts, the newest first."""

    results: list[DraftHead]
    """what is on this page"""
    next: NotRequired[str]
    """path of the next page"""


class PartRange(TypedDict):
    min: float
    """the least, in the unit that the object around it names"""
    max: float
    """the most, in the unit that the object around it names"""


class Policies(TypedDict):
    """What decides whether a bill is valid; then, where the maker sets them, limits past which it is cautioned of.

    `power_reserve`: the part of the power asked that a set-up carries on top, below which it is called tight.
    """

    max_chain: int
    """how many parts may stand one behind the other"""
    flow_margin: float
    """how much more than the demand has to flow, as a factor"""
    max_feed_drop_kpa: float
    """the most that a feed may lose, kPa"""
    max_return_drop_kpa: float
    """the most that a return may lose, kPa"""
    max_velocity_m_s: float
    """the fastest that fuel may move, m/s"""
    recirculation: float
    """how much of what is fed comes back, as a factor of the demand"""
    vapour_margin_kpa: NotRequired[float | None]
    """how far the pressure has to stay above that of the vapour, kPa"""
    seal_insertion_mm: NotRequired[float | None]
    """how far a ring has to stand in its bore, mm"""
    squeeze: NotRequired[PartRange | None]
    """the range of the squeeze of a ring, as fractions"""
    max_gland_fill: NotRequired[float | None]
    """the most that a ring may fill of its groove, as a fraction"""
    max_proof_part: NotRequired[float | None]
    """the most of its proof load that a screw may have, as a fraction"""
    max_spread_percent: NotRequired[float | None]
    """the most that the injectors may differ, %"""
    power_reserve: NotRequired[float | None]
    """how much more than the stock power has to be carried, as a fraction"""


class DraftPolicies(TypedDict):
    """The policies as the draft has them."""

    draft: str
    """id of the draft"""
    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    etag: str | None
    """for If-Match, as the header has it; null: it is removed"""
    what: Literal["added", "changed", "removed"] | None
    """against the base; null: as it is there"""
    author: str | None
    """who changed it last in this draft"""
    changed: str | None
    """what was changed, or when"""
    result: Policies
    """the object itself"""


class TrailEntry(TypedDict):
    """Something that was done: who, when, what, why."""

    done: str
    """in UTC"""
    author: str | None
    """who did it, or began it, by name"""
    what: str
    """begun, added, changed, removed, rebased, published or discarded"""
    reason: str | None
    """why, in the author's words"""
    version: int | None
    """version of the draft, from 1"""
    section: str | None
    """the section of the catalog"""
    key: str | None
    """its key: of a bill, or of an object in its section"""
    fields: list[str]
    """the top-level fields of the object that were changed"""
    revision: int | None
    """that was taken as base, or made"""


class DraftTrail(TypedDict):
    """All that was done to a draft, oldest first."""

    draft: str
    """id of the draft"""
    results: list[TrailEntry]
    """what is on this page"""
    next: NotRequired[str]
    """path of the next page"""


class RunsOut(TypedDict):
    """Where the plumbing comes to a limit."""

    limit: str
    """drop or velocity"""
    limiting_duty: Literal["feed", "return", "link", "gauge", "closed"]
    """the duty of the path that runs out first"""
    limiting_spots: list[str]
    """the spots of the path that runs out first"""
    at: CurvePoint
    """where it is"""


class DropCurve(TypedDict):
    """A layout's cheapest bill over the power."""

    layout: str
    """id of the layout"""
    name: str
    """its name"""
    key: str
    """of the bill that is drawn: the cheapest at the car's stock power"""
    price: int
    """integer minor units, minor units of the currency"""
    power: Power
    """what this bill carries: the curve ends there"""
    carried: CurvePoint | None
    """the point at what it carries; null where that is not known"""
    largest_power_kw: float | None
    """a figure of the plumbing, of this bill's own sizing; null where nothing of it is rated, kW"""
    runs_out: RunsOut | None
    """the point at that power; null where there is none"""
    pump_runs_out_kw: float | None
    """a figure of the pump; null where none is told, kW"""
    unrated: list[str]
    """SKUs whose flow is not rated: they lose more than is shown"""
    hose_rated: bool | None
    """null where no hose or line of the car is on a path"""
    points: list[CurvePoint]
    """from no power to what it carries, or to a power before that"""
    text: str
    """the same in words, for people"""


class DropCurves(TypedDict):
    """Drop against power, the layouts of a car side by side."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    chassis: str
    """id of the car, or ids of the cars"""
    name: str
    """its name"""
    fuel: str
    """the fuel, by id or as it is called"""
    fuel_name: str
    """name of the fuel"""
    stock_kw: float
    """power of the engine as it was made, kW"""
    curves: list[DropCurve]
    """the layouts that have a bill, in the catalog's order"""
    without_bill: list[str]
    """the layouts that have none at the stock power"""
    text: str
    """the same in words, for people"""


class EditedFuelOrder(DraftFuelOrder):
    """The order of fuels after an edit, with the faults of the whole draft."""

    faults: list[DraftFault]
    """what does not hold together, the first 20"""
    more_faults: int
    """how many there are besides"""


class EditedMaker(DraftMaker):
    """The maker after an edit, with the faults of the whole draft."""

    faults: list[DraftFault]
    """what does not hold together, the first 20"""
    more_faults: int
    """how many there are besides"""


class EditedObject(TypedDict):
    """An object after an edit, with the faults of the whole draft."""

    draft: str
    """id of the draft"""
    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    etag: str | None
    """for If-Match, as the header has it; null: it is removed"""
    what: Literal["added", "changed", "removed"] | None
    """against the base; null: as it is there"""
    author: str | None
    """who changed it last in this draft"""
    changed: str | None
    """what was changed, or when"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    faults: list[DraftFault]
    """what does not hold together, the first 20"""
    more_faults: int
    """how many there are besides"""
    result: (
        Item
        | Chassis
        | Layout
        | Addon
        | Fuel
        | Material
        | PortStandard
        | TorqueJoint
        | PastHandTightJoint
        | FlangeToFaceJoint
        | TurnsEngagedJoint
        | PushToClickJoint
        | CatalogCase
        | CatalogOrderCase
        | CatalogExplainCase
        | CatalogLayoutsCase
        | CatalogItemCase
        | CatalogJointCase
        | None
    )
    """the object itself"""


class EditedPolicies(DraftPolicies):
    """The policies after an edit, with the faults of the whole draft."""

    faults: list[DraftFault]
    """what does not hold together, the first 20"""
    more_faults: int
    """how many there are besides"""


class ElsewhereFacts(AnyFacts):
    """the facts of the rule `elsewhere`, those that the case has"""

    instead: NotRequired[str | None]
    """what would do from the range, by name"""


class MarginTold(TypedDict):
    """What is left of what a rule allows; less than nothing where it is broken."""

    left: float
    """what is left of the limit, in the unit told beside it; below 0: over it"""
    unit: str
    """mm, kPa, L/h, units or minor units (of the currency)"""
    text: str
    """the same in words, for people"""


class RuleTold(TypedDict):
    """A rule: one that stops the part, or where it stands what speaks for it."""

    rule: RuleId
    """id of the rule; `facts` are those of this rule"""
    text: str
    """the same in words, for people"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""
    margin: MarginTold | None
    """null where the rule measures nothing"""


class VerdictTold(TypedDict):
    """The part at one place."""

    spot: str | None
    """null for a rail and for what is at no spot"""
    duty: Literal["feed", "return", "link", "gauge", "closed", "rail", "mounting", "box", "extra"] | None
    """what it is there for; null where no rail here has the spot, or nothing asks for it"""
    stands: bool
    """whether it stands in a valid bill here"""
    chain: list[str]
    """outwards: where it stands, in the cheapest bill with it; else the one that comes furthest"""
    text: str
    """the same in words, for people"""
    rules: list[RuleTold]
    """stands false: every rule that stops it there"""
    change: ChangeTold | None
    """null where it stands, and where no single change helps"""


class Explanation(TypedDict):
    """Why a part is, or is not, in the bills."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    in_bills: bool
    """in any valid bill, shown or not"""
    where: list[str]
    """the spots at which it stands in valid bills; rail, mounting, box (of another part), extra"""
    verdicts: list[VerdictTold]
    """the verdict at each spot"""
    text: str
    """the same in words, for people"""
    safety: list[str]
    """cautions for anyone who works on a fuel system"""


JsonValue: TypeAlias = Any


class FieldChoice(TypedDict):
    """A value that may be meant."""

    value: JsonValue
    """null: none of these"""
    says: str
    """what it is about, in plain words"""


class FlowFacts(AnyFacts):
    """the facts of the rule `flow`, those that the case has"""

    drop_kpa: NotRequired[float]
    """what the path loses, kPa"""
    duty: NotRequired[str]
    """what the path is for"""
    flow_l_h: NotRequired[float]
    """flow, l/h"""
    hose_unrated: NotRequired[bool]
    """the hose behind the hookup is not rated"""
    limit_kpa: NotRequired[float]
    """the most that it may lose, kPa"""
    limit_m_s: NotRequired[float]
    """the fastest that it may move, m/s"""
    peak_m_s: NotRequired[float]
    """the fastest that the fuel moves, m/s"""
    spots: NotRequired[list[str]]
    """where, if several paths of that duty lack the same"""
    unrated: NotRequired[list[str]]
    """SKUs whose flow is not rated"""


class FoundLimit(TypedDict):
    """One thing that stops a set-up, as the power that it feeds until then."""

    what: Literal["plumbing", "pump", "injectors"]
    """what it is about, or what was done"""
    kw: float
    """the power at this limit, kW"""
    text: str
    """the same in words, for people"""
    facts: NotRequired[dict[str, Any]]
    """with `detail` full"""
    source: NotRequired[str]
    """with `detail` full: the handbook that the figures rest on"""


class FoundPower(PowerHead):
    """How much power a set-up feeds, what stops it there, and whether that is enough."""

    asked_kw: float
    """the request's power, else the stock power, kW"""
    assumed: bool
    """whether the stock power was taken"""
    limits: list[FoundLimit]
    """the limits that are told"""
    reserve: float
    """the part of the power asked that should be left on top"""
    follows: Literal["manifold", "atmosphere", "not told"]
    """what the regulator holds its pressure over"""
    text: str
    """the same in words, for people"""


class FoundAlternative(TypedDict):
    change: dict[str, str]
    """gauge to another place, or layout to another one"""
    total_valid: int
    """valid bills (with group_variants: groups) after the change"""
    price: int
    """of the first bill that counts, minor units, minor units of the currency"""
    text: str
    """the same in words, for people"""
    power: FoundPower
    """of that bill"""


class SaidReason(TypedDict):
    """A rule and what it found, in words. `id` is its own within the answer."""

    id: int
    """its id"""
    rule: str
    """id of the rule; `facts` are those of this rule"""
    text: str
    """the same in words, for people"""
    facts: NotRequired[dict[str, Any]]
    """with `detail` full"""


class FoundLine(TypedDict):
    """One line of a bill and why it is there; with `detail` full the stock beside what it buys."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    qty: int
    """how many, pieces"""
    source: Literal["buy", "elsewhere", "supplied", "have", "on-car", "add-on"]
    """where it comes from: of a figure the standard, of a part the supplier"""
    unit_price: int
    """of one, minor units; 0 unless bought from us, minor units of the currency"""
    price: int
    """of the whole line, minor units; 0 unless bought from us, minor units of the currency"""
    spots: list[str]
    """the spots of the rail"""
    choices: list[str]
    """SKUs that would do as well"""
    need: NotRequired[int]
    """units to be got from us: for one set, in an order check for all sets"""
    in_stock: NotRequired[int]
    """how many are in stock, pieces"""
    short: NotRequired[int]
    """units that are needed beyond the stock"""
    rest_days: NotRequired[int]
    """days until the short ones come; 0 where none is short"""
    reasons: list[SaidReason]
    """why: a rule each, with its facts"""
    repeats: list[int]
    """the ids of its reasons that an earlier bill has"""


class FoundFlow(TypedDict):
    demand_l_h: float
    """fuel that the engine burns, l/h"""
    paths: list[Path]
    """the paths that fuel takes"""
    operating_point: NotRequired[OperatingPoint | None]
    """with `detail` full; null where no pump curve is told"""


class SaidExtra(TypedDict):
    """What the joints need besides. `id` is its own within the answer."""

    sku: str
    """SKU of the part"""
    qty: int
    """how many, pieces"""
    text: str
    """the same in words, for people"""
    id: int
    """its id"""


class SaidCheck(Check):
    """One thing that engineering looked at. `id` is its own within the answer."""

    id: int
    """its id"""


class SoundCheck(TypedDict):
    """A check that came out well, in a line. `id` is its own within the answer."""

    id: int
    """its id"""
    check: str
    """the name of the check"""
    text: str
    """the same in words, for people"""


class FoundBill(AnyBill):
    """A complete bill of material, one of an answer."""

    power: FoundPower
    """what this set-up carries"""
    duties: dict[str, Literal["feed", "return", "link", "gauge", "closed"]]
    """the duty of each spot, by spot"""
    lines: list[FoundLine]
    """the lines: what, how many, where from"""
    chains: dict[str, list[str]]
    """the parts at each spot, outwards, by spot"""
    flow: FoundFlow
    """how the fuel flows: bore, length and loss, or what each path loses"""
    extras: list[SaidExtra]
    """what it takes beside the parts: cautions to buy for, consumables"""
    cautions: list[SaidReason]
    """what to mind: fuel under pressure burns people"""
    repeats: list[int]
    """the ids of its extras, cautions and checks that an earlier bill has"""
    margin: NotRequired[BillMargin]
    """with `detail` full"""
    sizing: NotRequired[Sizing]
    """with `detail` full"""
    checks: NotRequired[list[SaidCheck]]
    """with `detail` full"""
    sound: NotRequired[list[SoundCheck]]
    """with `detail` reasons: the checks that came out well"""


class RuledOut(TypedDict):
    """A part that a person would ask about, and the first rule that stops it."""

    sku: str
    """SKU of the part"""
    spot: str | None
    """the spot of the rail; null: it stands at none"""
    rule: RuleId
    """id of the rule; `facts` are those of this rule"""
    text: str
    """the same in words, for people"""
    facts: dict[str, Any]
    """the measured values behind the text, units in the names"""


class Story(TypedDict):
    """What a conflict comes to: the chain of causes, and the same in plain sentences."""

    wishes: list[str]
    """the wishes that conflict"""
    text: str
    """the same in words, for people"""
    causes: list[Cause]
    """what stops it, spot by spot or rule by rule"""


class FoundAnswer(TypedDict):
    """The answer to a request."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    total_valid: int
    """how many valid bills (with group_variants: groups) there are, exactly"""
    conflicts: list[list[str]]
    """without a valid bill: every minimal set of wishes that has none, at most 20"""
    repairs: list[Repair]
    """every minimal set of wishes to change, at most 20"""
    more: More
    """what may be asked for beside this"""
    detail: Literal["reasons", "full"]
    """how much is told"""
    bills: list[FoundBill]
    """the bills, best first"""
    ruled_out: list[RuledOut]
    """parts that one would ask about, each with the rule that stops it"""
    stories: list[Story]
    """what led to each conflict, in their order"""
    alternatives: list[FoundAlternative]
    """without a bill, or where the best is over: other gauge places, other layouts, at most 20"""
    safety: list[str]
    """cautions for anyone who works on a fuel system"""


class FuelDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: Fuel
    """the object itself"""


class FuelFacts(AnyFacts):
    """the facts of the rule `fuel`, those that the case has"""

    fuel: NotRequired[str]
    """the fuel"""
    instead: NotRequired[str]
    """SKU of a like part that is rated A"""
    material: NotRequired[str]
    """the weakest material that it touches"""
    more: NotRequired[str]
    """what it costs more, with the currency"""
    name: NotRequired[str]
    """its name"""
    rating: NotRequired[str]
    """A (stands it) to D (does not)"""


class FuelPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Fuel]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class GapTold(TypedDict):
    """Two ports that do not mate, and what stands between them."""

    one: PortTold
    """one side"""
    other: PortTold
    """the other side"""
    differs: list[Literal["standard", "family", "size", "seal", "end"]]
    """end: both have the same one; size is compared within a family"""
    text: str
    """the same in words, for people"""


class SeenAnswer(TypedDict):
    """An answer as it is compared: how many bills there are, and what the best one costs and carries."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    total_valid: int
    """how many valid bills there are"""
    price: int | None
    """of the best bill, minor units; null where there is none, minor units of the currency"""
    key: str | None
    """of the best bill, in its revision; null between files"""
    carries_kw: float | None
    """the power that the best bill carries; null: nothing limits it, kW"""


class StandingQuestion(TypedDict):
    """A standing question, by where it comes from."""

    origin: Literal["case", "partner", "grid", "asked"]
    """where the question comes from"""
    id: NotRequired[str]
    """of a case"""
    account: NotRequired[str]
    """whose case it is, where it is a partner's"""
    request: dict[str, Any]
    """what has its default is left out"""


class ImpactQuestion(StandingQuestion):
    """A standing question whose answer is another."""

    kind: NotRequired[str]
    """of a case that is not of bills: order_check, explain, layouts, item or joint"""
    outcome: Literal["broken", "lost", "gained", "new", "gone", "other best", "price", "power", "count", "same"]
    """what became of the answer"""
    before: SeenAnswer | None
    """null: not there, or a case of another kind than bills"""
    after: SeenAnswer | None
    """null: not there, or a case of another kind than bills"""
    text: str
    """the same in words, for people"""
    because: list[CatalogChange]
    """for broken, lost and gained: the changes without which the outcome would be another"""


class ImpactOrders(TypedDict):
    """The kept order checks that are judged otherwise: another verdict, layout or change."""

    looked_at: int
    """how many were judged again: the last 1,000 that are kept, at most"""
    otherwise: int
    """how many of them are judged otherwise"""
    ids: NotRequired[list[str]]
    """of those; told only where pages of the workshop are served"""


_ImpactAnswer = TypedDict("_ImpactAnswer", {"from": int | str})


class ImpactAnswer(_ImpactAnswer):
    to: int | str
    """the revision that is held against it, or its path"""
    counts: dict[str, int]
    """questions by outcome"""
    needs_accept: bool
    """a promise or a bill is lost: publishing it takes a reason"""
    changes: list[CatalogChange]
    """what differs"""
    questions: list[ImpactQuestion]
    """without those whose answer is the same"""
    not_asked: list[dict[str, Any]]
    """requests that take too much work to answer"""
    orders: NotRequired[ImpactOrders]
    """orders"""
    next: str | None
    """path of the next page of questions; null on the last"""


class Missing(TypedDict):
    """What the catalog lacked, as inquiries are grouped: by the text, which says the rest in words."""

    rule: str | None
    """the rule that stops what comes nearest; null where none does"""
    spot: str | None
    """null: the rail, or the bill as a whole"""
    duty: Literal["feed", "return", "link", "gauge", "closed"] | None
    """what the spot, or the path, is for"""
    text: str
    """the same in words, for people"""


class Inquiry(TypedDict):
    """A question as the workshop keeps it, with what became of it; without what is personal."""

    currency: NotRequired[str]
    """ISO 4217 code of all prices; missing in what was kept before it was told"""
    tax: NotRequired[Literal["net", "gross"] | None]
    """net or gross; missing in what was kept before it was told"""
    id: str
    """names the inquiry until it is deleted"""
    revision: int
    """the revision of the catalog that was asked"""
    received: str
    """in UTC"""
    request: dict[str, Any]
    """as it was understood; what has its default is left out"""
    total_valid: int
    """valid bills (with group_variants: groups); they were not enough"""
    missing: Missing
    """what the catalog lacks"""
    conflicts: list[list[str]]
    """the sets of wishes that cannot hold together"""
    stories: list[Story]
    """what led to each conflict"""
    repairs: list[Repair]
    """the least changes of wishes that help"""
    status: Literal["open", "answered", "closed"]
    """where it stands; of a problem, the HTTP status"""
    reply: str | None
    """what the workshop answered; null where it has not"""
    answered: str | None
    """when the reply was given, in UTC"""


class InquiryChange(TypedDict):
    """What becomes of an inquiry; what is not told stays as it is, a reply of null is taken back."""

    status: NotRequired[Literal["open", "answered", "closed"] | None]
    """where it stands; of a problem, the HTTP status"""
    reply: NotRequired[str | None]
    """what the workshop answers"""


class ItemDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    result: Item
    """the object itself"""


class ItemPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Item]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    not_found: NotRequired[list[str] | None]
    """of the SKUs that were asked for those that are none"""


class Use(TypedDict):
    """A car and a layout whose valid bills have the part, and where it stands in them."""

    chassis: str
    """id of the car, or ids of the cars"""
    chassis_name: str
    """name of the car"""
    layout: str
    """id of the layout"""
    layout_name: str
    """name of the layout"""
    spots: list[str]
    """sorted; a link is listed under the spot that sorts first"""
    roles: list[Literal["rail", "mounting", "box"]]
    """what it is besides: the rail, a mounting part, or it comes in the box of another part"""
    needs_gauge: bool
    """true: only in bills with a gauge"""
    too_costly: NotRequired[str]
    """why it takes too much work to find out; spots and roles are empty then"""


class ItemUses(TypedDict):
    """A page of uses: cars as the catalog has them, of each the layouts; `next` is missing on the last page."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    sku: str
    """SKU of the part"""
    results: list[Use]
    """what is on this page"""
    next: NotRequired[str]
    """path of the next page; absent or null on the last"""


class JointAnswer(TypedDict):
    """Whether the two sides meet: how, or what stands between them and what would join them."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    meets: bool
    """whether the two meet as they are"""
    text: str
    """the same in words, for people"""
    joints: list[Meeting]
    """every pair of ports that mate"""
    gap: list[GapTold]
    """nearest first; empty where they meet"""
    bridge: BridgeTold | None
    """null where they meet, and where nothing joins them"""
    cautions: list[Reason]
    """what to mind: fuel under pressure burns people"""
    safety: list[str]
    """cautions for anyone who works on a fuel system"""


class JointSource(TypedDict):
    """Where the figures of a kind of joint come from, as the catalog says."""

    standard: str
    """id of the port standard"""
    name: str
    """its name"""
    text: str
    """the same in words, for people"""


class KeptCase(TypedDict):
    """A partner's case as it is kept; `not_kept`: the promises that its answer does not keep as it is."""

    case: FileCase | OrderCase | ExplainCase | LayoutsCase | ItemCase | JointCase
    """the case"""
    revision: int
    """the revision of the catalog that was asked"""
    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    not_kept: list[
        Literal[
            "has_bill",
            "contains",
            "never_contains",
            "price",
            "keyed",
            "verdict",
            "layout",
            "edits",
            "in_bills",
            "where",
            "stopped_by",
            "with_bills",
            "without_bills",
            "exists",
            "status",
            "meets",
            "bridged_by",
            "currency",
            "must_say",
        ]
    ]
    """what the answer does not keep today: an impact cannot break it"""


class LayoutDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: Layout
    """the object itself"""


class LayoutFacts(AnyFacts):
    """the facts of the rule `layout`, those that the case has"""

    banks: NotRequired[int]
    """banks that the layout is for"""
    engine_banks: NotRequired[int]
    """banks that the engine has"""
    engine_hookups: NotRequired[list[str]]
    """the lines that the car offers"""
    has: NotRequired[list[str]]
    """the spots that the rail has"""
    hookup: NotRequired[str | None]
    """the line that the layout runs to"""
    missing: NotRequired[list[str]]
    """the spots that it lacks"""
    needs: NotRequired[list[str]]
    """the spots that the layout needs"""


class LayoutPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Layout]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class LikeCar(TypedDict):
    id: str
    """its id"""
    name: str
    """its name"""
    engine: str
    """the engine, as it is called"""
    cylinders: int
    """number of cylinders"""
    banks: int
    """banks of cylinders"""


class LikeRail(TypedDict):
    sku: str
    """SKU of the part"""
    name: str
    """its name"""


class LikePattern(TypedDict):
    """A rail pattern of engines with as many cylinders and banks, with the cars that have it and its rails."""

    pattern: str
    """the pattern of rails that fits the engine"""
    cars: list[LikeCar]
    """the cars of the catalog with this pattern"""
    rails: list[LikeRail]
    """the rails"""


class Live(TypedDict):
    """The process answers."""

    live: bool
    """whether the process answers"""


class MaterialDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: Material
    """the object itself"""


class MaterialPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[Material]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class MatesFacts(AnyFacts):
    """the facts of the rule `mates`, those that the case has"""

    end: NotRequired[str]
    """male or female"""
    ends_in_it: NotRequired[bool]
    """the path ends in the part"""
    max_chain: NotRequired[int | None]
    """parts that may stand one behind the other"""
    meets: NotRequired[str]
    """what the part meets, in words"""
    name: NotRequired[str]
    """its name"""
    standard: NotRequired[str]
    """id of the port standard"""
    standards: NotRequired[list[str]]
    """ids of the port standards that are easily mixed up"""
    target: NotRequired[str | None]
    """id of the port standard that is to be reached; null: none is"""
    unmet: NotRequired[bool]
    """nothing meets the spot"""


class MessageTold(TypedDict):
    """A message that was sent, or waits to be."""

    id: str
    """the `webhook-id` that it is sent with, the same each time"""
    event: str
    """event"""
    created: str
    """in UTC"""
    tries: int
    """how often it was sent"""
    outcome: str
    """waiting, delivered, given up, or what the last try came to"""
    due: str | None
    """when it is sent next, in UTC; null: not any more"""


class MountingFacts(AnyFacts):
    """the facts of the rule `mounting`, those that the case has"""

    giver: NotRequired[str]
    """name of what asks for it or comes with it"""
    optional: NotRequired[bool]
    """the car may be without it"""
    role: NotRequired[str]
    """what the part is there for"""
    source: NotRequired[str]
    """where it comes from: on-car, supplied, buy or elsewhere"""


class NewWebhook(TypedDict):
    """Where news is to be sent, and of what."""

    url: str
    """an address that takes POST: https, on a host that the public reaches; no user, no fragment"""
    events: list[Literal["revision.published", "inquiry.answered"]]
    """revision.published: a revision of the catalog is there; inquiry.answered: an inquiry of the account has a
    reply
    """


class PartPort(TypedDict):
    """A port of a part that is not there yet."""

    standard: str
    """id of the port standard"""
    end: Literal["male", "female"]
    """whether the end is male or female"""


class PartNeeds(TypedDict):
    """What the part has to be, by the first bill of each question that it unlocks; null: not limited."""

    standout_mm_at_least: float | None
    """the least that it has to stand out, mm"""
    standout_mm_at_most: float | None
    """the most that it may stand out, mm"""
    across_mm_at_most: float | None
    """the widest that the part may be"""
    kpa_at_least: float
    """pressure that it has to stand, kPa gauge"""
    fuels: list[str]
    """ids of the fuels that it has to stand"""
    power_kw_at_least: float
    """the power that it has to carry"""
    bore_mm_at_least: float | None
    """at which the fuel in it is as fast as the policies allow"""


class NextPart(TypedDict):
    """A part that the maker does not have, with the questions that have a bill once it is in the catalog."""

    kind: Literal["plug", "fitting"]
    """what kind of thing it is"""
    ports: list[PartPort]
    """its ports"""
    unlocks: int
    """standing questions"""
    asked: int
    """times that they were asked"""
    questions: list[StandingQuestion]
    """the questions, each with its request"""
    needs: PartNeeds
    """what the part has to be"""


class OpenField(TypedDict):
    """A field that has to be asked: it is missing, said twice, or may mean two things."""

    field: str
    """the field of a request"""
    asks: str
    """the question for the customer"""
    choices: list[FieldChoice]
    """what suits the text first; empty: a figure is to be told"""


class OrderText(TypedDict):
    """An order as somebody wrote it."""

    text: str
    """the rows of an e-mail or a sheet, as they came; at most 5,000"""
    chassis: NotRequired[str | None]
    """parts that fit it are offered first where one is asked back"""
    revision: NotRequired[int | None]
    """default: the newest"""


PartnerCase: TypeAlias = FileCase | OrderCase | ExplainCase | LayoutsCase | ItemCase | JointCase
"""A case that a partner has the service keep, under its account's name."""


class PastHandTight(TypedDict):
    """How far a nut is turned past hand-tight, in degrees and in flats of its hexagon."""

    min_deg: float | None
    """the least that it is turned past hand-tight, degrees"""
    max_deg: float | None
    """the most that it is turned past hand-tight, degrees"""
    min_flats: float | None
    """the least that it is turned past hand-tight, flats of the hexagon"""
    max_flats: float | None
    """the most that it is turned past hand-tight, flats of the hexagon"""


class PatternFacts(AnyFacts):
    """the facts of the rule `pattern`, those that the case has"""

    made_for: NotRequired[list[str]]
    """the patterns that the rail is made for; empty: there is no rail"""
    own_rail: NotRequired[bool]
    """the rail is the customer's own"""
    pattern: NotRequired[str]
    """the pattern that the engine has"""


class PortStandardDetail(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    result: PortStandard
    """the object itself"""


class PortStandardPage(TypedDict):
    revision: int
    """the catalog revision that answered, or that is meant"""
    results: list[PortStandard]
    """what is on this page"""
    next: NotRequired[str | None]
    """path of the next page; absent or null on the last"""


class PressureFacts(AnyFacts):
    """the facts of the rule `pressure`, those that the case has"""

    left_kpa: NotRequired[float]
    """what is left, kPa"""
    max_kpa: NotRequired[float]
    """pressure that the part stands, gauge, kPa"""
    needed_kpa: NotRequired[float]
    """base pressure with boost, gauge, kPa"""


class ProblemPage(TypedDict):
    """What a type of problem means and what the caller can do."""

    type: str
    """path that identifies the type of problem"""
    title: str
    """what it is called, in a line"""
    status: int
    """where it stands; of a problem, the HTTP status"""
    meaning: str
    """what this type of problem means"""
    remedy: str
    """what to do about it"""


class Publication(TypedDict):
    """Who publishes, and why."""

    author: str
    """who does this, in one line"""
    reason: str
    """why, in one line, kept for good"""
    accept: NotRequired[str | None]
    """why, although promises are broken or bills lost"""


class Published(TypedDict):
    """A revision that was published just now."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    published: str
    """in UTC"""
    digest: str
    """of the content: equal catalogs have equal ones"""
    author: str
    """who did it, or began it, by name"""
    reason: str
    """why, in the author's words"""
    accept: str | None
    """why it was published although answers were lost with it; null: none was lost"""
    draft: str | None
    """the draft that it was; null: an old revision was restored"""


class QuestionText(TypedDict):
    """A question as a customer says it."""

    text: str
    """what was said or written: the car, how its fuel is to run, wishes"""
    revision: NotRequired[int | None]
    """default: the newest"""


class ReachFacts(AnyFacts):
    """the facts of the rule `reach`, those that the case has"""

    hookup: NotRequired[str | None]
    """the line that has to be reached"""
    max_mm: NotRequired[float]
    """the longest that reaches, mm"""
    min_mm: NotRequired[float]
    """the shortest that reaches, mm"""
    standout_mm: NotRequired[float]
    """how far the chain stands out, mm"""


class ReadCandidate(TypedDict):
    """A part and a quantity that may be meant."""

    sku: str
    """SKU of the part"""
    name: str
    """its name"""
    qty: int
    """how many, pieces"""
    likeness: int
    """100: it is called so, word for word"""


class ReadLine(TypedDict):
    """A part of the order. A row that names several parts gives several lines."""

    row: int
    """the row of the text, from 1"""
    text: str
    """the row as it came"""
    sku: str | None
    """SKU of the part"""
    qty: int | None
    """null where several may be meant"""
    sure: bool
    """one part and one quantity are meant, and nothing else can be"""
    asks: str | None
    """what a person has to settle; null where it is sure"""
    candidates: list[ReadCandidate]
    """the likeliest first"""


class UnreadRow(TypedDict):
    """A row that is no part: a greeting, a price, an address, or what nobody could make a part of."""

    row: int
    """the row of the text, from 1"""
    text: str
    """the same in words, for people"""


class ReadTotal(TypedDict):
    """What all lines cost by the list."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    price: int
    """integer minor units; what is not sold by the maker is not in it, minor units of the currency"""


class ReadOrder(TypedDict):
    """An order as it was read."""

    revision: int
    """the catalog revision that answered, or that is meant"""
    lines: list[ReadLine]
    """the lines: what, how many, where from"""
    unread: list[UnreadRow]
    """rows that nothing was made of"""
    total: ReadTotal | None
    """null until every line is sure"""


class UnderstoodField(TypedDict):
    """A field of the request that the text tells."""

    words: str
    """the words that say it, as they stand in the text"""
    field: str
    """the field of a request"""
    value: JsonValue
    """null where the words only narrow what is open"""
    says: str
    """the value in words"""


class UnknownCarFacts(TypedDict):
    """What is known of the car, as it is sent; what is not known is left out."""

    car: str
    """the car, as it is called"""
    engine: NotRequired[str]
    """the engine, as it is called"""
    cylinders: NotRequired[int]
    """number of cylinders"""
    banks: NotRequired[int]
    """banks of cylinders"""
    power_kw: NotRequired[float]
    """power of the engine, kW"""
    pressure_kpa: NotRequired[float]
    """pressure, gauge, kPa"""
    fuel: NotRequired[str]
    """the fuel, by id or as it is called"""
    ends: NotRequired[str]
    """the ends of its fuel lines, as they are"""
    room: NotRequired[str]
    """the room around the rail"""
    rail: NotRequired[str]
    """the rail that it has"""


class ToMeasure(TypedDict):
    """What has to be measured or told before anything is bought."""

    what: Literal["engine", "cylinders", "banks", "power_kw", "pressure_kpa", "fuel", "ends", "room", "rail", "pattern"]
    """the field of the car that it settles; pattern: none, it is measured"""
    text: str
    """the same in words, for people"""


class UnknownCarSaid(TypedDict):
    """What can be said now of a car that is not in the catalog; nothing of it is known to fit."""

    car: UnknownCarFacts
    """as POST /v1/inquiries/cars takes it"""
    by_pattern: str
    """what the patterns below are worth, in a sentence"""
    patterns: list[LikePattern]
    """empty where no rail is for so many cylinders in so many banks"""
    by_own_rail: str
    """what it takes to keep the rail that is there, in a sentence"""
    measure: list[ToMeasure]
    """what has to be measured first"""
    caution: str
    """what to mind with any work on a fuel system"""


class ReadQuestion(TypedDict):
    """A question as it was read."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    request: dict[str, JsonValue]
    """fields of POST /v1/bills, which takes them once chassis and layout are among them"""
    understood: list[UnderstoodField]
    """the fields that were understood, with the words that say them"""
    open: list[OpenField]
    """what has to be asked back"""
    unread: list[str]
    """words that nothing was made of and that may matter"""
    unknown_car: UnknownCarSaid | None
    """where the car that is named may be one that is not in the catalog: what is told of it, and what can be said
    now; null: no such car is named
    """


class Ready(TypedDict):
    """The database answers and holds a catalog; `revision` is the newest."""

    live: bool
    """whether the process answers"""
    ready: bool
    """whether it can answer questions"""
    revision: int
    """the catalog revision that answered, or that is meant"""


class RecalledBill(TypedDict):
    """A bill given again by its key, in its own revision, and what the newest one makes of it."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    bill: Bill
    """the bill, with all its lines"""
    safety: list[str]
    """cautions for anyone who works on a fuel system: read them first"""
    current: CurrentBill
    """what the newest revision makes of it"""


class RecalledOrderCheck(OrderCheck):
    """An order check given again word for word, with what the newest revision has to say of it."""

    current: Current
    """what the newest revision makes of it"""


class RevisionTold(TypedDict):
    """A published revision without its content."""

    number: int
    """its number, from 1"""
    published: str
    """in UTC"""
    maker: str
    """name of the maker of the parts"""
    digest: str
    """of the content: equal catalogs have equal ones"""
    counts: dict[str, int]
    """elements by section"""
    author: NotRequired[str]
    """who published it, as far as that was said"""
    reason: NotRequired[str]
    """why"""
    accept: NotRequired[str]
    """why, although answers were lost with it"""


class RevisionPage(TypedDict):
    """Revisions, the newest first."""

    results: list[RevisionTold]
    """what is on this page"""
    next: NotRequired[str]
    """path of the next page"""


class SectionTaken(TypedDict):
    """A section of which there was a table: how its objects are, held against the draft's base."""

    section: str
    """the section of the catalog"""
    objects: int
    """how many the tables have"""
    same: int
    """as in the base"""
    added: int
    """how many objects are new"""
    changed: int
    """what was changed, or when"""
    removed: int
    """in the base, and without a row in the table of the section"""
    kept: int
    """as in the base, while the draft has them otherwise: those stay as the draft has them"""


class SentInquiry(TypedDict):
    """A whole question, and how to reach who asks it."""

    request: BillRequest
    """the question, as POST /v1/bills takes it"""
    contact: str
    """how to reach who asks: one line, never given out again by the API"""
    note: NotRequired[str]
    """what else the workshop should know; unless told: "\""""


class UnknownCar(TypedDict):
    """What somebody knows of a car; all but what it is called may be missing."""

    car: str
    """make, model and year, as people call it"""
    engine: NotRequired[str]
    """its name, size or shape; unless told: "\""""
    cylinders: NotRequired[int | None]
    """number of cylinders"""
    banks: NotRequired[int | None]
    """banks of cylinders"""
    power_kw: NotRequired[float | None]
    """power of the engine, kW"""
    pressure_kpa: NotRequired[float | None]
    """pressure, gauge, kPa"""
    fuel: NotRequired[str]
    """the fuel, by id or as it is called; unless told: "\""""
    ends: NotRequired[str]
    """the ends of its fuel lines: what they are, and where; unless told: "\""""
    room: NotRequired[str]
    """around the rail, measured from its ports; unless told: "\""""
    rail: NotRequired[str]
    """the rail that is there: its ports and threads; unless told: "\""""


class SentUnknownCar(TypedDict):
    """A car that is not in the catalog, with how to reach who asks."""

    car: UnknownCar
    """the car, as it is called"""
    contact: str
    """how to reach who asks: one line, never given out again by the API"""
    note: NotRequired[str]
    """what else the workshop should know; unless told: "\""""


class StagePart(TypedDict):
    """A stage of the work; the steps of a stage follow one another."""

    stage: Literal[
        "relieve",
        "disconnect",
        "clean",
        "seals",
        "bench",
        "spacers",
        "rail",
        "screws",
        "fittings",
        "lines",
        "gauge",
        "back-on",
        "leak-check",
        "heat-check",
    ]
    """the stage of the work"""
    title: str
    """what it is called, in a line"""


class Torque(TypedDict):
    """A range of torques in both systems; null: no limit at this end."""

    min_nm: float | None
    """the lowest torque, N·m"""
    max_nm: float | None
    """the highest torque, N·m"""
    min_lbf_ft: float | None
    """the lowest torque"""
    max_lbf_ft: float | None
    """the highest torque"""


class Threads(TypedDict):
    """How many threads are engaged in the end, and how many turns past hand-tight lead there.

    `most_turns` reach the most threads; null where the catalog does not tell the thread's size.
    """

    min: float | None
    """the least, in the unit that the object around it names"""
    max: float | None
    """the most, in the unit that the object around it names"""
    turns_past_hand: float | None
    """turns past hand-tight"""
    most_turns: float | None
    """the most turns past hand-tight"""


class Tightening(TypedDict):
    """How tight; of the three the one that the method goes by, the others are null."""

    method: Literal["torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click"] | None
    """of the joint's port standard; null for a screw"""
    torque: Torque | None
    """the torque; null: it is not tightened so"""
    past_hand_tight: PastHandTight | None
    """how far it is turned past hand-tight; null: it is not"""
    threads: Threads | None
    """how many threads are engaged; null: it is not tightened so"""
    text: str
    """the same in words, for people"""


class SheetStep(TypedDict):
    """One thing to do: how, what to look for, how to tell that it went wrong, and what then."""

    number: int
    """its number, from 1"""
    stage: Literal[
        "relieve",
        "disconnect",
        "clean",
        "seals",
        "bench",
        "spacers",
        "rail",
        "screws",
        "fittings",
        "lines",
        "gauge",
        "back-on",
        "leak-check",
        "heat-check",
    ]
    """the stage of the work"""
    title: str
    """what it is called, in a line"""
    spots: list[str]
    """the spots of the rail"""
    parts: list[SheetPart]
    """the parts, with their number"""
    standard: str | None
    """the port standard of the joint, or of the seals, by its id"""
    onto: str | None
    """the SKU that a joint's part goes on to; null where none is made"""
    tightening: Tightening | None
    """how it is tightened; null: it is not"""
    make_up: str | None
    """how a joint is made up, as the text says; null where none is"""
    text: str
    """the same in words, for people"""
    look_for: str
    """what to look for while doing it"""
    wrong: str
    """what to do where it is wrong"""
    then: str
    """what has to be seen before going on"""


class Sheet(TypedDict):
    """The assembly sheet of a bill, in its own revision."""

    currency: str
    """ISO 4217 code of all prices"""
    tax: Literal["net", "gross"] | None
    """net: tax comes on top of all prices; gross: it is in them; null: the catalog does not tell"""
    revision: int
    """the catalog revision that answered, or that is meant"""
    key: str
    """its key: of a bill, or of an object in its section"""
    title: str
    """what it is called, in a line"""
    text: str
    """the same in words, for people"""
    power: Power
    """what this set-up carries, as its bill tells it"""
    safety: list[str]
    """cautions for anyone who works on a fuel system: read them first"""
    cautions: list[Reason]
    """what to mind with this bill and its joints"""
    tools: list[str]
    """the tools that it takes"""
    consumables: list[Extra]
    """sealant, spare seals: never in the price"""
    rails: list[SheetRail]
    """the rails"""
    stages: list[StagePart]
    """the stages that have steps, in working order"""
    steps: list[SheetStep]
    """the steps, in working order"""
    sources: list[JointSource]
    """where the figures for tightening come from"""


class ShortLink(TypedDict):
    """What stands for a bill's key in a short link."""

    code: str
    """the same for the same key, until its end"""
    path: str
    """leads to the assembly sheet of the bill"""


class SimpleFacts(AnyFacts):
    """the facts of the rule `simple`, those that the case has"""

    max_chain: NotRequired[int]
    """parts that may stand one behind the other"""


StandingCase: TypeAlias = FileCase | OrderCase | ExplainCase | LayoutsCase | ItemCase | JointCase
"""A standing case of whatever kind, as it is told."""


class SuppliedFacts(AnyFacts):
    """the facts of the rule `supplied`, those that the case has"""

    duty: NotRequired[str]
    """what its spot is for"""
    owner: NotRequired[str]
    """name of what it comes with"""
    plug: NotRequired[str]
    """SKU of the plug that comes with the rail"""
    spare: NotRequired[str]
    """SKU of the plug that is left over"""


class SupplyFacts(AnyFacts):
    """the facts of the rule `supply`, those that the case has"""

    active: NotRequired[bool]
    """the part is still made"""
    had: NotRequired[bool]
    """the customer has it"""
    lead_days: NotRequired[int]
    """lead time, days"""
    needed: NotRequired[int]
    """how many are needed, pieces"""
    stock: NotRequired[int]
    """how many are in stock, pieces"""
    superseded_by: NotRequired[str | None]
    """SKU of what takes its place"""


_Sweep = TypedDict("_Sweep", {"from": int | str})


class Sweep(_Sweep):
    id: str
    """its id"""
    to: int | str
    """the revision or the draft that is held against it"""
    status: Literal["running", "done", "cancelled"]
    """where it stands; of a problem, the HTTP status"""
    begun: str
    """in UTC"""
    done: int
    """parts of the work that are done: questions, then changes undone"""
    total: int | None
    """parts in all, as far as that is known; null: not yet"""
    impact: str | None
    """path of the impact; null until it is there"""


class TableDraftFault(DraftFault):
    """What does not hold in the draft with the tables in it."""

    place: str | None
    """sheet, row and column that tell it; null: no table does"""


class TableEdit(TypedDict):
    """An object that the tables make another one in the draft; `fields` are the top-level ones that differ."""

    section: str
    """the section of the catalog"""
    key: str
    """its key: of a bill, or of an object in its section"""
    what: Literal["added", "changed", "removed"]
    """what it is about, or what was done"""
    fields: list[str]
    """the top-level fields that changed"""


class TablesTaken(TypedDict):
    """What became of tables: all or nothing of them is taken."""

    draft: str
    """id of the draft"""
    base: int
    """the revision that the draft starts from"""
    version: int
    """of the draft, afterwards"""
    dry_run: bool
    """true: nothing was kept"""
    sections: list[SectionTaken]
    """what became of each section"""
    untouched: list[str]
    """sections of which there was no table: they stay as they are"""
    edits: list[TableEdit]
    """the first 100"""
    more_edits: int
    """how many there are besides"""
    faults: list[TableDraftFault]
    """the first 20"""
    more_faults: int
    """how many there are besides"""


class UnknownCarAnswer(TypedDict):
    """The inquiry as it is kept, and what can be said now."""

    inquiry: Inquiry
    """the inquiry as it is kept"""
    said: UnknownCarSaid
    """what is told of it"""


class ViaFacts(AnyFacts):
    """the facts of the rule `via`, those that the case has"""

    kind: NotRequired[str]
    """kind of the part"""
    via: NotRequired[list[str]]
    """the kinds of parts that the path has to lead through"""


class WebhookChange(TypedDict):
    """What becomes of a webhook; what is not told stays as it is."""

    url: NotRequired[str | None]
    """url"""
    events: NotRequired[list[Literal["revision.published", "inquiry.answered"]] | None]
    """events"""
    active: NotRequired[bool | None]
    """false: nothing is sent, and no news is kept for it; what waits is sent later"""


class WebhookTold(TypedDict):
    """An endpoint; its secret is told once, when it is made or replaced."""

    id: str
    """its id"""
    url: str
    """url"""
    events: list[str]
    """events"""
    active: bool
    """false: nothing is sent until it is changed"""
    created: str
    """in UTC"""
    secret: NotRequired[str]
    """signs what is sent: Standard Webhooks, v1; told this once"""
    old_secret_ends: NotRequired[str]
    """in UTC: until then what is sent has a second signature, by the secret before this one"""
    messages: NotRequired[list[MessageTold]]
    """newest first, by page"""
    next: NotRequired[str]
    """the path of the next page; missing on the last one"""


class WebhookList(TypedDict):
    """The endpoints of an account, oldest first."""

    results: list[WebhookTold]
    """what is on this page"""


class WishFacts(AnyFacts):
    """the facts of the rule `wish`, those that the case has"""

    currency: NotRequired[str]
    """ISO 4217 code of both"""
    duty: NotRequired[str | None]
    """what the spot is for"""
    finish: NotRequired[str | None]
    """the finish that the part has"""
    gauge: NotRequired[str]
    """the place of the gauge that is wished for"""
    lowest_price: NotRequired[int]
    """the cheapest that there is, minor units"""
    max_price: NotRequired[int]
    """the most that is to be spent, minor units"""
    wanted: NotRequired[str | None]
    """the finish that is wished for"""
    wish: NotRequired[str]
    """the wish: a field of the request"""


BillRequestAsked: TypeAlias = BillRequest
CarQuestionAsked: TypeAlias = CarQuestion
ClearanceAsked: TypeAlias = Clearance
ExplainCaseAsked: TypeAlias = ExplainCase
ExplainPromisesAsked: TypeAlias = ExplainPromises
ExplainRequestAsked: TypeAlias = ExplainRequest
FileCaseAsked: TypeAlias = FileCase
FilePromisesAsked: TypeAlias = FilePromises
HadPartAsked: TypeAlias = HadPart
InjectorFlowAsked: TypeAlias = InjectorFlow
ItemCaseAsked: TypeAlias = ItemCase
ItemPromisesAsked: TypeAlias = ItemPromises
ItemQuestionAsked: TypeAlias = ItemQuestion
JointCaseAsked: TypeAlias = JointCase
JointPromisesAsked: TypeAlias = JointPromises
JointQuestionAsked: TypeAlias = JointQuestion
LayoutsCaseAsked: TypeAlias = LayoutsCase
LayoutsPromisesAsked: TypeAlias = LayoutsPromises
OrderCaseAsked: TypeAlias = OrderCase
OrderLineAsked: TypeAlias = OrderLine
OrderPromisesAsked: TypeAlias = OrderPromises
OrderRequestAsked: TypeAlias = OrderRequest
OwnSpotAsked: TypeAlias = OwnSpot
PartSideAsked: TypeAlias = PartSide
PinnedQuestionAsked: TypeAlias = PinnedQuestion
PortSideAsked: TypeAlias = PortSide
PriceRangeAsked: TypeAlias = PriceRange
PumpPointAsked: TypeAlias = PumpPoint
PumpVoltsAsked: TypeAlias = PumpVolts
RegulatorAsked: TypeAlias = Regulator
