"""Rows that tell of each other: columns with their header, positions that count up, headings, a quantity or a
correction on a row of its own."""

import re
from bisect import bisect
from collections.abc import Callable, Sequence
from itertools import takewhile

from service.reading import courtesies, words
from service.reading.again import changed_in, names_another, names_kinds, said_again
from service.reading.common import is_english
from service.reading.company import kinds_denied
from service.reading.corrections import PRONOUNS, Corrections, corrects, is_item, positions_in, quantities
from service.reading.folding import singular
from service.reading.forms import tells_nothing
from service.reading.headings import CHANGES, Each, changes_all, heading_of, is_heading
from service.reading.meanings import ASKS, HOW_MANY_EACH, REPORTS
from service.reading.parts import ReadPart
from service.reading.repeats import Repeats
from service.reading.row import Row
from service.reading.signatures import amends, below_farewells
from service.reading.tables import is_header
from service.reading.vocabulary import Vocabulary

_NEAR = 20
"""So many parts above or below a line may be meant by it."""
_ONE_OF_THEM = "is this meant, or the other?"
_OR = frozenset({"or", "oder", "ou", "o", "alternatively", "either"})
_NUMBERS = frozenset({"mark", "plain", "odd", "decimal", "position"})
_VAGUE = frozenset({"half", "few"})
_LED_BY = frozenset({"please", "pls", "plz", "and", "instead", "also", "but", "then"})
_ORDERS_ITSELF = re.compile(
    r"\W*(?:(?:also|and|but|so)\s+)*please\s+(?:(?:also|just)\s+)*(?:send|ship|supply|add|deliver|enter|book)\b"
    r"|\W*(?:also|and|but|instead)\W+(?:send|ship|supply|add|deliver)\b"
)
_WANTS_ITSELF = re.compile(
    r"\W*(?:(?:also|and|but|so|now|then|anyway|besides|apart\s+from\s+(?:that|this))\W+)*(?:(?:i|we)\s+(?:(?:now|also)\s+)?)?"
    r"(?:please\s+)?(?:want|need|order|require)\b|\W*(?:also\s+)?(?:ich|wir)\s+(?:brauche|nehme|bestelle|benotige)n?\b|\W*(?:je\s+(?:prends|voudrais|commande)|nous\s+(?:prenons|voudrions|commandons)|il\s+(?:me|nous)\s+faut)\b|\W*(?:meanwhile\s+)?(?:the|a|my|our)\s+(?:\w+\s+)?order\s*:\s*\S"
)
"""What orders, whatever was told or asked before it."""
_NUMBERED = re.compile(r"\s*\d+[.)]\s")
_LETTERED = re.compile(r"\s*\(?[A-Za-z]\)\s+\S")
_MONEY = re.compile(r"\d+[.,]\d\d")
_DIALLED = re.compile(r"0\d{4}")
"""What a number to call begins with."""
_ACCEPTS = re.compile(
    r"(?<!not )(?<!don't )\b(?:(?:i|we)\s+(?:hereby\s+|gladly\s+)?accept|accepted|go\s+ahead|please\s+proceed|"
    r"send\s+(?:it|them)\s+all|as\s+quoted|as\s+offered|order\s+as\s+per)\b(?!.*\b(?:if|when|once|unless|until)\b)"
)
"""What takes an offer."""
_AGREES = re.compile(
    r"^\W*agreed\b|\b(?:i|we)\s+agree\b|^\W*ok(?:ay)?,?\s+(?:to\s+)?(?:all|everything)\b|\bthat's\s+what\s+(?:i|we)\s+want\b|^[^>]*\bplease\s+(?:order|ship)\b(?!.*\b(?:if|when|once|unless|not)\b)"
)
"""What takes an offer that stands below it, quoted."""
_ONE_MORE = re.compile(
    r"\W*(?:(?:(?:and|also|plus|then|n)\s+)*(?:a|an|one)|(?:and|also|plus)\s+(?:the|some))\s+"
    r"(?!(?:in|with|for|of|as|from)\b)[^\W\d]+"
)
"""A thing that is counted with its article."""
_TOO = re.compile(r"\b(?:too|as\s+well)\W*$")
_GOES_ON = re.compile(r"\W*(?:and|plus|also|dazu|und)\b|\s*[>\s]*\+")
_ALL = frozenset({"all", "everything", "these", "those", "both", "each", "following"})
_MARKED = frozenset({"mark_after", "mark_x", "mark_named"})
_PART_OF_ALL = re.compile(r"\W*(?:job|parcel|lot|batch|list|page|car|van|truck|box|set|order)\s+(?:no\W*)?\d{1,3}\W*")
"""What numbers a part of an order."""
_MEANS_ABOVE = re.compile(r"\b(?:those|that|them|it|one|oops|wait|sorry|actually)\b")
"""What means a row above, and none below."""
_LEAST_DIALLED = 7
"""So many figures in groups are a number to call."""
_MOST_QUOTED = 40
_HALF = 2


class Neighbours(Repeats):
    """The parts of all rows of a text, as the rows beside them leave them. `parts`: by the place of their row."""

    def __init__(self, rows: Sequence[Row | None], parts: dict[int, list[ReadPart]], vocabulary: Vocabulary) -> None:
        super().__init__(rows, parts, vocabulary)
        self._corrections = Corrections(rows, parts, vocabulary)
        self._about_above: set[int] = set()
        self._below = dict(below_farewells(rows, parts))
        self.headed: set[int] = set()
        """The rows that only head those below them, whatever they come near to."""

    def tell(self) -> None:
        """Have every row tell of the others."""
        self.tell_by_columns()
        self._by_lines()
        self._by_neighbours()
        self.tell_by_denials()
        self.tell_by_counts_anew()
        self._by_closing()
        self._by_letters()

    def _by_neighbours(self) -> None:
        """Have rows without a part tell of those beside them: a quantity of its own, a heading, a name's other half."""
        is_accepted = any(row is not None and _ACCEPTS.search(row.folded) for row in self._rows)
        is_agreed = any(row is not None and _AGREES.search(row.folded) for row in self._rows)
        heading = ""
        kinds: frozenset[str] = frozenset()
        is_question = False
        last: int | None = None
        answered = -1
        for place, row in enumerate(self._rows):
            if row is None:
                heading = heading if self._is_first_blank(place) else ""
                continue
            if is_header(row) or (place not in self.parts and self._tells_nothing(place, row)):
                continue
            if place in self.parts:
                if last is not None and _begins_with(row, _OR - {"either"}):
                    self._doubt(last, _ONE_OF_THEM)
                if heading in (ASKS, REPORTS) and (is_accepted or (is_agreed and row.text.startswith(">"))):
                    heading = ""
                is_meant = not kinds or not kinds.isdisjoint(self._own_words(place))
                if heading and is_meant:
                    goes_on_ordering = answered == place - 1 and _GOES_ON.match(row.text.lower())
                    if goes_on_ordering or self._is_answered(heading, place, row):
                        answered = place
                    else:
                        self._doubt(place, heading)
                last = place
                continue
            goes_on = last != place - 1 and not is_heading(row) and not is_question
            is_over = is_heading(row) or (
                self._next(place) is not None
                and not (self._is_listed(row) or positions_in(row) or self._is_numbered(place) or _is_marked(row))
            )
            is_above = place in self._about_above or (
                last == place - 1 and corrects(row) and _MEANS_ABOVE.search(row.said_text)
            )
            is_over = is_over and (not is_above or is_heading(row))
            heading = (heading_of(row, self._vocabulary) if is_over else "") or (heading if goes_on else "")
            kinds = kinds if heading and not is_over and goes_on else kinds_denied(row, self._vocabulary)
            is_question = row.folded.endswith("?")
            self._beside(place, row, last)

    def _by_lines(self) -> None:
        """Have lines without a part ask about the parts that they say once more: those above, else those below."""
        places = sorted(self.parts)
        for place, row in enumerate(self._rows):
            if row is None or place in self.parts or place in self.listed or place in self.headed or is_item(row):
                continue
            if self._tells_nothing(place, row):
                continue
            if self._is_counted_kind(row) or (self._is_listed(row) and row.knows(row.words[0])):
                continue
            after = bisect(places, place)
            is_behind = after > 0 and (place - 1 in self.parts or place + 1 not in self.parts)
            above, below = places[max(after - _NEAR, 0) : after], places[after : after + _NEAR]
            near = above if is_behind else [*takewhile(self._is_under(place), below)]
            again = said_again(row, {x: self.parts[x] for x in near}, self._vocabulary, is_behind=is_behind)
            again = again or changed_in(row, {x: self.parts[x] for x in (*above, *below)}, self._vocabulary)
            for one in again:
                self._doubt(one, f"does {_quoted(row)} change this part?", quantities(row))
            if again and min(again) < place:
                self._about_above.add(place)

    def _tells_nothing(self, place: int, row: Row) -> bool:
        """Whether a row without a part signs the mail, or tells nothing in itself."""
        return self._below.get(place, False) or tells_nothing(row)

    def _is_under(self, heading: int) -> Callable[[int], bool]:
        """Tells of the parts below a heading whether no blank row parts them from the first."""
        first = next((x for x in range(heading + 1, len(self._rows)) if x in self.parts), heading)
        return lambda place: all(self._rows[x] is not None for x in range(first, place))

    def _is_answered(self, heading: str, place: int, row: Row) -> bool:
        """Whether a row says itself what its heading asks: how many, or that it is ordered."""
        if isinstance(heading, Each):
            self._doubt(place, HOW_MANY_EACH, (heading.qty,))
            return True
        if heading == HOW_MANY_EACH:
            return self._is_counted(place)
        told = [word for word in row.words if word not in _LED_BY]
        return (
            self._is_anew(place)
            or bool(_ORDERS_ITSELF.match(row.folded))
            or (heading in (ASKS, REPORTS) and bool(_WANTS_ITSELF.match(row.folded)))
            or told[:1] == ["add"]
            or (heading == CHANGES and told[:1] != [] and told[0] in words.ORDERING)
        )

    def _is_numbered(self, place: int) -> bool:
        """Whether a row and the one below it are positions of a list."""
        return all(row is not None and _NUMBERED.match(row.text) for row in self._rows[place : place + 2])

    def _is_listed(self, row: Row) -> bool:
        """Whether a row counts something in words of the catalog and misspelt ones alone, as one of a list does."""
        own = [word for word in row.words if word not in courtesies.HARMLESS | {"each"}]
        if "mark" in row.kinds and not is_heading(row) and sum(map(row.knows, own)) > _HALF:
            return True
        is_counted = any(piece.is_quantity or piece.text in _VAGUE for piece in row.pieces)
        known = set(filter(row.knows, own))
        return is_counted and bool(known) and not any(map(is_english, known.symmetric_difference(own)))

    def _is_counted_kind(self, row: Row) -> bool:
        """Whether a row begins with a quantity and has a word of the catalog: it is asked about itself."""
        first = next((piece for piece in row.pieces if piece.kind != "sign"), None)
        is_counted = first is not None and (first.is_quantity or first.text in ("a", "an"))
        return is_counted and any(map(self._vocabulary.is_known, row.words))

    def _is_first_blank(self, place: int) -> bool:
        return place > 0 and self._rows[place - 1] is not None and (place - 1) not in self.parts

    def _beside(self, place: int, row: Row, last: int | None) -> None:
        is_under = last is not None and last == place - 1
        if row.words and _OR.issuperset(row.words) and row.kinds <= {"word", "sign"}:
            for near in (last, self._next(place)):
                if near is not None:
                    self._doubt(near, _ONE_OF_THEM)
        elif place not in self.listed and _is_bare_quantity(row):
            self._count(place, row, last, is_under)
        elif self._heads_its_kind(place, row):
            self.headed.add(place)
        elif last is not None and is_under and not is_item(row) and self._is_other_half(row, last):
            self._doubt(last, f"does {_quoted(row)} belong to this part?")
        elif (
            last is not None
            and (is_under or quantities(row) or positions_in(row))
            and (positions_in(row) or not (is_item(row) or self._is_listed(row)))
            and not (names_kinds(row, self._vocabulary) or names_another(row, self._vocabulary))
            and (corrects(row) or (positions_in(row) and heading_of(row, self._vocabulary)))
        ):
            for near in self._corrections.meant(row, last, is_under=is_under):
                self._doubt(near, f"does {_quoted(row)} change this part?", quantities(row))

    def _heads_its_kind(self, place: int, row: Row) -> bool:
        """Whether a row is a word for the kind of the parts below it: in the plural, in capitals or with a colon."""
        following = self._next(place)
        if following is None or len(row.words) != 1 or not row.kinds <= {"word", "sign"}:
            return False
        [word] = row.words
        is_titled = singular(word) != word or row.text.isupper() or row.folded.rstrip().endswith(":")
        return is_titled and singular(word) in self._own_words(following)

    def _count(self, place: int, row: Row, last: int | None, is_under: bool) -> None:
        """Have a quantity on a row of its own ask about the parts above and below it, "each" about all above."""
        beside = [near for near in (last, self._next(place)) if near is not None]
        asked = [near for near in beside if not self._is_counted(near)]
        if is_under and last in asked:
            asked += self._uncounted_above(last)
        if _says_each(row):
            asked = [near for near in self.parts if near < place and not self._is_counted(near)]
        if not asked and any(piece.form == "mark_x" for piece in row.pieces):
            asked = [near for near in beside if near > place or is_under]
        for near in asked or ([last] if last is not None and is_under else []):
            self._doubt(near, f"does {_quoted(row)} tell how many?", quantities(row))

    def _uncounted_above(self, place: int | None) -> list[int]:
        """The rows of parts without a quantity that stand directly above one."""
        found: list[int] = []
        while place is not None and place - 1 in self.parts and not self._is_counted(place - 1):
            place -= 1
            found.append(place)
        return found

    def _next(self, place: int) -> int | None:
        near = range(place + 1, min(place + 4, len(self._rows)))
        following = next((at for at in near if (row := self._rows[at]) and not is_header(row)), None)
        return following if following in self.parts else None

    def _is_other_half(self, row: Row, last: int) -> bool:
        """Whether a row is but words of the catalog that are not of the part above."""
        spoken = [token for token in row.spoken if not token.is_number and len(token.text) > 1]
        written = [token for token in spoken if token.text not in PRONOUNS]
        if (
            not written
            or is_heading(row)
            or not courtesies.GREETINGS.isdisjoint(row.words[:1])
            or row.folded.strip()[-2:] in ("==", "--", "**", "##")
            or "position" in row.kinds
            or any(piece.is_quantity and piece.text.strip() not in PRONOUNS for piece in row.pieces)
            or bool(_ONE_MORE.match(row.folded) or _TOO.search(row.folded))
        ):
            return False
        own = self._own_words(last)
        known = [singular(token.text) for token in written if token.text not in courtesies.HARMLESS]
        is_named = len(known) > _HALF or (len(known) > 1 and self._is_counted(last))
        if is_named and self._vocabulary.are_of_one(known):
            return False  # a thing of its own, named by half
        return bool(known) and all(map(self._vocabulary.knows, known)) and own.isdisjoint(known)

    def _own_words(self, place: int) -> frozenset[str]:
        return self._vocabulary.own_words(sku for part in self.parts[place] for sku in part.skus)

    def _by_closing(self) -> None:
        """Have a line that changes all that was ordered ask about the rows above it; about the last alone, where it may
        as well head the rows below it."""
        closing: int | None = None
        for place, row in enumerate(self._rows):
            if row is None or place in self.parts or positions_in(row) or self._is_listed(row):
                continue
            is_amending = amends(row, is_below=place in self._below)
            if self._tells_nothing(place, row) or not (is_amending or changes_all(row, self._vocabulary)):
                continue
            if self._next(place) is None:
                closing = place
            elif place - 1 in self.parts:
                self._doubt(place - 1, f"does {_quoted(row)} change this part?")
        row = None if closing is None else self._rows[closing]
        for place in self.parts if row else ():
            if closing is not None and row and place < closing and not self._is_anew(place):
                self._doubt(place, f"does {_quoted(row)} change this part?")

    def _by_letters(self) -> None:
        """Have rows with letters head the rows below them, where no such row has a part or a number."""
        lettered = [(place, row) for place, row in enumerate(self._rows) if row and _LETTERED.match(row.text)]
        if not any(place in self.parts or quantities(row) for place, row in lettered):
            self.headed.update(place for place, _ in lettered if self._next(place) is not None)


def _begins_with(row: Row, known: frozenset[str]) -> bool:
    told = [piece for piece in row.pieces if not piece.text.isspace()]
    is_code = len(told) > 1 and told[1].text == "-"
    return bool(told) and told[0].kind == "word" and told[0].text in known and not is_code


def _is_marked(row: Row) -> bool:
    """Whether a row begins with a marked quantity, as one of a list does."""
    first = next((piece for piece in row.pieces if piece.kind != "sign"), None)
    return first is not None and first.form in _MARKED and _ALL.isdisjoint(row.words)


def _says_each(row: Row) -> bool:
    return any("each" in piece.text for piece in row.pieces)


def _quoted(row: Row) -> str:
    return f"\u201c{row.text.strip()[:_MOST_QUOTED]}\u201d"


_NAMED = frozenset(words.QUANTITY_NAMES.split("|")) | frozenset(words.PIECES.split("|")) | words.FILLERS
_SAID = _NAMED | words.OTHER_NUMBERS | courtesies.HARMLESS - courtesies.GREETINGS - words.SUMS


def _is_bare_quantity(row: Row) -> bool:
    """Whether a row is a quantity and nothing else."""
    if (
        _PART_OF_ALL.fullmatch(row.folded)
        or row.counts_a_code
        or is_heading(row)
        or not words.NO_PARTS.isdisjoint(row.words)
    ):
        return False
    told = [piece for piece in row.pieces if piece.kind != "sign"]
    spoken = [piece.text for piece in told if piece.kind == "word"]
    numbers = [piece for piece in told if piece.kind in _NUMBERS and not _MONEY.fullmatch(piece.text)]
    if len(numbers) > 1 and sum(sign.isdigit() for sign in row.folded) >= _LEAST_DIALLED:
        return False
    if len(numbers) + len(spoken) < len(told) or any(_DIALLED.match(piece.text) for piece in numbers):
        return False
    if numbers:
        return _SAID.issuperset(spoken)
    return bool(spoken) and all(word in _NAMED or word in words.OTHER_NUMBERS for word in spoken)
