"""The application over a real database file with two revisions of the small catalog."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.storage.drafts import DraftStore
from service.storage.engine import open_database
from service.storage.impact_sweeps import ImpactSweepStore
from service.storage.inquiries import InquiryStore
from service.storage.order_checks import OrderCheckStore
from service.storage.order_readings import OrderReadingStore
from service.storage.outbox import OutboxStore
from service.storage.partner_cases import PartnerCaseStore
from service.storage.revisions import RevisionStore
from service.storage.short_links import ShortLinkStore
from service.storage.trail import TrailStore
from service.usecases.check_order import check_order
from service.usecases.drafts import Drafts
from service.usecases.impact_sweeps import Sweeper, Sweeps
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import Check, OrderChecks
from service.usecases.keep_reading import OrderReadings
from service.usecases.library import Library
from service.usecases.partner_cases import PartnerCases
from service.usecases.short_link import ShortLinks
from service.usecases.standing import KeptQuestions
from service.usecases.sweep_workers import alone
from service.usecases.webhooks import Webhooks
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.orders import three_plugs
from tests.support.sqlite_files import with_tables

QUESTION = {"chassis": "brook", "layout": "hose-centre"}


def dearer(catalog: dict[str, Any]) -> dict[str, Any]:
    """The same catalog after a rise of every price by 100."""
    return catalog | {"items": [item | {"price": item["price"] + 100} for item in catalog["items"]]}


@contextmanager
def library_in(file: Path, *catalogs: dict[str, Any]) -> Iterator[Library]:
    """A library over a new database file, with a revision a catalog."""
    with_tables(file)
    database = open_database(f"sqlite:///{file}")
    library = Library(RevisionStore(database))
    for catalog in catalogs:
        library.publish(Catalog.model_validate(catalog))
    yield library
    database.close()


def checks_of(library: Library, check: Check = check_order) -> OrderChecks:
    """What keeps order checks in the library's own database."""
    return OrderChecks(library, OrderCheckStore(library._store._database), check)


def inquiries_of(library: Library) -> Inquiries:
    """What keeps inquiries in the library's own database."""
    return Inquiries(library, InquiryStore(library._store._database))


def links_of(library: Library) -> ShortLinks:
    """What keeps short links in the library's own database."""
    return ShortLinks(library, ShortLinkStore(library._store._database))


def readings_of(library: Library) -> OrderReadings:
    """What keeps orders that were read in the library's own database."""
    return OrderReadings(OrderReadingStore(library._store._database))


def drafts_of(library: Library) -> Drafts:
    """What keeps drafts in the library's own database."""
    database = library._store._database
    return Drafts(library, DraftStore(database), TrailStore(database))


def webhooks_of(library: Library) -> Webhooks:
    """What keeps webhooks in the library's own database; they may be on this machine."""
    return Webhooks(OutboxStore(library._store._database), to_private=True)


def cases_of(library: Library) -> PartnerCases:
    """What keeps partners' cases in the library's own database."""
    return PartnerCases(library, PartnerCaseStore(library._store._database))


def sweeps_of(library: Library) -> Sweeps:
    """What keeps sweeps in the library's own database, and works at them in this process."""
    database = library._store._database
    return Sweeps(library, drafts_of(library), Sweeper(ImpactSweepStore(database), KeptQuestions(), alone))


@pytest.fixture(scope="session")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """Revision 1 is the small catalog, revision 2 a dearer one. Tests leave it as it is."""
    file = tmp_path_factory.mktemp("web") / "catalog.sqlite3"
    with library_in(file, small_catalog(), dearer(small_catalog())) as opened:
        yield opened


@pytest.fixture(scope="session")
def app(library: Library) -> FastAPI:
    """The application over that library."""
    return create_app(
        library,
        checks_of(library),
        kept_inquiries=inquiries_of(library),
        links=links_of(library),
        readings=readings_of(library),
        kept_drafts=drafts_of(library),
        partner_cases=cases_of(library),
        kept_webhooks=webhooks_of(library),
    )


@pytest.fixture(scope="session")
def order_app(library: Library) -> FastAPI:
    """The application over that library, with a plain judge of orders."""
    return create_app(library, checks_of(library, three_plugs))
