"""Keep orders that were read, under an id that is the only key to them, while they are settled."""

from datetime import UTC, datetime

from pydantic import ValidationError

from service.storage.keeping import READING_DAYS
from service.storage.order_readings import OrderReadingStore
from service.usecases.errors import NotFoundError
from service.usecases.ids import new_id
from service.usecases.order_draft import Draft
from service.usecases.room import check_room

KEPT_DAYS = READING_DAYS


class OrderReadings:
    """Keeps drafts of orders. Safe to share by threads."""

    def __init__(self, store: OrderReadingStore) -> None:
        self._store = store

    def of(self, account: str | None) -> "OrderReadings":
        """The same, as an account sees it."""
        return OrderReadings(self._store.of(account))

    def keep(self, draft: Draft, id_: str | None = None) -> str:
        """Keep a draft as a new one, or in the place of another; its id. Raises FullError."""
        if id_ is not None:
            self._store.change(id_, draft.model_dump_json(exclude_defaults=True))
            return id_
        check_room(self._store)
        new = new_id()
        self._store.save(new, draft.model_dump_json(exclude_defaults=True), datetime.now(UTC))
        return new

    def recall(self, id_: str) -> Draft:
        """The draft of an id. Raises NotFoundError, also for one that is kept in a form that is not taken any more."""
        document = self._store.get(id_)
        try:
            if document is not None:
                return Draft.model_validate_json(document)
        except ValidationError as error:
            raise NotFoundError("order", id_) from error
        raise NotFoundError("order", id_)
