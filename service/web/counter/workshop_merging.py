"""Two people at one object: what each of them made of it, so that nothing of either is lost."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from json import loads
from typing import Any

from service.storage.trail import Done
from service.web.pages.workshop_shapes import Shape
from service.web.pages.workshop_words import Names, when, worded

_DONE = {"added": "put it in", "changed": "changed it", "removed": "removed it"}


@dataclass(frozen=True)
class Clash:
    """A field that both made something else of, in words."""

    field: str
    title: str
    seen: str
    mine: str
    theirs: str


@dataclass(frozen=True)
class Merged:
    """What comes of an object that others changed meanwhile: `story` says who did what, `clashes` what is in doubt.

    `document` has what each changed alone; where both did, what this person typed. `taken`: the fields of the others.
    """

    document: dict[str, Any]
    story: tuple[str, ...]
    clashes: tuple[Clash, ...] = ()
    taken: tuple[str, ...] = ()
    is_removed: bool = False
    theirs: Mapping[str, Any] = field(default_factory=dict)


def merged_with(
    shape: Shape, mine: dict[str, Any], seen: str | None, theirs: str | None, done: list[Done], names: Names
) -> Merged:
    """Lay what one typed over what others saved; `seen` is what it was typed over, None where nobody knows any more."""
    told = tuple(_told(one, shape) for one in done)
    if theirs is None:
        return Merged(mine, told, is_removed=True)
    was, now = loads(seen) if seen is not None else None, loads(theirs)
    made, clashes, taken = dict(mine), list[Clash](), list[str]()
    for part in shape.of_variant(str(mine.get(shape.tag, ""))).parts:
        name = part.name
        own, other = mine.get(name), now.get(name)
        if own == other or (was is not None and other == was.get(name)):
            continue
        if was is not None and own == was.get(name):
            taken.append(part.title)
            made.pop(name, None)
            made |= {name: other} if other is not None else {}
            continue
        before = "" if was is None else worded(part, was.get(name), names)
        clashes.append(Clash(name, part.title, before, worded(part, own, names), worded(part, other, names)))
    return Merged(made, told, tuple(clashes), tuple(taken), theirs=now)


def _told(done: Done, shape: Shape) -> str:
    """Who did what and when, in a sentence."""
    titles = [part.title if (part := shape.part(name)) else name for name in done.fields]
    which = f" ({', '.join(titles)})" if titles else ""
    why = f": {done.reason}" if done.reason else ""
    return f"{done.author or 'Somebody'} {_DONE.get(done.what, done.what)}{which} at {when(done.done_at)}{why}"
