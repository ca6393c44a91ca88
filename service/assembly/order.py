"""In which order spots are worked on: bank by bank, along the rail from its left end."""

from service.domain.vehicles import bank_of, place_of

_ALONG = ("left", "centre", "right", "top")


def along(spot: str) -> tuple[str, int]:
    """What spots are sorted by."""
    return bank_of(spot), _ALONG.index(place_of(spot))
