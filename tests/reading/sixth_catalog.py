"""A catalog of questions: cars told apart by a V6 and a V8, sizes in dashes, euros, finishes that cars have as well."""

from typing import Any

from tests.reading.question_parts import addon, car, crossed, duty, fed, fuel, layout, loop, rail, standard
from tests.support.builders import part
from tests.support.catalogs import small_catalog


def sixth_catalog() -> dict[str, Any]:
    small = small_catalog()
    standards = [one for one in small["port_standards"] if one["id"] != "flare-6"]
    standards += [standard(f"flare-{n}", f"Flare dash {n}", f"dash {n}", "flare") for n in (6, 8)]
    rails = [
        rail(f"{sku}-{x[:3].upper()}", f"{name} rail, {x}", x, pattern, *spots)
        for sku, name, pattern, spots in (
            ("DR", "Dart", "dart", ("left", "centre", "right", "top")),
            ("KR", "Keel", "keel", ("left", "centre", "right", "top")),
            ("MR", "Mast", "mast", ("left", "centre", "right")),
        )
        for x in ("black", "polished", "red")
    ]
    each = {f"{bank}.centre": duty("feed", "own", "flare-8") for bank in (1, 2)}
    return small | {
        "maker": {"name": "Hartwell Fuel Systems", "currency": "EUR"},
        "port_standards": standards,
        "fuels": [
            fuel("super95", "Super 95", "unleaded"),
            fuel("super98", "Super Plus 98"),
            fuel("e85", "E85 ethanol", "flex"),
            fuel("m30", "Methanol M30"),
        ],
        "materials": [],
        "items": [
            *rails,
            rail("PR-BLA", "Pip rail", "black", "pip", "left", "right"),
            part("GG-7", "gauge", ("taper-1/8", "male"), name="Rail gauge 0-7 bar"),
            part("EL-6", "fitting", ("boss-8", "male"), ("flare-6", "male"), name="Straight union dash 6"),
            part("EL-8", "fitting", ("boss-8", "male"), ("flare-8", "male"), name="Straight union dash 8"),
            part("RG-8", "regulator", ("boss-8", "male"), ("flare-8", "male"), name="Ridge regulator dash 8"),
            part("PG-8", "plug", ("boss-8", "male"), name="Boss cap 8"),
        ],
        "chassis": [
            car("limmer-14", "Limmer 1.4", "Dart 1.4", 70.0, "dart"),
            car("limmer-16", "Limmer 1.6", "Dart 1.6", 88.0, "dart", "Limmer Sprint"),
            car("brannoch", "Brannoch", "Keel 2.4", 120.0, "keel"),
            car("brannoch-tourer", "Brannoch Tourer", "Keel 2.4", 120.0, "keel", at="right"),
            car("osker-500", "Osker 500", "Pip 500", 22.0, "pip"),
            car("vantry-v6", "Vantry V6", "Mast 3.5", 190.0, "mast", banks=2, at="1.left"),
            car("vantry-v8", "Vantry V8", "Mast 5.0", 300.0, "mast", "big Vantry", banks=2, at="1.left"),
        ],
        "addons": [
            addon("gale", "Gale turbo kit", 80.0, "limmer-14", "limmer-16"),
            addon("whin", "Whin supercharger", 60.0, "brannoch", "brannoch-tourer"),
            addon("tb-mast", "Mast twin turbo", 110.0, "vantry-v6", "vantry-v8"),
            addon("tower-brace", "Shock tower brace", 0.0, "limmer-14", "limmer-16", "brannoch"),
        ],
        "layouts": [
            layout(
                "tank-line", "Tank line as fitted", fed("left", None), fed("right", None), aliases=("factory pipe",)
            ),
            layout("d6-mid", "Dash 6 middle entry", fed("centre", "flare-6")),
            layout("d8-mid", "Dash 8 middle entry", fed("centre", "flare-8")),
            layout("d6-end", "Dash 6 end entry", fed("left", "flare-6"), fed("right", "flare-6")),
            layout("d8-end", "Dash 8 end entry", fed("left", "flare-8"), fed("right", "flare-8")),
            layout("d6-flow", "Dash 6 flow-through", *loop("flare-6")),
            layout("d8-flow", "Dash 8 flow-through", *loop("flare-8")),
            layout("d8-flow-reg", "Dash 8 flow-through, regulator on the rail", *loop("flare-8", "regulator")),
            layout("v-tank", "Tank line and crossover", *crossed(None), banks=2),
            layout("v-d8-each", "Dash 8 to each bank", each, banks=2),
            layout("v-d8-cross", "Dash 8 and crossover", *crossed("flare-8"), banks=2),
            layout("v-d8-cross-back", "Dash 8, crossover and return", *crossed("flare-8", returns=True), banks=2),
        ],
    }
