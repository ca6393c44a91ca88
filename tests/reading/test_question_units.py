"""Amounts of a question in the units of a request: each unit by its own definition, written either way."""

import pytest

from service.reading.questions.units import UNITS
from tests.reading.question_catalogs import editions

# Source: NIST Special Publication 811 (2008), appendix B. The pound is 0.45359237 kg, the inch 25.4 mm, the foot
# 0.3048 m; standard gravity is 9.80665 m/s2; the horsepower is 550 ft lbf/s, the metric horsepower 75 kgf m/s.
_POUND_KG, _GRAVITY_M_S2, _FOOT_M, _INCH_M = 0.45359237, 9.80665, 0.3048, 0.0254
HORSEPOWER_KW = 550 * _FOOT_M * _POUND_KG * _GRAVITY_M_S2 / 1000
METRIC_HORSEPOWER_KW = 75 * _GRAVITY_M_S2 / 1000
PSI_KPA = _POUND_KG * _GRAVITY_M_S2 / _INCH_M**2 / 1000
DEFINED = {
    "power": {
        "kw kws kilowatt kilowatts": 1.0,
        "hp bhp horsepower horse horses ponies hps": HORSEPOWER_KW,
        "ps pferdestarken cv ch pk hk": METRIC_HORSEPOWER_KW,
    },
    "wheels": {"whp rwhp fwhp": HORSEPOWER_KW, "wkw": 1.0},
    "pressure": {
        "bar bars": 100.0,
        "kpa kilopascal kilopascals": 1.0,
        "mbar hpa millibar": 0.1,
        "mpa": 1000.0,
        "psi": PSI_KPA,
    },
    "length": {
        "mm millimetre millimetres millimeter millimeters": 1.0,
        "cm centimetre centimetres centimeter centimeters": 10.0,
        "m metre metres meter meters mtr": 1000.0,
        "inch inches": 1000 * _INCH_M,
        "ft foot feet": 1000 * _FOOT_M,
    },
}


@pytest.mark.published
@pytest.mark.parametrize("kind", DEFINED)
def test_every_unit_is_what_it_is_defined_to_be(kind: str) -> None:
    defined = {word: value for told, value in DEFINED[kind].items() for word in told.split()}
    known = {word: factor for word, (of, factor) in UNITS.items() if of == kind}
    assert known == pytest.approx(defined, rel=2e-9)


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("250 hp", "power_kw", 250 * HORSEPOWER_KW),
        ("250 bhp", "power_kw", 250 * HORSEPOWER_KW),
        ("250 PS", "power_kw", 250 * METRIC_HORSEPOWER_KW),
        ("250 metric horsepower", "power_kw", 250 * METRIC_HORSEPOWER_KW),
        ("186,5 kW", "power_kw", 186.5),
        ("186.5 kW", "power_kw", 186.5),
        ("two hundred and fifty horsepower", "power_kw", 250 * HORSEPOWER_KW),
        ("1,2 bar boost", "boost_kpa", 120),
        ("1.2 bar boost", "boost_kpa", 120),
        ("one point two bar boost", "boost_kpa", 120),
        ("1200 mbar boost", "boost_kpa", 120),
        ("120 kPa boost", "boost_kpa", 120),
        ("0.12 MPa boost", "boost_kpa", 120),
        ("17.4 psi boost", "boost_kpa", 17.4 * PSI_KPA),
        ("17 pounds of boost", "boost_kpa", 17 * PSI_KPA),
        ("feed hose 1,5 m", "feed_hose_m", 1.5),
        ("feed hose 150 cm", "feed_hose_m", 1.5),
        ("feed hose 5 ft", "feed_hose_m", 5 * _FOOT_M),
        ("feed hose 60 inches", "feed_hose_m", 60 * _INCH_M),
    ],
)
def test_an_amount_is_read_in_the_units_of_a_request(said: str, field: str, value: float) -> None:
    request = editions()["seed"].question_reader.read(f"Fennic 2.0, {said}").request
    assert request[field] == pytest.approx(value, abs=0.005)


@pytest.mark.parametrize("said", ["2 in", '2"', "2 inches", "5,08 cm", "5.08 cm", "50.8 mm", "two inches"])
def test_room_is_read_in_millimetres(said: str) -> None:
    request = editions()["seed"].question_reader.read(f"Fennic 2.0, {said} of room at the left").request
    assert request["clearances"] == [{"spot": "left", "axial_mm": pytest.approx(50.8)}]
