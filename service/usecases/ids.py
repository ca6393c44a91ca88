"""Ids of what is kept: the only key to it, so that nobody finds one by trying."""

import secrets

_BYTES = 16


def new_id() -> str:
    """An id of 128 random bits, in letters and digits alone: on a command line none is taken for an option."""
    return secrets.token_hex(_BYTES)
