"""Room for one more: what an account keeps has a bound, so that none fills the disk of all."""

from service.storage.accounts import OfAccounts
from service.usecases.errors import FullError


def check_room(store: OfAccounts) -> None:
    """Go on where the account of a store may keep one thing more. Raises FullError."""
    if store.is_full():
        raise FullError(f"this account keeps {store.most():,} {store.many} already, which is the most")
