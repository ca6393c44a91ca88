"""Under which state of an object an edit is meant: by its tag, by there being one, or by there being none."""

import hashlib
import re
from dataclasses import dataclass

from service.storage.drafts import Standing

ANY = "*"
_TAG = re.compile(r'"(\d{1,10})-[0-9a-f]{16}"')


def tag_of(standing: Standing) -> str | None:
    """The strong entity tag of an object as it stands; None where there is none."""
    if standing.document is None:
        return None
    return f'"{standing.version}-{hashlib.sha256(standing.document.encode()).hexdigest()[:16]}"'


@dataclass(frozen=True)
class Precondition:
    """`tags`: the object must have one of them, `ANY` is any; None: that is not asked. `is_new`: there must be none."""

    tags: tuple[str, ...] | None = None
    is_new: bool = False

    def holds(self, standing: Standing) -> bool:
        """Whether an object stands as it is meant: RFC 9110, sections 13.1.1 and 13.1.2."""
        tag = tag_of(standing)
        if self.is_new and tag is not None:
            return False
        return self.tags is None or (tag is not None and (ANY in self.tags or tag in self.tags))

    @property
    def version(self) -> int | None:
        """The version of the draft at which the caller saw the object, as far as its tags tell."""
        return max((int(found[1]) for tag in self.tags or () if (found := _TAG.fullmatch(tag))), default=None)
