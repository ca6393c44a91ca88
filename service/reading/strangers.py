"""The words beside the parts of a row: the first that may say that another part is meant, or that nobody knows."""

import re
from collections.abc import Sequence
from itertools import dropwhile, takewhile

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.casting import casts
from service.reading.clauses import lead_of
from service.reading.common import is_common
from service.reading.folding import folded, singular
from service.reading.row import Row
from service.reading.standing import LEADING, Standing
from service.reading.vocabulary import Vocabulary

_SHORTENED = re.compile(r"([a-z]+)'(?:d|ll|s|m|re)")
_BEFORE_A_NAME = rf"(?:[^\w\s]|(?i:\b(?:{'|'.join(sorted(courtesies.LEAVING))})))"
_WORD = re.compile(r"[^\W\d_]+")
_INITIALLED = re.compile(r"(?<![\w.\-/])(?:[A-Z]\.\s?){1,3}[A-Z][a-z]+(?:-[A-Z][a-z]+)?\W*$")
_ARTICLES = frozenset({"the", "a", "my", "our", "his", "her", "their", "this", "den", "die", "das", "einen"})
_LETTERS = frozenset("xaisd")
_LINKING = words.OF_ANOTHER | words.words_of("by at about into over after against upon")
_PRAISING = words.words_of("the a better best good nice proper usual quality one ones kind sort stuff make please")
_CLAUSE_ENDS = frozenset(",;|()[]\t.!?:")


class Strangers:
    """The words of a row beside its parts."""

    def __init__(self, row: Row, own: frozenset[str], vocabulary: Vocabulary) -> None:
        """`own`: the words of all that the row's parts are called."""
        self._row = row
        self._vocabulary = vocabulary
        self._own = own
        self._standing = Standing(row.pieces, vocabulary)

    def doubts(self) -> list[str]:
        """The first word that may say that another part is meant, or that nobody knows."""
        is_introduced = self._is_headed()
        is_behind = is_left = False
        placed, led = self._place_before(), lead_of(self._row.pieces)
        for place, piece in enumerate(self._row.pieces):
            is_introduced = is_introduced and (piece.text != ":" or is_behind)
            is_behind = is_behind or piece.kind == "part"
            if place < led and not self._vocabulary.knows(singular(piece.text)):
                continue
            if piece.kind != "word" or self._is_person(place) or self._is_name(place):
                continue
            if self._is_for_car(place) or (is_behind and self._is_praise(place)):
                continue
            if place < placed and not self._tells_apart(singular(piece.text)):
                continue
            if is_behind and self._is_of_car(place) and not self._vocabulary.is_known(piece.text):
                continue
            is_led = (is_introduced or (is_left and self._signs(place))) and not self._describes(place)
            is_led = is_led and not self._is_done_to(place)
            is_strange = self._is_strange(piece.text, is_led) and not self._standing.is_free(piece)
            if is_strange or self._is_of_another(place):
                return [f"\u201c{piece.text}\u201d: does it go with this part?"]
            is_introduced = is_introduced or (is_behind and piece.text in courtesies.INTRODUCING)
            is_left = is_left or (is_behind and piece.text in courtesies.LEAVING)
        return []

    def _is_for_car(self, place: int) -> bool:
        """Whether a word of a car's name says for which one the parts are: "for the Ruff", "Ruff: 2 ..."."""
        is_car = singular(self._row.pieces[place].text) in self._vocabulary.words_of_others
        if not is_car and not self._is_of_car(place):
            return False
        before = [piece.text for piece in self._before(place)[::-1] if not piece.text.isspace()]
        led = list(dropwhile(lambda text: text in _ARTICLES, before))[:1]
        behind = [piece.text for piece in self._row.pieces[place + 1 :] if not piece.text.isspace()][:1]
        is_alone = led in ([","], [";"], ["-"], ["("]) and behind in ([], [","], [";"], [")"], ["."], [":"])
        return led in (["for"], ["fur"]) or (is_car and (is_alone or (behind == [":"] and not led)))

    def _is_praise(self, place: int) -> bool:
        """Whether a word praises a part behind a comma, of which there is no other issue."""
        pieces = self._row.pieces
        first = next((at for at in range(place, -1, -1) if pieces[at].text == ","), None)
        told = [] if first is None else [piece.text for piece in pieces[first + 1 :] if piece.kind != "sign"]
        if not told or not _PRAISING.issuperset(told) or len(self._row.mentions) > 1:
            return False
        skus = self._row.mentions[0].skus
        return not any(x != skus[0] and x.startswith(skus[0]) for x in self._vocabulary.parts)

    def _is_done_to(self, place: int) -> bool:
        """Whether a word may tell what is to be done to the part, as in "to shorten", "for plating"."""
        text = self._row.pieces[place].text
        before = next((piece.text for piece in self._before(place)[::-1] if not piece.text.isspace()), "")
        return (before == "to" and not self._is_capital(text)) or (before == "for" and text.endswith("ing"))

    def _is_person(self, place: int) -> bool:
        """Whether a word is the name of one who orders, or for whom a part is; not of one from whom it comes."""
        text = self._row.pieces[place].text
        before = next((piece.text for piece in self._before(place)[::-1] if piece.kind != "sign"), "")
        is_name = text in courtesies.FIRST_NAMES and not self._vocabulary.is_known(text)
        return is_name and before not in courtesies.COMING_FROM

    def _is_name(self, place: int) -> bool:
        return self._is_called(place) or self._is_initialled(place)

    def _is_called(self, place: int) -> bool:
        """Whether a word is the name of a customer or of a job: behind what announces one, or before a job."""
        text = self._row.pieces[place].text
        if len(text) == 1 or text in words.DESCRIBING or words.is_of(text, words.DOUBTFUL):
            return False
        if self._vocabulary.is_known(text):
            return False
        before = [piece.text for piece in self._before(place)[::-1] if piece.text not in (" ", ".", ":")][:2]
        behind = [piece.text for piece in self._row.pieces[place + 1 :] if not piece.text.isspace()][:1]
        if before and before[0] in courtesies.TITLES:
            return before[-1] not in courtesies.COMING_FROM
        is_behind = before[:1] and (before[0] in courtesies.OF_NAMES or before[0] in ("to", "at"))
        is_beside = bool(is_behind or (courtesies.JOBS | words.NUMBERED_PLACES).intersection(behind))
        return is_beside and self._is_capital(text)

    def _is_initialled(self, place: int) -> bool:
        """Whether a word is of a name with an initial that ends the row."""
        found = _INITIALLED.search(self._row.text)
        text = self._row.pieces[place].text
        is_in_it = found is not None and text in folded(found[0]).replace(".", " ").split()
        return is_in_it and text not in words.DESCRIBING and not self._vocabulary.is_known(text)

    def _is_capital(self, text: str) -> bool:
        """Whether a word is written with a capital letter, as names are, and not in capitals throughout."""
        return any(word.istitle() and folded(word) == text for word in _WORD.findall(self._row.text))

    def _describes(self, place: int) -> bool:
        """Whether a word describes a thing that is no car."""
        return self._row.pieces[place].text in words.DESCRIBING and not self._is_of_car(place)

    def _is_of_car(self, place: int) -> bool:
        """Whether a word describes the car that stands behind it."""
        told = [piece for piece in self._row.pieces[place + 1 :] if piece.kind != "sign"][:1]
        others = self._vocabulary.words_of_others
        is_car = any(
            x.text in courtesies.VEHICLES or x.form == "nothing_name" or singular(x.text) in others for x in told
        )
        return is_car and self._row.pieces[place].text in words.DESCRIBING

    def _is_headed(self) -> bool:
        """Whether a row begins with whom or what it is for, up to a colon before its first part."""
        before = list(takewhile(lambda piece: piece.kind != "part", self._row.pieces))
        told = [piece.text for piece in before if piece.kind != "sign"]
        led = [*dropwhile(lambda text: singular(text) in self._own - courtesies.INTRODUCING, told)][:1]
        return not courtesies.INTRODUCING.isdisjoint(led) and any(piece.text == ":" for piece in before)

    def _place_before(self) -> int:
        """Where a colon stands behind the place on the engine that a row begins with; 0: nowhere."""
        head = list(takewhile(lambda piece: piece.kind != "part" and piece.text != ":", self._row.pieces))
        told = [piece.text for piece in head if piece.kind == "word"]
        is_place = bool(told) and words.PLACES.issuperset(told) and len(head) < len(self._row.pieces)
        return len(head) if is_place and self._row.pieces[len(head)].text == ":" else 0

    def _signs(self, place: int) -> bool:
        """Whether a word is written as a name is, at the end of the row."""
        end = " ".join(piece.text.capitalize() for piece in self._row.pieces[place:] if piece.kind == "word")
        return bool(re.search(rf"{_BEFORE_A_NAME}\s*(?:[A-Z]\w*\.?\s+){{0,2}}{re.escape(end)}\W*$", self._row.text))

    def _is_strange(self, text: str, is_introduced: bool) -> bool:
        word = singular(text)
        if words.is_of(text, words.DOUBTFUL):
            return False
        if word in self._own or text in self._own:
            return False
        if len(text) == 1:
            return text not in _LETTERS and (text not in courtesies.AND or len(self._row.mentions) == 1)
        shortened = _SHORTENED.fullmatch(text)
        if shortened and shortened[1] in courtesies.USUAL:
            return False
        if (word in courtesies.USUAL and not casts(text)) or text in courtesies.USUAL:
            return text not in courtesies.EMPTY and self._tells_apart(word)
        if word in self._vocabulary.words_of_others:
            return not is_introduced
        return not is_introduced or (self._vocabulary.knows(word) and self._vocabulary.is_of_like(self._own, word))

    def _tells_apart(self, word: str) -> bool:
        """Whether another part is called as one of these, and by this word too."""
        if not self._vocabulary.is_known(word):
            return False
        tokens = self._row.tokens
        named = [
            frozenset(singular(token.text) for token in tokens[one.first : one.last]) for one in self._row.mentions
        ]
        return any(self._vocabulary.has_longer(own, word) for own in named)

    def _is_of_another(self, place: int) -> bool:
        """Whether a word names the thing that goes with the part, as a bracket for a hose; or nothing does."""
        piece = self._row.pieces[place]
        is_first = piece.text in words.OF_ANOTHER and not any(x.kind != "sign" for x in self._before(place))
        if is_first and not any(x.is_quantity for x in self._row.pieces):
            return True
        if piece.text in courtesies.USUAL or singular(piece.text) in courtesies.USUAL:
            return False
        before = [near.text for near in self._before(place)[::-1] if near.kind != "sign" and near.text not in _ARTICLES]
        if not LEADING.isdisjoint(before[:1]) and is_common(piece.text):
            return False
        is_linked = False
        for near in self._row.pieces[place + 1 :]:
            if near.kind == "part":
                return is_linked
            is_passed = near.kind in ("word", "sign") or near.is_quantity
            if not is_passed or near.text in _CLAUSE_ENDS or near.text in words.ORDERING:
                return False
            is_linked = is_linked or near.text in _LINKING
        return False

    def _before(self, place: int) -> Sequence[Piece]:
        return self._row.pieces[:place]
