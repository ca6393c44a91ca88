"""A catalog in which every field of the format stands at least once, in orders that no sorting would give."""

from typing import Any, get_args

from pydantic import BaseModel

from service.documents.catalog import Catalog
from tests.support.engineering_data import told_catalog


def rich_catalog() -> dict[str, Any]:
    """Return a fresh catalog document: the small one with all that may be told, and what it lacks."""
    catalog = told_catalog()
    for joint in catalog["joints"]:
        joint.update({"consumables": ["SEALANT"], "spare_seal": "SEAL-B8"})
    catalog["joints"].append(
        {
            "id": "flange",
            "method": "flange-to-face",
            "min_nm": 1 / 3,
            "max_nm": 8.1,
            "consumables": ["SEALANT", "SCREW-6", "SEALANT"],
            "spare_seal": "SEAL-B8",
            "cautions": ["Zweite Zeile:\n\tmit „Zeichen“ 燃料 \U0001f527", "", 'It\'s "quoted" \\ %s ? :x'],
            "source": "figures for tests",
        }
    )
    catalog["items"].insert(
        0,
        catalog["items"][-1]
        | {
            "sku": "screw-6",
            "name": "Screw, M6 x 25, earlier thread",
            "status": "retired",
            "superseded_by": "SCREW-6",
            "price": 10**12,
            "stock": 10**9,
            "mass_g": 0.1 + 0.2,
        },
    )
    for section in ("fuels", "materials", "addons", "layouts"):
        catalog[section].reverse()
    return catalog


def fields_never_given(catalog: Catalog) -> set[tuple[str, str]]:
    """Return each (model, field) of the format for which the catalog has no value anywhere."""
    models: dict[str, type[BaseModel]] = {}
    given: set[tuple[str, str]] = set()
    _look_at_type(Catalog, models)
    _look_at_value(catalog, given)
    return {(name, field) for name, model in models.items() for field in model.model_fields} - given


def _look_at_type(annotation: Any, models: dict[str, type[BaseModel]]) -> None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        models[annotation.__name__] = annotation
        for field in annotation.model_fields.values():
            _look_at_type(field.annotation, models)
    for argument in get_args(annotation):
        _look_at_type(argument, models)


def _look_at_value(value: Any, given: set[tuple[str, str]]) -> None:
    if isinstance(value, BaseModel):
        for field, within in value:
            if within is not None:
                given.add((type(value).__name__, field))
                _look_at_value(within, given)
    elif isinstance(value, list | dict):
        for within in value.values() if isinstance(value, dict) else value:
            _look_at_value(within, given)
