"""The tables of order batches: the orders of an uploaded file, each with its outcome as soon as it is judged."""

from datetime import datetime

from sqlalchemy import ForeignKeyConstraint, Index, PrimaryKeyConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class OrderBatchRow(Row, table=True):
    """One file; `worker` judges its orders until `lease_ends`, and may have it longer for the asking."""

    __tablename__ = "order_batch"
    __table_args__ = (ForeignKeyConstraint(["revision"], ["revision.number"]), Index(None, "created_at"))

    id: str = Field(primary_key=True)
    revision: int
    created_at: datetime = Field(sa_type=UtcDateTime)
    worker: str
    lease_ends: datetime = Field(sa_type=UtcDateTime)
    account: str = ""


class BatchOrderRow(Row, table=True):
    """One order of a file at its place in it; `sheet_order` and `outcome` are JSON, no outcome: not judged yet."""

    __tablename__ = "batch_order"
    __table_args__ = (
        PrimaryKeyConstraint("batch", "position"),
        ForeignKeyConstraint(["batch"], ["order_batch.id"], ondelete="CASCADE"),
        Index(None, "batch", "verdict"),
    )

    batch: str
    position: int
    sheet_order: str
    verdict: str | None
    outcome: str | None
