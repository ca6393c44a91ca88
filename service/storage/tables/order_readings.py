"""The table of orders as they were read and settled."""

from datetime import datetime

from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class OrderReadingRow(Row, table=True):
    """An order that was read; `document` has its lines and wishes, and the text only where that was asked."""

    __tablename__ = "order_reading"

    id: str = Field(primary_key=True)
    created_at: datetime = Field(sa_type=UtcDateTime, index=True)
    document: str
    account: str = ""
