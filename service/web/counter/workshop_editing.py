"""One object of a draft on its page: shown, checked while it is typed, saved; a like one as the start of a new one."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from json import loads
from typing import Any

from service.documents.packed import ONCE, id_of
from service.usecases.draft_contents import Contents
from service.usecases.draft_objects import checked
from service.usecases.drafts import Drafts, named
from service.usecases.errors import EditedMeanwhileError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.preconditions import Precondition
from service.web.counter.workshop_form import Entry, Notes, choices_in, entry_of, notes_of
from service.web.counter.workshop_merging import Merged, merged_with
from service.web.counter.workshop_typed import Typed, document_of, empty, typed_in, typed_of, with_row, without
from service.web.pages.workshop_pictures import picture_of
from service.web.pages.workshop_shapes import Shape, shape_of
from service.web.pages.workshop_words import ONE_OF, SECTION_WORDS, Names

_OWN_NAMES = ("aliases", "gtin", "mpn", "url", "image", "second_name")
"""What a copy does not take with it: it is said of one thing alone."""
_AUTHOR, _REASON, _TAG, _DO, _LIKE = "author", "reason", "tag", "do", "like"


@dataclass(frozen=True)
class Place:
    """An object of a draft, there or to be: `key` is None for a new one."""

    contents: Contents
    section: str
    key: str | None

    @property
    def shape(self) -> Shape:
        return shape_of(self.section)

    @property
    def text(self) -> str | None:
        """Its canonical JSON; None where there is none."""
        return None if self.key is None else self.contents.document(self.section, self.key)

    @property
    def currency(self) -> str:
        return Names(self.contents.texts).currency


@dataclass(frozen=True)
class Page:
    """A form as it is shown; `tag`: the state that it is typed over, empty for a new object."""

    typed: Typed
    tag: str = ""
    faults: tuple[RequestFault, ...] = ()
    merged: Merged | None = None
    like: str = ""
    focus: str = ""
    author: str = ""
    reason: str = ""
    was_sent: bool = False


@dataclass(frozen=True)
class Saved:
    """What was saved: its key."""

    key: str


def place_in(contents: Contents, section: str, key: str | None) -> Place:
    """The place of an object in a draft. Raises NotFoundError where there is none and can be none."""
    if section in ONCE:
        return Place(contents, section, "")
    section, _ = named(section, key or "new")
    place = Place(contents, section, key)
    if key is not None and place.text is None and contents.edit_of(section, key) is None:
        raise NotFoundError(ONE_OF[section], key)
    return place


def page_of(drafts: Drafts, place: Place) -> Page:
    """The form of an object as it stands."""
    text = place.text
    if place.key is None or text is None:
        return Page(empty(place.shape))
    found = drafts.find(place.contents.draft.id, place.section, place.key)
    return Page(typed_of(place.shape, loads(found.standing.document or text), place.currency), found.tag or "")


def page_like(place: Place, like: str) -> Page:
    """The form of a new object that begins as a copy of another; empty without one. Raises NotFoundError."""
    if not like:
        return Page(empty(place.shape))
    text = place.contents.document(place.section, like)
    if text is None:
        raise NotFoundError(ONE_OF[place.section], like)
    told = {name: value for name, value in loads(text).items() if name not in _OWN_NAMES}
    typed = typed_of(place.shape, told, place.currency)
    typed[id_of(place.section)] = ""
    return Page(typed, like=like)


def page_sent(place: Place, form: Mapping[str, str]) -> Page:
    """The form as it was sent, with what its buttons change: a row more or less, one of the others' values."""
    typed = typed_in(place.shape, form)
    if place.key:
        typed[id_of(place.section)] = place.key  # its name is not to be typed
    act, _, pointer = form.get(_DO, "").partition(":")
    focus = ""
    if act == "add":
        typed = with_row(place.shape, typed, pointer)
        focus = pointer
    elif act == "drop":
        typed = without(place.shape, typed, pointer)
        focus = pointer.rpartition("/")[0]
    elif act == "theirs" and (text := place.text) is not None:
        part = place.shape.of_variant(str(typed.get(place.shape.tag, ""))).part(pointer)
        if part is not None:
            typed[pointer] = typed_of(part, loads(text).get(pointer), place.currency)
    return Page(
        typed,
        form.get(_TAG, ""),
        like=form.get(_LIKE, ""),
        focus=focus,
        author=form.get(_AUTHOR, "").strip(),
        reason=form.get(_REASON, "").strip(),
        was_sent=True,
    )


def checked_page(place: Place, page: Page) -> Page:
    """The form with what is wrong in it by itself."""
    document, _ = document_of(place.shape, page.typed, place.currency)
    return replace(page, faults=tuple(_faults_in(place, document)))


def _faults_in(place: Place, document: dict[str, Any]) -> Iterable[RequestFault]:
    try:
        checked(place.section, _key_in(place, document), document)
    except RequestFaultsError as error:
        return error.faults
    return ()


def _key_in(place: Place, document: Mapping[str, Any]) -> str:
    return "" if place.section in ONCE else str(document.get(id_of(place.section), ""))


def save(drafts: Drafts, place: Place, page: Page) -> Saved | Page:
    """Save what was typed; the form again where something is wrong with it or others came before."""
    document, read = document_of(place.shape, page.typed, place.currency)
    faults = tuple(_faults_in(place, document))
    if faults or read.faults:
        return replace(page, faults=faults)
    key = _key_in(place, document)
    id_ = place.contents.draft.id
    meant = Precondition((page.tag,)) if page.tag else Precondition(is_new=True)
    try:
        drafts.put(id_, (place.section, key), document, meant, (page.author or None, page.reason or None))
    except EditedMeanwhileError:
        return _clashed(drafts, place, page, document, key)
    return Saved(key)


def _clashed(drafts: Drafts, place: Place, page: Page, document: dict[str, Any], key: str) -> Page:
    """The form over what others saved meanwhile; of a new object whose name is taken, with that said."""
    if not page.tag:
        field = id_of(place.section)
        taken = RequestFault(f"/{field}", key, "one that the draft does not have yet")
        return replace(page, faults=(taken,))
    id_, names = place.contents.draft.id, Names(place.contents.base, place.contents.texts)
    seen, done = drafts.seen(id_, (place.section, key), page.tag)
    try:
        found = drafts.find(id_, place.section, key)
        theirs, tag = found.standing.document, found.tag or ""
    except NotFoundError:
        theirs, tag = None, ""
    merged = merged_with(place.shape, document, seen, theirs, done, names)
    return replace(page, typed=typed_of(place.shape, merged.document, place.currency), tag=tag, merged=merged)


def shown_of(place: Place, page: Page) -> dict[str, Any]:
    """What the template of the page shows of a form."""
    contents = place.contents
    document, read = document_of(place.shape, page.typed, place.currency)
    faults = list(page.faults)
    if not page.was_sent and place.key is not None:
        faults += [
            RequestFault(x.pointer, x.found, x.expected)
            for x in contents.faults
            if (x.section, x.key) == (place.section, place.key)
        ]
    bare = entry_of(place.shape, page.typed)
    notes = notes_of(faults, read, bare.names())
    theirs = {} if page.merged is None else {f"/{one.field}": one.theirs for one in page.merged.clashes}
    names = Names(contents.texts)
    key = place.key if place.key is not None else ""
    return {
        "entry": entry_of(place.shape, page.typed, Notes(notes, theirs)),
        "choices": choices_in(contents.texts, place.shape),
        "page": page,
        "focus_name": _focus_of(bare, page.focus),
        "fault_count": sum(map(len, notes.values())),
        "picture": picture_of(document, contents.catalog) if place.section == "items" else None,
        "section": place.section,
        "section_words": SECTION_WORDS[place.section],
        "one": ONE_OF[place.section],
        "key": place.key,
        "key_field": None if place.section in ONCE else id_of(place.section),
        "name": names.of(place.section, key) if place.key is not None else str(document.get("name", "")),
        "currency": names.currency,
    }


def _focus_of(entry: Entry, name: str) -> str:
    """The first field of the last row at a name, or of the group there; nothing where it is not shown."""
    at = next((one for one in _each(entry) if one.name == name), None) if name else None
    if at is not None and at.shape.kind in ("rows", "keyed") and at.parts:
        at = at.parts[-1]
    found = next((one for one in _each(at) if one.shape.is_leaf), None) if at is not None else None
    return "" if found is None else found.name


def _each(entry: Entry) -> Iterator[Entry]:
    yield entry
    for one in (*((entry.key,) if entry.key else ()), *entry.parts):
        yield from _each(one)
