"""The usual cautions for work on a pressurised fuel system. They go with every answer that parts are bought by.

Sources: military maintenance manuals for fuel pumps and hydraulic fittings (flared joints, ventilation, flames, skin),
29 CFR 1910.157 (extinguishers), laboratory studies on seals in alcohol fuels; common practice for the rest.
"""

from service.domain.tongue import said, sentence

SAFETY = (
    sentence(
        "Fuel under pressure burns people. If unsure at any step, have a qualified technician do or inspect the work: "
        "a check on paper does not prove that an assembly is safe."
    ),
    sentence(
        "Cool the engine, disconnect the battery (earth first) and bring the rail to zero pressure before loosening "
        "anything; catch what drains. Injection systems hold several bar for hours."
    ),
    sentence(
        "Work in moving fresh air, away from flames, sparks and heaters, with eye protection, fuel-resistant gloves "
        "and a class B extinguisher within reach. Never put water on burning petrol; for alcohol fuels keep an "
        "alcohol-resistant agent ready."
    ),
    sentence(
        "Use new seals, match every wetted part to the fuel, and check again when the fuel changes. Never force a "
        "joint whose thread merely fits, and never tighten a joint under pressure."
    ),
    sentence(
        "Before the engine starts, pressurise with the engine off and look at every joint; mend any weep first. "
        "Check again at idle and after the first full heat."
    ),
    sentence(
        "The figures of the vehicle's and the parts' makers come first. Local fire, storage, emission and vehicle "
        "codes, and racing rules where they apply, decide what is allowed."
    ),
)


def safety() -> list[str]:
    """The cautions in the language that is spoken here."""
    return [said(text) for text in SAFETY]
