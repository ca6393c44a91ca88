"""How much fuel an engine burns at a given power."""


def fuel_demand_l_h(power_kw: float, bsfc_g_kwh: float, density_kg_m3: float) -> float:
    """Give the fuel that an engine burns, as volume flow [L/h]: power times BSFC over density.

    BSFC (brake-specific fuel consumption) is the fuel mass burnt for each unit of work at the shaft.

    power_kw: shaft power [kW], 0 or more
    bsfc_g_kwh: brake-specific fuel consumption [g/kWh], 0 or more
    density_kg_m3: density of the fuel [kg/m3], above 0

    Units: kW * g/kWh = g/h, and 1 kg/m3 = 1 g/L.
    Raises ValueError where a value is out of its range.
    Source: definition of BSFC, e.g. Heywood, Internal Combustion Engine Fundamentals, section 2.8.
    """
    if not (power_kw >= 0 and bsfc_g_kwh >= 0 and density_kg_m3 > 0):
        raise ValueError(
            "fuel demand needs power_kw and bsfc_g_kwh of 0 or more and density_kg_m3 above 0, "
            f"not {power_kw}, {bsfc_g_kwh} and {density_kg_m3}"
        )
    return power_kw * bsfc_g_kwh / density_kg_m3
