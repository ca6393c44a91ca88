"""The units and currencies in which people tell amounts."""

from typing import Final, Literal

from service.domain.units import KPA_PER_PSI, KW_PER_HP, M_PER_FT, MM_PER_IN

Kind = Literal["power", "wheels", "pressure", "length", "money", "other", "bare"]
KW_PER_PS = 0.73549875
# Source: 1 PS = 75 kgf m/s, the kilogram-force of 9.80665 N.


def _units(kind: Kind, **factors: float) -> dict[str, tuple[Kind, float]]:
    return {word: (kind, factor) for words, factor in factors.items() for word in words.split("_")}


UNITS: Final[dict[str, tuple[Kind, float]]] = {
    **_units("power", kw_kws_kilowatt_kilowatts=1.0, hp_bhp_horsepower_horse_horses_ponies_hps=KW_PER_HP),
    **_units("power", ps_pferdestarken_cv_ch_pk_hk=KW_PER_PS),
    **_units("wheels", whp_rwhp_fwhp=KW_PER_HP, wkw=1.0),
    **_units("pressure", bar_bars=100.0, kpa_kilopascal_kilopascals=1.0, mbar_hpa_millibar=0.1, psi=KPA_PER_PSI),
    **_units("pressure", mpa=1000.0),
    **_units("length", mm_millimetre_millimetres_millimeter_millimeters=1.0, cm_centimetre_centimetres_centimeter=10.0),
    **_units("length", centimeters=10.0, m_metre_metres_meter_meters_mtr=1000.0, inch_inches=MM_PER_IN),
    **_units("length", ft_foot_feet=1000 * M_PER_FT),
    **_units("other", km_kilometre_kilometres_kilometer_kilometers_kms_mile_miles=1.0, kg_kilos_kilo_g_gram=1.0),
    **_units("other", year_years_yrs_month_months_week_weeks_day_days_hour_hours_h_pm_am_min_minutes=1.0),
    **_units("other", l_litre_litres_liter_liters_ltr_cc_ccm_ml_gal_lph=1.0, v_volt_volts_rpm_nm_deg_degrees=1.0),
    **_units("other", cylinder_cylinders_cyl_valve_valves_pcs_pieces_off_st_nd_rd_th_percent_octane_ron=1.0),
    **_units("other", door_doors_owners_percentage_kmh_mph_amps_watt_x=1.0),
}
LITRES: Final = frozenset(("l", "litre", "litres", "liter", "liters", "ltr"))
CURRENCIES: Final[dict[str, tuple[str, ...]]] = {
    **dict.fromkeys(("eur", "euro", "euros", "\u20ac"), ("EUR",)),
    **dict.fromkeys(("gbp", "quid", "\u00a3", "sterling"), ("GBP",)),
    **dict.fromkeys(("pound", "pounds"), ("GBP", "EGP", "SYP")),
    **dict.fromkeys(("usd",), ("USD",)),
    **dict.fromkeys(("$", "dollar", "dollars", "bucks"), ("USD", "CAD", "AUD", "NZD", "SGD", "HKD")),
    **dict.fromkeys(("chf", "franken", "francs", "franc", "sfr", "fr"), ("CHF",)),
    **dict.fromkeys(
        ("sek", "nok", "dkk", "isk", "pln", "czk", "jpy", "aud", "cad", "nzd", "inr", "huf", "try", "cny"), ()
    ),
    **dict.fromkeys(("kr", "krona", "kronor", "kroner", "krone"), ("SEK", "NOK", "DKK", "ISK")),
    **dict.fromkeys(("\u00a5", "yen"), ("JPY",)),
    **dict.fromkeys(("zloty", "zl"), ("PLN",)),
    **dict.fromkeys(("rupees", "rupee", "\u20b9"), ("INR",)),
    **dict.fromkeys(("cents", "cent", "pence", "grand", "dm"), ()),
}
COUNTRIES: Final = {
    "us": "USD", "american": "USD", "canadian": "CAD", "australian": "AUD", "aussie": "AUD", "swiss": "CHF",
    "british": "GBP", "english": "GBP", "swedish": "SEK", "danish": "DKK", "norwegian": "NOK", "irish": "EUR",
    "zealand": "NZD", "kong": "HKD", "singapore": "SGD", "egyptian": "EGP", "japanese": "JPY", "polish": "PLN",
}  # fmt: skip
DOLLARS: Final = {
    "c": "CAD", "ca": "CAD", "cad": "CAD", "a": "AUD", "au": "AUD", "us": "USD", "nz": "NZD", "hk": "HKD", "s": "SGD"
}  # fmt: skip
