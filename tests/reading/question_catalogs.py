"""Catalogs whose questions are read in tests: the seed's, and two whose names, sizes and money are nothing like it."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.usecases.library import Edition
from tests.support.builders import own_hose, part, room
from tests.support.catalogs import small_catalog

_SEED = Path(__file__).parents[2] / "seed_data"
Json = dict[str, Any]
_FEED = {"duty": "feed"}


def _standard(id_: str, name: str, size: str, family: str) -> Json:
    like = {"seal": "cone", "published": "figures for tests", "joint": "flare-turn"}
    return {"id": id_, "name": name, "family": family, "size": size} | like


def _fuel(id_: str, name: str, *aliases: str) -> Json:
    plain = next(fuel for fuel in small_catalog()["fuels"] if fuel["id"] == "petrol")
    return plain | {"id": id_, "name": name} | ({"aliases": list(aliases)} if aliases else {})


def _car(
    id_: str, name: str, engine: str, stock_kw: float, pattern: str, *aliases: str, banks: int = 1, at: str = "left"
) -> Json:
    line = {"id": "factory-line", "standard": "quick-3/8", "end": "female"}
    line |= {"spots": {at: {"min_mm": 5.0, "max_mm": 60.0}}}
    return {
        "id": id_,
        "name": name,
        "engine": engine,
        "cylinders": 4 * banks,
        "banks": banks,
        "pattern": pattern,
        "base_kpa": 300.0,
        "stock_kw": stock_kw,
        "hookups": [line],
        "clearances": [room(at, 90.0)],
        "mounting": [],
    } | ({"aliases": list(aliases)} if aliases else {})


def _rail(sku: str, name: str, finish: str, pattern: str, *spots: str) -> Json:
    ports = [{"id": spot, "standard": "boss-8", "end": "female", "spot": spot} for spot in spots]
    named = {"name": name, "family": sku.rpartition("-")[0], "finish": finish, "patterns": [pattern]}
    return part(sku, "rail", price=20_000, **named) | {"ports": ports}


def _layout(id_: str, name: str, *placements: Json, banks: int = 1, aliases: tuple[str, ...] = ()) -> Json:
    told = {"id": id_, "name": name, "summary": name, "banks": banks, "placements": list(placements)}
    return told | ({"aliases": list(aliases)} if aliases else {})


def _duty(duty: str, kind: str, standard: str | None = None, **more: Any) -> Json:
    hookup = own_hose(standard) if standard else {"kind": kind}
    return {"duty": duty, "hookup": hookup} | more


def _fed(spot: str, standard: str | None) -> Json:
    return {spot: _duty("feed", "factory-line", standard)}


def _loop(standard: str, *via: str, back: str | None = None) -> list[Json]:
    more = {"via": list(via)} if via else {}
    ends = (("left", "right"), ("right", "left"))
    return [{a: _duty("feed", "own", standard), b: _duty("return", "own", back or standard, **more)} for a, b in ends]


def _crossed(standard: str | None, *, returns: bool = False) -> list[Json]:
    link = {"1.right": {"duty": "link", "to_spot": "2.right"}, "2.right": {"duty": "link", "to_spot": "1.right"}}
    back = {"2.left": _duty("return", "own", standard)} if returns else {}
    return [{"1.left": _duty("feed", "factory-line", standard)} | link | back]


def _addon(id_: str, name: str, boost_kpa: float, *cars: str, aliases: tuple[str, ...] = ()) -> Json:
    told = {"id": id_, "name": name, "chassis": list(cars), "boost_kpa": boost_kpa, "clearances": [], "mounting": []}
    return told | ({"aliases": list(aliases)} if aliases else {})


def _second() -> Json:
    """Cars with and without figures, sizes of hoses in AN, pounds, finishes that are colours as well."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [_standard(f"flare-{n}", f"37-degree flare, AN-{n}", f"AN-{n}", "flare") for n in (6, 8)]
    both = {f"{bank}.centre": _duty("feed", "own", "flare-8") for bank in (1, 2)}
    rails = [
        _rail(f"PK4-{finish.upper()}", f"Pike rail, {finish}", finish, "pike", "left", "centre", "right", "top")
        for finish in ("black", "raw")
    ]
    rails += [
        _rail(f"RK6-{x.upper()}", f"Rook rail, {x}", x, "rook", "left", "centre", "right") for x in ("black", "raw")
    ]
    return small | {
        "maker": {"name": "Alderley Rails", "currency": "GBP"},
        "port_standards": standards,
        "fuels": [
            _fuel("petrol-95", "Petrol 95", "unleaded"),
            _fuel("e70", "E70 (70 % ethanol)"),
            _fuel("race-102", "Race fuel 102", "race gas"),
        ],
        "materials": [],
        "items": [
            *rails,
            _rail("MP4-RAW", "Mossop rail", "raw", "heron", "left", "right"),
            part("REG-A", "regulator", ("boss-8", "male"), ("flare-6", "male"), name="Rail regulator, AN-6"),
            part("REG-B", "regulator", ("boss-8", "male"), ("flare-8", "male"), name="Rail regulator, AN-8"),
            part("GA-10", "gauge", ("taper-1/8", "male"), name="Gauge 0 to 10 bar", aliases=["ten bar clock"]),
            part("AD-86", "fitting", ("boss-8", "male"), ("flare-6", "male"), name="Adapter boss 8 to AN-6"),
            part("AD-88", "fitting", ("boss-8", "male"), ("flare-8", "male"), name="Adapter boss 8 to AN-8"),
            part("PL-8", "plug", ("boss-8", "male"), name="Boss plug 8"),
        ],
        "chassis": [
            _car("ostrel-14", "Ostrel 1.4", "Pike 14", 66.0, "pike"),
            _car("ostrel-18", "Ostrel 1.8", "Pike 18", 92.0, "pike", "Ostrel S"),
            _car("ostrel-18-gt", "Ostrel 1.8 GT", "Pike 18 T", 120.0, "pike", at="right"),
            _car("calder", "Calder", "Rook 3.5", 180.0, "rook", "Calder Mk2", banks=2, at="1.left"),
            _car("calder-sprint", "Calder Sprint", "Rook 3.5 HO", 205.0, "rook", banks=2, at="1.left"),
            _car("mossop-90", "Mossop 90 pick-up", "Heron 2.8", 99.0, "heron"),
        ],
        "addons": [
            _addon("sc-pike", "Supercharger for the Pike", 50.0, "ostrel-14", "ostrel-18"),
            _addon("tb-rook", "Twin turbo Rook", 90.0, "calder", "calder-sprint", aliases=("Rook twins",)),
            _addon("cross-brace", "Cross brace", 0.0, "ostrel-14", "ostrel-18", "ostrel-18-gt"),
        ],
        "layouts": [
            _layout("line", "Original line", _fed("left", None), _fed("right", None), aliases=("stock line",)),
            _layout("an6-mid", "AN-6 hose, middle feed", _fed("centre", "flare-6")),
            _layout("an8-mid", "AN-8 hose, middle feed", _fed("centre", "flare-8")),
            _layout("an6-end", "AN-6 hose, end feed", _fed("left", "flare-6"), _fed("right", "flare-6")),
            _layout("an6-loop", "AN-6 loop", *_loop("flare-6")),
            _layout("an6-loop-reg", "AN-6 loop, regulator on the rail", *_loop("flare-6", "regulator")),
            _layout("an8-loop", "AN-8 loop", *_loop("flare-8")),
            _layout("v-line", "Original line with crossover", *_crossed(None), banks=2),
            _layout("v-an8-each", "AN-8 to each bank", both, banks=2),
            _layout("v-an8-cross", "AN-8 with crossover", *_crossed("flare-8"), banks=2),
            _layout("v-an8-cross-back", "AN-8 with crossover and return", *_crossed("flare-8", returns=True), banks=2),
        ],
    }


def _third() -> Json:
    """Hoses in millimetres, francs, cars by figures alone, finishes of two words."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [_standard(f"barb-{n}", f"Hose barb, {n} mm", f"for hose of {n} mm", "barb") for n in (8, 10)]
    rails = [
        _rail(f"T{x[0].upper()}-{x[:3].upper()}", f"Tarvo rail, {x}", x, "tarvo", "left", "centre", "right", "top")
        for x in ("clear anodised", "blue anodised")
    ]
    return small | {
        "maker": {"name": "Hodel Railbau", "currency": "CHF"},
        "port_standards": standards,
        "fuels": [
            _fuel("gasoline", "Gasoline", "mogas"),
            _fuel("e10", "E10 gasoline"),
            _fuel("m100", "Methanol M100", "pure methanol", "alky"),
        ],
        "materials": [],
        "items": [
            *rails,
            _rail("NIM-CLR", "Nimbel rail", "clear anodised", "nimbel", "left", "right"),
            part("1042", "gauge", ("taper-1/8", "male"), name="Dial gauge, 0-6 bar"),
            part("2110-8", "fitting", ("boss-8", "male"), ("barb-8", "male"), name="Barb union 8 mm"),
            part("2110-10", "fitting", ("boss-8", "male"), ("barb-10", "male"), name="Barb union 10 mm"),
            part("3300", "regulator", ("boss-8", "male"), ("barb-8", "male"), name="Membrane regulator"),
            part("4400", "plug", ("boss-8", "male"), name="Blind plug"),
        ],
        "chassis": [
            _car("tarvo", "Tarvo", "Z4", 85.0, "tarvo"),
            _car("tarvo-kombi", "Tarvo Kombi", "Z4", 85.0, "tarvo", at="right"),
            _car("nimbel-700", "Nimbel 700", "B2 700", 30.0, "nimbel", "little Nimbel"),
            _car("nimbel-900", "Nimbel 900", "B2 900", 41.0, "nimbel"),
            _car("zell-q2", "Zell Q2", "Z4 RS", 130.0, "tarvo", "Zelli"),
        ],
        "addons": [
            _addon("turbo-22", "Turbo 22", 60.0, "tarvo", "tarvo-kombi"),
            _addon("turbo-28", "Turbo 28", 110.0, "tarvo", "zell-q2"),
            _addon("airbox", "Carbon airbox", 0.0, "tarvo", "zell-q2", aliases=("ram box",)),
        ],
        "layouts": [
            _layout("works", "Works line", _fed("left", None), _fed("right", None)),
            _layout("b8-c", "8 mm hose to the centre", _fed("centre", "barb-8")),
            _layout("b10-c", "10 mm hose to the centre", _fed("centre", "barb-10")),
            _layout("b8-s", "8 mm hose to a side", _fed("left", "barb-8"), _fed("right", "barb-8")),
            _layout("b8-r", "8 mm ring with return", *_loop("barb-8")),
            _layout("b10-r", "10 mm ring, 8 mm return", *_loop("barb-10", back="barb-8")),
        ],
    }


def _fourth() -> Json:
    """Cars whose names hold words of the trade, layouts told by what they do, dollars."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [_standard(f"jic-{n}", f"JIC {n} (37 degree)", f"JIC {n}", "JIC") for n in (6, 10)]
    rails = [
        _rail(f"V8R-{x.upper()}", f"Delmar rail {x}", x, "delmar", "left", "centre", "right")
        for x in ("natural", "gunmetal")
    ]
    rails += [
        _rail(f"L4R-{x.upper()}", f"Corran rail {x}", x, "corran", "left", "centre", "right", "top")
        for x in ("natural", "gunmetal")
    ]
    each = {f"{bank}.centre": _duty("feed", "own", "jic-6") for bank in (1, 2)}
    y_return = [
        {f"{b}.left": _duty("feed", "own", "jic-10") for b in (1, 2)}
        | {f"{b}.right": _duty("return", "own", "jic-10") for b in (1, 2)}
    ]
    both_ends = {"left": _duty("feed", "own", "jic-6"), "right": _duty("feed", "own", "jic-6")}
    return small | {
        "maker": {"name": "Prairie Rail Works", "currency": "USD"},
        "port_standards": standards,
        "fuels": [
            _fuel("pump-gas", "Pump gasoline 93"),
            _fuel("e85", "E85", "corn juice"),
            _fuel("methanol", "Methanol", "meth"),
        ],
        "materials": [],
        "items": [
            *rails,
            part("P-100", "gauge", ("taper-1/8", "male"), name="0-100 psi gauge"),
            part("J6-B8", "fitting", ("boss-8", "male"), ("jic-6", "male"), name="JIC 6 to boss 8 adapter"),
            part("J10-B8", "fitting", ("boss-8", "male"), ("jic-10", "male"), name="JIC 10 to boss 8 adapter"),
            part("BP-8", "plug", ("boss-8", "male"), name="Boss 8 plug", aliases=["blanking plug"]),
            part("FPR-10", "regulator", ("boss-8", "male"), ("jic-10", "male"), name="Billet regulator JIC 10"),
        ],
        "chassis": [
            _car("corran-2000", "Corran 2000", "Minnow 2.0", 100.0, "corran"),
            _car("corran-2000-turbo", "Corran 2000 Turbo", "Minnow 2.0 T", 150.0, "corran", at="right"),
            _car("delmar-gt", "Delmar GT", "Bison 5.2", 310.0, "delmar", "Delmar coupe", banks=2, at="1.left"),
            _car("delmar-wagon", "Delmar Wagon", "Bison 5.2", 280.0, "delmar", banks=2, at="2.left"),
            _car("petrel", "Petrel", "Minnow 1.7", 80.0, "corran", "Petrel hatch"),
        ],
        "addons": [
            _addon("turbo-stage-2", "Stage 2 turbo", 80.0, "corran-2000", "petrel"),
            _addon("roots", "Roots blower", 70.0, "delmar-gt", "delmar-wagon"),
            _addon("hood-scoop", "Low hood scoop", 0.0, "corran-2000", "corran-2000-turbo", "delmar-gt"),
        ],
        "layouts": [
            _layout("stock", "Stock feed line", _fed("left", None), _fed("right", None)),
            _layout("returnless-6", "Returnless JIC 6, centre", _fed("centre", "jic-6")),
            _layout("dual-6", "Dual feed JIC 6", both_ends),
            _layout("return-10", "Return style JIC 10", *_loop("jic-10")),
            _layout("return-10-fpr", "Return style JIC 10 with regulator on the rail", *_loop("jic-10", "regulator")),
            _layout("v-stock", "Stock line and crossover", *_crossed(None), banks=2),
            _layout("v-dual-6", "JIC 6 to each rail", each, banks=2),
            _layout("v-return-10", "JIC 10 through both rails", *y_return, banks=2),
        ],
    }


@cache
def editions() -> Mapping[str, Edition]:
    """The catalogs by their names in the tables."""
    documents = {"second": _second(), "third": _third(), "fourth": _fourth(), "small": small_catalog()}
    built = {name: Edition(1, Catalog.model_validate(document)) for name, document in documents.items()}
    return {"seed": Edition(1, load_catalog(_SEED)), **built}
