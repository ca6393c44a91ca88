"""A question about a car that is not in the catalog: kept as an inquiry with its facts; what can be said of it now."""

from datetime import UTC, datetime
from hashlib import sha256
from typing import Annotated

from pydantic import Field
from pydantic_core import to_json

from service.documents.catalog import Chassis, Item
from service.documents.fields import Document, Text
from service.documents.inquiry import Contact, JudgedInquiry
from service.storage.inquiries import StoredInquiry
from service.usecases.ids import new_id
from service.usecases.library import Edition

MISSING = "The car is not in the catalog."
_Fact = Annotated[Text, Field(max_length=200)]


class UnknownCar(Document):
    """What somebody knows of a car; all but its name may be missing."""

    car: Annotated[str, Field(min_length=1, max_length=120)]
    engine: _Fact = ""
    cylinders: Annotated[int, Field(ge=1, le=48)] | None = None
    banks: Annotated[int, Field(ge=1, le=2)] | None = None
    power_kw: Annotated[float, Field(ge=0.1, le=10_000)] | None = None
    pressure_kpa: Annotated[float, Field(ge=1, le=100_000)] | None = None
    fuel: _Fact = ""
    ends: _Fact = ""
    room: _Fact = ""
    rail: _Fact = ""


class SentUnknownCar(Document):
    """A car that is not in the catalog, with how to reach who asks."""

    car: UnknownCar
    contact: Contact
    note: Annotated[Text, Field(max_length=1_000)] = ""


def judged(edition: Edition, asked: SentUnknownCar, key: str) -> StoredInquiry:
    """The inquiry of such a car, to be stored; the same key with the same facts is the same inquiry."""
    received = datetime.now(UTC)
    document: JudgedInquiry = {
        "id": new_id(),
        "revision": edition.number,
        "received": received.isoformat(timespec="seconds").replace("+00:00", "Z"),
        "request": asked.car.model_dump(exclude_defaults=True),
        "total_valid": 0,
        "missing": {"rule": None, "spot": None, "duty": None, "text": MISSING},
        "conflicts": [],
        "stories": [],
        "repairs": [],
    }
    return StoredInquiry(
        id=document["id"],
        revision=edition.number,
        document=to_json(document).decode(),
        missing=MISSING,
        contact=asked.contact,
        note=asked.note,
        created_at=received,
        idempotency_key=key,
        body_digest=sha256(asked.model_dump_json(exclude_defaults=True).encode()).hexdigest(),
    )


def rails_like(edition: Edition, car: UnknownCar) -> list[tuple[str, list[Chassis], list[Item]]]:
    """By rail pattern the cars that have it and the rails that are made for it: those of engines with as many cylinders
    and banks, as far as that is told."""
    found = []
    for pattern in dict.fromkeys(one.pattern for one in edition.catalog.chassis):
        cars = [one for one in edition.catalog.chassis if one.pattern == pattern and _is_like(one, car)]
        rails = [item for item in edition.catalog.items if item.kind == "rail" and pattern in (item.patterns or ())]
        if cars and rails:
            found.append((pattern, cars, rails))
    return found


def _is_like(one: Chassis, car: UnknownCar) -> bool:
    return car.cylinders in (None, one.cylinders) and car.banks in (None, one.banks)
