"""In which media type to answer: the header Accept, read as RFC 9110, section 12.5.1, has it."""

import re
from typing import NamedTuple

from fastapi import Request

from service.documents.rendering import printable
from service.web.errors import NotAcceptableError

_RANGE = re.compile(r"([!#$%&'*+.^_`|~0-9A-Za-z-]+)/([!#$%&'*+.^_`|~0-9A-Za-z-]+)")
_MOST_RANGES = 64
"""Of a header with more, the first are read; a browser sends ten."""
_WEIGHT = re.compile(r"0(\.[0-9]{0,3})?|1(\.0{0,3})?")


class _Range(NamedTuple):
    """A media range with its weight; `*` stands for any."""

    type: str
    subtype: str
    weight: float

    def specificity(self, media_type: str) -> int | None:
        """How closely it names the media type: 2 exactly, 1 by its type, 0 as any; None: not at all."""
        type_, _, subtype = media_type.partition("/")
        if (self.type, self.subtype) == (type_, subtype):
            return 2
        if self.subtype != "*":
            return None
        return {type_: 1, "*": 0}.get(self.type)


def negotiated(request: Request, offered: tuple[str, ...], missing: dict[str, str] | None = None) -> str:
    """The media type of `offered` that the caller likes best; of those liked alike the one named most closely, then
    the first.

    Without Accept, or where nothing in it can be read, that is the first. Parameters of a range besides its weight are
    not looked at. `missing`: media types that would be offered but for what this installation lacks, in words.

    Raises:
        NotAcceptableError: where the caller takes none of them.
    """
    given = ",".join(request.headers.getlist("accept"))
    parts = given.split(",", _MOST_RANGES)[:_MOST_RANGES]
    ranges = [found for part in parts if (found := _range(part)) is not None]
    if not ranges:
        return offered[0]
    liked = [(*_liking(ranges, media_type), -place) for place, media_type in enumerate(offered)]
    weight, _, place = max(liked)
    if weight == 0:
        lacking = next((why for name, why in (missing or {}).items() if _liking(ranges, name)[0] > 0), None)
        raise NotAcceptableError(printable(given), offered, lacking)
    return offered[-place]


def _range(text: str) -> _Range | None:
    """Read a media range; None where it is none."""
    name, *parameters = (part.strip() for part in text.split(";"))
    found = _RANGE.fullmatch(name)
    weights = [value for key, _, value in (part.partition("=") for part in parameters) if key.strip().lower() == "q"]
    if found is None or not all(_WEIGHT.fullmatch(weight.strip()) for weight in weights):
        return None
    return _Range(found[1].lower(), found[2].lower(), float(weights[0]) if weights else 1.0)


def _liking(ranges: list[_Range], media_type: str) -> tuple[float, int]:
    """The weight of the range that names the media type most closely, and how closely; (0, 0) where none does."""
    named = [(close, one.weight) for one in ranges if (close := one.specificity(media_type)) is not None]
    if not named:
        return 0.0, 0
    close, weight = max(named)
    return weight, close
