"""The tables of standing cases: what each asks, and what it promises."""

from typing import get_args

from sqlalchemy import BigInteger
from sqlmodel import Field

from service.documents.fields import PLACES, End
from service.documents.request import OrderBy
from service.storage.tables.base import SPOTS, CatalogRow, at_least, key, of_revision, one_of, refers
from service.storage.tables.engineering import FOLLOWS


def _of_case() -> tuple[str, str, str]:
    return "contract_case", "contract_case", "id"


class ContractCaseRow(CatalogRow, table=True):
    """A case, in plain words."""

    __tablename__ = "contract_case"
    __table_args__ = (key("id"), of_revision())

    id: str
    says: str


class ContractCaseQuestionRow(CatalogRow, table=True):
    """What a case asks."""

    __tablename__ = "contract_case_question"
    __table_args__ = (
        key("contract_case"),
        refers(*_of_case()),
        refers("chassis", "chassis", "id"),
        refers("layout", "layout", "id"),
        refers("fuel", "fuel", "id"),
        one_of("order_by", get_args(OrderBy)),
    )

    contract_case: str
    chassis: str
    layout: str
    fuel: str | None
    power_kw: float | None
    pump_l_h: float | None
    pump_v_rated: float | None
    pump_v_fed: float | None
    feed_hose_m: float | None
    return_hose_m: float | None
    boost_kpa: float
    gauge: str
    finish: str | None
    in_stock_only: bool
    allow_unsold: bool
    max_price: int | None = Field(sa_type=BigInteger)
    bill_limit: int | None
    group_variants: bool | None
    order_by: str | None


class ContractCaseAddonRow(CatalogRow, table=True):
    """An add-on of the car that is asked about."""

    __tablename__ = "contract_case_addon"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()), refers("addon", "addon", "id"))

    contract_case: str
    addon: str


class ContractCaseClearanceRow(CatalogRow, table=True):
    """The room at a spot of that car."""

    __tablename__ = "contract_case_clearance"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()), one_of("spot", SPOTS))

    contract_case: str
    spot: str
    axial_mm: float | None
    across_mm: float | None


class ContractCaseExcludeRow(CatalogRow, table=True):
    """A part that is not wanted."""

    __tablename__ = "contract_case_exclude"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()), refers("sku", "item", "sku"))

    contract_case: str
    sku: str


class ContractCaseHaveRow(CatalogRow, table=True):
    """A part at hand."""

    __tablename__ = "contract_case_have"
    __table_args__ = (
        key("contract_case", "position"),
        refers(*_of_case()),
        refers("sku", "item", "sku"),
        at_least("qty", 1),
    )

    contract_case: str
    sku: str
    qty: int


class ContractCaseOwnSpotRow(CatalogRow, table=True):
    """A spot of a rail by somebody else."""

    __tablename__ = "contract_case_own_spot"
    __table_args__ = (
        key("contract_case", "spot"),
        refers(*_of_case()),
        refers("standard", "port_standard", "id"),
        one_of("spot", PLACES),
        one_of("end", get_args(End)),
    )

    contract_case: str
    spot: str
    standard: str
    end: str


class ContractCasePumpPointRow(CatalogRow, table=True):
    """A point of the curve of the pump that is asked about."""

    __tablename__ = "contract_case_pump_point"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()))

    contract_case: str
    kpa: float
    l_h: float


class ContractCaseRegulatorRow(CatalogRow, table=True):
    """The regulator that is asked about."""

    __tablename__ = "contract_case_regulator"
    __table_args__ = (key("contract_case"), refers(*_of_case()), one_of("follows", FOLLOWS))

    contract_case: str
    set_kpa: float | None
    follows: str | None


class ContractCaseInjectorsRow(CatalogRow, table=True):
    """The injectors that are asked about."""

    __tablename__ = "contract_case_injectors"
    __table_args__ = (key("contract_case"), refers(*_of_case()))

    contract_case: str
    static_l_h: float
    rated_kpa: float
    max_duty: float | None


class ContractCasePromisesRow(CatalogRow, table=True):
    """What holds of the answer."""

    __tablename__ = "contract_case_promises"
    __table_args__ = (key("contract_case"), refers(*_of_case()))

    contract_case: str
    has_bill: bool
    price_at_least: int | None = Field(sa_type=BigInteger)
    price_at_most: int | None = Field(sa_type=BigInteger)
    keyed: bool | None


class ContractCaseContainsRow(CatalogRow, table=True):
    """A part that stands in the first bill."""

    __tablename__ = "contract_case_contains"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()), refers("sku", "item", "sku"))

    contract_case: str
    sku: str


class ContractCaseNeverRow(CatalogRow, table=True):
    """A part that stands in no bill that is listed."""

    __tablename__ = "contract_case_never"
    __table_args__ = (key("contract_case", "position"), refers(*_of_case()), refers("sku", "item", "sku"))

    contract_case: str
    sku: str
