"""Catalogs whose questions are read in tests: the seed's, and others with names, sizes and money nothing like it."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.usecases.library import Edition
from tests.reading.question_parts import addon, car, crossed, duty, fed, fuel, layout, loop, rail, standard
from tests.reading.sixth_catalog import sixth_catalog
from tests.support.builders import part
from tests.support.catalogs import small_catalog

_SEED = Path(__file__).parents[2] / "seed_data"
Json = dict[str, Any]


def _second() -> Json:
    """Cars with and without figures, sizes of hoses in AN, pounds, finishes that are colours as well."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [standard(f"flare-{n}", f"37-degree flare, AN-{n}", f"AN-{n}", "flare") for n in (6, 8)]
    both = {f"{bank}.centre": duty("feed", "own", "flare-8") for bank in (1, 2)}
    rails = [
        rail(f"PK4-{finish.upper()}", f"Pike rail, {finish}", finish, "pike", "left", "centre", "right", "top")
        for finish in ("black", "raw")
    ]
    rails += [
        rail(f"RK6-{x.upper()}", f"Rook rail, {x}", x, "rook", "left", "centre", "right") for x in ("black", "raw")
    ]
    return small | {
        "maker": {"name": "Alderley Rails", "currency": "GBP"},
        "port_standards": standards,
        "fuels": [
            fuel("petrol-95", "Petrol 95", "unleaded"),
            fuel("e70", "E70 (70 % ethanol)"),
            fuel("race-102", "Race fuel 102", "race gas"),
        ],
        "materials": [],
        "items": [
            *rails,
            rail("MP4-RAW", "Mossop rail", "raw", "heron", "left", "right"),
            part("REG-A", "regulator", ("boss-8", "male"), ("flare-6", "male"), name="Rail regulator, AN-6"),
            part("REG-B", "regulator", ("boss-8", "male"), ("flare-8", "male"), name="Rail regulator, AN-8"),
            part("GA-10", "gauge", ("taper-1/8", "male"), name="Gauge 0 to 10 bar", aliases=["ten bar clock"]),
            part("AD-86", "fitting", ("boss-8", "male"), ("flare-6", "male"), name="Adapter boss 8 to AN-6"),
            part("AD-88", "fitting", ("boss-8", "male"), ("flare-8", "male"), name="Adapter boss 8 to AN-8"),
            part("PL-8", "plug", ("boss-8", "male"), name="Boss plug 8"),
        ],
        "chassis": [
            car("ostrel-14", "Ostrel 1.4", "Pike 14", 66.0, "pike"),
            car("ostrel-18", "Ostrel 1.8", "Pike 18", 92.0, "pike", "Ostrel S"),
            car("ostrel-18-gt", "Ostrel 1.8 GT", "Pike 18 T", 120.0, "pike", at="right"),
            car("calder", "Calder", "Rook 3.5", 180.0, "rook", "Calder Mk2", banks=2, at="1.left"),
            car("calder-sprint", "Calder Sprint", "Rook 3.5 HO", 205.0, "rook", banks=2, at="1.left"),
            car("mossop-90", "Mossop 90 pick-up", "Heron 2.8", 99.0, "heron"),
        ],
        "addons": [
            addon("sc-pike", "Supercharger for the Pike", 50.0, "ostrel-14", "ostrel-18"),
            addon("tb-rook", "Twin turbo Rook", 90.0, "calder", "calder-sprint", aliases=("Rook twins",)),
            addon("cross-brace", "Cross brace", 0.0, "ostrel-14", "ostrel-18", "ostrel-18-gt"),
        ],
        "layouts": [
            layout("line", "Original line", fed("left", None), fed("right", None), aliases=("stock line",)),
            layout("an6-mid", "AN-6 hose, middle feed", fed("centre", "flare-6")),
            layout("an8-mid", "AN-8 hose, middle feed", fed("centre", "flare-8")),
            layout("an6-end", "AN-6 hose, end feed", fed("left", "flare-6"), fed("right", "flare-6")),
            layout("an6-loop", "AN-6 loop", *loop("flare-6")),
            layout("an6-loop-reg", "AN-6 loop, regulator on the rail", *loop("flare-6", "regulator")),
            layout("an8-loop", "AN-8 loop", *loop("flare-8")),
            layout("v-line", "Original line with crossover", *crossed(None), banks=2),
            layout("v-an8-each", "AN-8 to each bank", both, banks=2),
            layout("v-an8-cross", "AN-8 with crossover", *crossed("flare-8"), banks=2),
            layout("v-an8-cross-back", "AN-8 with crossover and return", *crossed("flare-8", returns=True), banks=2),
        ],
    }


def _third() -> Json:
    """Hoses in millimetres and by a word of its own, francs, cars by figures alone, finishes of two words."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [standard(f"barb-{n}", f"Hose barb, {n} mm", f"for hose of {n} mm", "barb") for n in (8, 10)]
    standards += [standard("dn-12", "24-degree cone, DN 12", "DN 12", "cone")]
    rails = [
        rail(f"T{x[0].upper()}-{x[:3].upper()}", f"Tarvo rail, {x}", x, "tarvo", "left", "centre", "right", "top")
        for x in ("clear anodised", "blue anodised")
    ]
    return small | {
        "maker": {"name": "Hodel Railbau", "currency": "CHF"},
        "port_standards": standards,
        "fuels": [
            fuel("gasoline", "Gasoline", "mogas"),
            fuel("e10", "E10 gasoline"),
            fuel("m100", "Methanol M100", "pure methanol", "alky"),
        ],
        "materials": [],
        "items": [
            *rails,
            rail("NIM-CLR", "Nimbel rail", "clear anodised", "nimbel", "left", "right"),
            part("1042", "gauge", ("taper-1/8", "male"), name="Dial gauge, 0-6 bar"),
            part("2110-8", "fitting", ("boss-8", "male"), ("barb-8", "male"), name="Barb union 8 mm"),
            part("2110-10", "fitting", ("boss-8", "male"), ("barb-10", "male"), name="Barb union 10 mm"),
            part("3300", "regulator", ("boss-8", "male"), ("barb-8", "male"), name="Membrane regulator"),
            part("4400", "plug", ("boss-8", "male"), name="Blind plug"),
        ],
        "chassis": [
            car("tarvo", "Tarvo", "Z4", 85.0, "tarvo"),
            car("tarvo-kombi", "Tarvo Kombi", "Z4", 85.0, "tarvo", at="right"),
            car("nimbel-700", "Nimbel 700", "B2 700", 30.0, "nimbel", "little Nimbel"),
            car("nimbel-900", "Nimbel 900", "B2 900", 41.0, "nimbel"),
            car("zell-q2", "Zell Q2", "Z4 RS", 130.0, "tarvo", "Zelli"),
        ],
        "addons": [
            addon("turbo-22", "Turbo 22", 60.0, "tarvo", "tarvo-kombi"),
            addon("turbo-28", "Turbo 28", 110.0, "tarvo", "zell-q2"),
            addon("airbox", "Carbon airbox", 0.0, "tarvo", "zell-q2", aliases=("ram box",)),
        ],
        "layouts": [
            layout("works", "Works line", fed("left", None), fed("right", None)),
            layout("b8-c", "8 mm hose to the centre", fed("centre", "barb-8")),
            layout("b10-c", "10 mm hose to the centre", fed("centre", "barb-10")),
            layout("dn12-c", "DN 12 to the centre", fed("centre", "dn-12")),
            layout("b8-s", "8 mm hose to a side", fed("left", "barb-8"), fed("right", "barb-8")),
            layout("b8-r", "8 mm ring with return", *loop("barb-8")),
            layout("b10-r", "10 mm ring, 8 mm return", *loop("barb-10", back="barb-8")),
        ],
    }


def _fourth() -> Json:
    """Cars whose names hold words of the trade, layouts told by what they do, dollars."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [standard(f"jic-{n}", f"JIC {n} (37 degree)", f"JIC {n}", "JIC") for n in (6, 10)]
    rails = [
        rail(f"V8R-{x.upper()}", f"Delmar rail {x}", x, "delmar", "left", "centre", "right")
        for x in ("natural", "gunmetal")
    ]
    rails += [
        rail(f"L4R-{x.upper()}", f"Corran rail {x}", x, "corran", "left", "centre", "right", "top")
        for x in ("natural", "gunmetal")
    ]
    each = {f"{bank}.centre": duty("feed", "own", "jic-6") for bank in (1, 2)}
    y_return = [
        {f"{b}.left": duty("feed", "own", "jic-10") for b in (1, 2)}
        | {f"{b}.right": duty("return", "own", "jic-10") for b in (1, 2)}
    ]
    both_ends = {"left": duty("feed", "own", "jic-6"), "right": duty("feed", "own", "jic-6")}
    return small | {
        "maker": {"name": "Prairie Rail Works", "currency": "USD"},
        "port_standards": standards,
        "fuels": [
            fuel("pump-gas", "Pump gasoline 93"),
            fuel("e85", "E85", "corn juice"),
            fuel("methanol", "Methanol", "meth"),
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
            car("corran-2000", "Corran 2000", "Minnow 2.0", 100.0, "corran"),
            car("corran-2000-turbo", "Corran 2000 Turbo", "Minnow 2.0 T", 150.0, "corran", at="right"),
            car("delmar-gt", "Delmar GT", "Bison 5.2", 310.0, "delmar", "Delmar coupe", banks=2, at="1.left"),
            car("delmar-wagon", "Delmar Wagon", "Bison 5.2", 280.0, "delmar", banks=2, at="2.left"),
            car("petrel", "Petrel", "Minnow 1.7", 80.0, "corran", "Petrel hatch"),
        ],
        "addons": [
            addon("turbo-stage-2", "Stage 2 turbo", 80.0, "corran-2000", "petrel"),
            addon("roots", "Roots blower", 70.0, "delmar-gt", "delmar-wagon"),
            addon("hood-scoop", "Low hood scoop", 0.0, "corran-2000", "corran-2000-turbo", "delmar-gt"),
        ],
        "layouts": [
            layout("stock", "Stock feed line", fed("left", None), fed("right", None)),
            layout("returnless-6", "Returnless JIC 6, centre", fed("centre", "jic-6")),
            layout("dual-6", "Dual feed JIC 6", both_ends),
            layout("return-10", "Return style JIC 10", *loop("jic-10")),
            layout("return-10-fpr", "Return style JIC 10 with regulator on the rail", *loop("jic-10", "regulator")),
            layout("v-stock", "Stock line and crossover", *crossed(None), banks=2),
            layout("v-dual-6", "JIC 6 to each rail", each, banks=2),
            layout("v-return-10", "JIC 10 through both rails", *y_return, banks=2),
        ],
    }


def _fifth() -> Json:
    """Hoses in inches, kronor, engines and cars of one name with figures, fuels and finishes by odd words."""
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [standard(f"push-{n}", f"Push-on barb, {n} in", f"for hose of {n} in", "barb") for n in ("3/8", "1/2")]
    rails = [
        rail(f"LM-{x.upper()}", f"Lom rail, {x}", x, "lom", "left", "centre", "right", "top")
        for x in ("pewter", "ink", "nickel")
    ]
    rails += [
        rail(f"GL-{x.upper()}", f"Glacier rail, {x}", x, "glacier", "left", "centre", "right")
        for x in ("pewter", "ink")
    ]
    each = {f"{bank}.centre": duty("feed", "own", "push-1/2") for bank in (1, 2)}
    return small | {
        "maker": {"name": "Vestdal Spridare", "currency": "SEK"},
        "port_standards": standards,
        "fuels": [
            fuel("p98", "Petrol 98", "super"),
            fuel("e20", "E20 blend"),
            fuel("bio", "Bio-methanol", "wood spirit"),
        ],
        "materials": [],
        "items": [
            *rails,
            part("G-01", "gauge", ("taper-1/8", "male"), name="Round gauge 0-7 bar", aliases=["little clock"]),
            part("U-38", "fitting", ("boss-8", "male"), ("push-3/8", "male"), name="Union 3/8"),
            part("U-12", "fitting", ("boss-8", "male"), ("push-1/2", "male"), name="Union 1/2"),
            part("R-200", "regulator", ("boss-8", "male"), ("push-3/8", "male"), name="Bypass regulator"),
            part("S-8", "plug", ("boss-8", "male"), name="Stopper"),
        ],
        "chassis": [
            car("skarv-11", "Skarv 1100", "Lom 11", 44.0, "lom"),
            car("skarv-13", "Skarv 1300", "Lom 13", 55.0, "lom", "Skarv Special"),
            car("veide", "Veide", "Lom 16", 70.0, "lom", at="right"),
            car("veide-tour", "Veide Tour", "Lom 16", 72.0, "lom"),
            car("torrent", "Torrent", "Glacier 2.8", 130.0, "glacier", banks=2, at="1.left"),
            car("torrent-x", "Torrent X", "Glacier 3.2", 160.0, "glacier", "big Torrent", banks=2, at="2.left"),
        ],
        "addons": [
            addon("tp-lom", "Turbo pack Lom", 70.0, "skarv-11", "skarv-13", "veide"),
            addon("sc-glacier", "Screw compressor Glacier", 65.0, "torrent", "torrent-x"),
            addon("snorkel", "Snorkel", 0.0, "veide", "veide-tour", "torrent-x", aliases=("raised intake",)),
        ],
        "layouts": [
            layout("car-line", "The car's own line", fed("left", None), fed("right", None)),
            layout("m38", "3/8 inch hose, middle feed", fed("centre", "push-3/8")),
            layout("m12", "1/2 inch hose, middle feed", fed("centre", "push-1/2")),
            layout("s38", "3/8 inch hose, side feed", fed("left", "push-3/8"), fed("right", "push-3/8")),
            layout("c38", "3/8 inch circuit", *loop("push-3/8")),
            layout("c12", "1/2 inch circuit, 3/8 back", *loop("push-1/2", back="push-3/8")),
            layout("v-own", "The car's own line, joined banks", *crossed(None), banks=2),
            layout("v12", "1/2 inch hose to each bank", each, banks=2),
            layout("v38-joined", "3/8 inch hose, joined banks", *crossed("push-3/8"), banks=2),
            layout("v38-back", "3/8 inch hose, joined banks, return", *crossed("push-3/8", returns=True), banks=2),
        ],
    }


@cache
def editions() -> Mapping[str, Edition]:
    """The catalogs by their names in the tables."""
    told = {"second": _second(), "third": _third(), "fourth": _fourth(), "fifth": _fifth(), "sixth": sixth_catalog()}
    documents = {**told, "small": small_catalog()}
    built = {name: Edition(1, Catalog.model_validate(document)) for name, document in documents.items()}
    return {"seed": Edition(1, load_catalog(_SEED)), **built}
