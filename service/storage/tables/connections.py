"""The tables of port standards and of how their joints are made up."""

from typing import get_args

from service.documents.catalog import PortStandard
from service.storage.tables.base import CatalogRow, key, of_revision, one_of, refers

METHODS = ("torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click")
SEALS = get_args(PortStandard.model_fields["seal"].annotation)


class JointRow(CatalogRow, table=True):
    """How a joint is made up, by the figures of its method; `has_consumables` tells an empty list from none."""

    __tablename__ = "joint"
    __table_args__ = (
        key("id"),
        of_revision(),
        one_of("method", METHODS),
    )

    id: str
    method: str
    min_nm: float | None
    max_nm: float | None
    min_deg: float | None
    max_deg: float | None
    min_threads: float | None
    max_threads: float | None
    turns_past_hand: float | None
    has_consumables: bool
    source: str


class JointConsumableRow(CatalogRow, table=True):
    """What a joint uses up each time that it is made."""

    __tablename__ = "joint_consumable"
    __table_args__ = (key("joint", "position"), refers("joint", "joint", "id"), refers("sku", "item", "sku"))

    joint: str
    sku: str


class JointSpareSealRow(CatalogRow, table=True):
    """A seal that a joint may be given anew, the best first."""

    __tablename__ = "joint_spare_seal"
    __table_args__ = (key("joint", "position"), refers("joint", "joint", "id"), refers("sku", "item", "sku"))

    joint: str
    sku: str


class JointCautionRow(CatalogRow, table=True):
    """What to mind when a joint is made."""

    __tablename__ = "joint_caution"
    __table_args__ = (key("joint", "position"), refers("joint", "joint", "id"))

    joint: str
    text: str


class PortStandardRow(CatalogRow, table=True):
    """A published connection in one size."""

    __tablename__ = "port_standard"
    __table_args__ = (key("id"), of_revision(), refers("joint", "joint", "id"), one_of("seal", SEALS))

    id: str
    name: str
    family: str
    size: str
    seal: str
    published: str
    joint: str
