"""A question about a car that is not in the catalog: kept as an inquiry with its facts; what can be said of it now."""

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from hashlib import sha256

from pydantic import TypeAdapter
from pydantic_core import to_json

from service.documents.catalog import Chassis
from service.documents.inquiry import Inquiry, JudgedInquiry
from service.documents.unknown_car import (
    Known,
    LikePattern,
    SentUnknownCar,
    ToMeasure,
    UnknownCar,
    UnknownCarAnswer,
    UnknownCarFacts,
    UnknownCarSaid,
)
from service.domain.parts import Item
from service.reading.questions.facts import UnknownSaid
from service.storage.inquiries import StoredInquiry
from service.usecases.ids import new_id
from service.usecases.kept_once import Kept
from service.usecases.library import Edition, Library

MISSING = "The car is not in the catalog."
CAUTION = (
    "Fuel under pressure burns people. Bring the system to zero pressure and disconnect the battery before anything is "
    "opened to be measured; have a qualified technician do or inspect the work."
)
_ANY = "How many cylinders in how many banks is not told, so these are all patterns of the catalog."
_ALIKE = "These rails are for engines with as many cylinders in as many banks, as far as that was told."
_FITS = "One fits only where its injectors stand as far apart, and as high, as the engine's own."
_NONE = "No rail of the catalog is for an engine with as many cylinders in as many banks."
_OWN = (
    "The rail that is there can stay, as one's own rail: each of its ports, with thread, size and end, decides what "
    "meets it. Tell those ports, and the parts from there to the fuel lines are worked out."
)
_OWN_TOLD = (
    "The rail that is told of can stay, as one's own rail, once each of its ports is known: thread, size and end."
)
_FACTS = TypeAdapter(UnknownCarFacts)
_MOST = 50
"""Patterns, and cars and rails of each, that are listed."""
_TO_TELL: tuple[tuple[Known, str], ...] = (
    ("cylinders", "How many cylinders the engine has."),
    ("banks", "In how many banks the cylinders stand: one, or two as in a V."),
    ("pattern", "From injector to injector, middle to middle, and their height between seat and rail."),
    ("rail", "The threads of the rail's ports, or of the rail that is there: diameter and pitch, and how they seal."),
    ("ends", "The ends of the fuel lines, and how far they reach."),
    ("room", "The room at each port, along it and across, with the hood shut."),
    ("pressure_kpa", "The fuel pressure that is held, by a gauge."),
    ("fuel", "The fuel that it runs on."),
    ("power_kw", "The power that the fuel has to feed."),
)
"""What each fact is asked as; the pattern is measured whatever was told."""


def judged(library: Library, asked: SentUnknownCar, key: str | None) -> StoredInquiry:
    """The inquiry of such a car, to be stored; the same key with the same facts is the same inquiry.

    Raises NoCatalogError.
    """
    edition = library.edition()
    received = datetime.now(UTC)
    document = inquiry_of(edition, asked, received)
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


def inquiry_of(edition: Edition, asked: SentUnknownCar, received: datetime) -> JudgedInquiry:
    """A new inquiry about such a car, received at a moment in UTC."""
    return {
        "id": new_id(),
        "revision": edition.number,
        "currency": edition.revision.currency,
        "tax": edition.revision.tax,
        "received": received.isoformat(timespec="seconds").replace("+00:00", "Z"),
        "request": asked.car.model_dump(exclude_defaults=True),
        "total_valid": 0,
        "missing": {"rule": None, "spot": None, "duty": None, "text": MISSING},
        "conflicts": [],
        "stories": [],
        "repairs": [],
    }


def answer_of(library: Library, kept: Kept) -> UnknownCarAnswer:
    """What is told of an inquiry that is kept, by the revision that it was asked of. Raises NoCatalogError."""
    inquiry: Inquiry = json.loads(kept.document)
    edition = library.edition_for(kept.revision)
    return {"inquiry": inquiry, "said": said_of(edition, UnknownCar.model_validate(inquiry["request"]))}


def car_of(told: UnknownSaid) -> UnknownCar:
    """What a text tells of a car, as a document."""
    return UnknownCar.model_validate({name: getattr(told, name) for name in UnknownCar.model_fields})


def said_of(edition: Edition, car: UnknownCar) -> UnknownCarSaid:
    """What can be said now: the rails of engines like it, what it takes to keep its own, what has to be measured."""
    patterns = list(_patterns(edition, car))
    is_told = car.cylinders is not None or car.banks is not None
    return {
        "car": _FACTS.validate_python(car.model_dump(exclude_defaults=True)),
        "by_pattern": f"{_ALIKE if is_told else _ANY} {_FITS}" if patterns else _NONE,
        "patterns": patterns,
        "by_own_rail": _OWN_TOLD if car.rail else _OWN,
        "measure": [ToMeasure(what=what, text=text) for what, text in _TO_TELL if not _is_known(car, what)],
        "caution": CAUTION,
    }


def _is_known(car: UnknownCar, what: Known) -> bool:
    """Whether a fact is told; what is told in words is still measured."""
    return what in ("cylinders", "banks", "pressure_kpa", "power_kw", "fuel") and getattr(car, what) not in (None, "")


def rails_like(edition: Edition, car: UnknownCar) -> list[tuple[str, list[Chassis], list[Item]]]:
    """By rail pattern the cars that have it and the rails that are sold for it: those of engines with as many cylinders
    and banks, as far as that is told."""
    cars: dict[str, list[Chassis]] = {}
    for one in edition.catalog.chassis:
        if _is_like(one, car):
            cars.setdefault(one.pattern, []).append(one)
    shapes = edition.revision.shapes
    rails = {x: [rail for shape in shapes.get(x, ()) for rail in shape.rails if rail.active] for x in cars}
    return [(pattern, alike, rails[pattern]) for pattern, alike in cars.items() if rails[pattern]]


def _is_like(one: Chassis, car: UnknownCar) -> bool:
    return car.cylinders in (None, one.cylinders) and car.banks in (None, one.banks)


def _patterns(edition: Edition, car: UnknownCar) -> Iterator[LikePattern]:
    for pattern, cars, rails in rails_like(edition, car)[:_MOST]:
        yield {
            "pattern": pattern,
            "cars": [
                {"id": x.id, "name": x.name, "engine": x.engine, "cylinders": x.cylinders, "banks": x.banks}
                for x in cars[:_MOST]
            ],
            "rails": [{"sku": x.sku, "name": x.name} for x in rails[:_MOST]],
        }
