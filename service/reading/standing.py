"""Where a common word stands beside the parts of a row: whether it may belong to one of them, or be a thing itself."""

from collections.abc import Iterator, Sequence
from itertools import dropwhile

from service.domain.lazy import lazy
from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.casting import casts
from service.reading.common import is_common
from service.reading.folding import singular
from service.reading.vocabulary import Vocabulary

_ARTICLES = words.words_of("a an the my our your his her their its this that these those")
_EVALUATING = words.words_of("proper decent nice lovely real fresh beautiful fine great")
"""What praises a thing and makes no other of it."""
_AMONG = (
    _ARTICLES
    | _EVALUATING
    | words.FILLERS
    | words.words_of("another other more spare single next last usual few some same")
)
"""What stands between a word and the thing in whose phrase it is."""
_PRESENTING = words.words_of("comes come follows follow")
_BEGINNING = words.words_of("and then next now also first last here finally")
_JOINING = courtesies.AND | words.words_of("with & + incl mit")
LEADING = words.words_of("for at by via from in on to")
_MAKING = words.words_of("of as but from without another other")
_BARELY = _MAKING | words.words_of("in on against to")
"""What leads to what a thing is made of, taken as or differs in; these without an article."""
_SHARING = words.words_of("both all any every each")
_TITLES = words.words_of("thing things point favour favor request important")
"""What a colon follows that heads no draft, no list and no report."""
_TOWARDS = words.words_of("into onto through during")
_FEW = 2
_FOR = LEADING - {"to", "in"}
_DRIVEN = courtesies.VEHICLES | {"engine", "project", "job"}


class Standing:
    """The pieces of a row without its spaces."""

    def __init__(self, pieces: Sequence[Piece], vocabulary: Vocabulary) -> None:
        self._told = [piece for piece in pieces if not piece.text.isspace() or "\t" in piece.text]
        self._at = {id(piece): at for at, piece in enumerate(self._told)}
        self._vocabulary = vocabulary

    @lazy
    def _is_counted(self) -> bool:
        return any(piece.is_quantity or piece.text in ("a", "an") for piece in self._told)

    def is_free(self, piece: Piece) -> bool:
        """Whether a word is a common one, and of no part, on a row that tells how many."""
        if not self._is_counted:
            return False
        at = self._at[id(piece)]
        if piece.text in words.DESCRIBING:
            return self._describes_another(at)
        is_beside = self._is_of_part(at) or self._is_thing(at) or self._is_led_to(at)
        return not is_beside and self._is_plain(piece)

    def _is_plain(self, piece: Piece) -> bool:
        """Whether a word has no meaning that casts doubt and tells no part from its like."""
        text = piece.text
        is_doubted = casts(text) or text in words.DESCRIBING or words.is_of(text, words.DOUBTFUL)
        return piece.kind == "word" and not is_doubted and not self._vocabulary.is_known(text) and is_common(text)

    def _describes_another(self, at: int) -> bool:
        """Whether a word describes a thing that a part is for, as in "for the long way", "for the old red car"."""
        before = [*dropwhile(_is_describing, self._told[:at][::-1])][:_FEW]
        behind = [*dropwhile(_is_describing, self._told[at + 1 :])][:1]
        is_led = [piece.text in known for piece, known in zip(before, (_ARTICLES, _FOR), strict=False)] == [True, True]
        return is_led and any(
            piece.text in _DRIVEN
            or piece.form == "nothing_name"
            or singular(piece.text) in self._vocabulary.words_of_others
            or (self._is_plain(piece) and piece.text not in courtesies.HARMLESS)
            for piece in behind
        )

    def _is_of_part(self, at: int) -> bool:
        """Whether a word stands in one phrase with a part: before its name, before its quantity, or behind its name."""
        text = self._told[at].text
        is_first = all(piece.text in _BEGINNING for piece in self._told[:at])
        if text.endswith("ly") or text in _EVALUATING | _TOWARDS or (text in _PRESENTING and is_first):
            return False
        between = list(self._passed(at, 1))
        end = at + len(between) + 1
        if end < len(self._told) and self._told[end].kind == "part":
            is_opened = any(piece.is_quantity or piece.text in _ARTICLES for piece in between)
            before = self._before(at, _ARTICLES)
            return not is_opened or before not in words.ORDERING | LEADING
        begin = at - len(list(self._passed(at, -1))) - 1
        return begin >= 0 and self._told[begin].kind == "part"

    def _passed(self, at: int, step: int) -> Iterator[Piece]:
        """What stands beside a word in its phrase: quantities, articles, what describes."""
        side = self._told[at + 1 :] if step > 0 else self._told[:at][::-1]
        for piece in side:
            if not (piece.is_quantity or piece.kind == "size" or piece.text in _AMONG | words.DESCRIBING):
                return
            yield piece

    def _before(self, at: int, skipped: frozenset[str]) -> str:
        """The word or sign before a place, over some words; nothing where the row begins."""
        return next((piece.text for piece in self._told[:at][::-1] if piece.text not in skipped), "")

    def _is_thing(self, at: int) -> bool:
        """Whether a word may be a thing of its own: it is counted, joined to a part, or all that a clause says."""
        passed = list(self._passed(at, -1))
        begin = at - len(passed) - 1
        before = self._told[begin].text if begin >= 0 else ""
        text = self._told[at].text
        if text in _EVALUATING and any(piece.kind == "part" for piece in self._told[at + 1 :][:1]):
            return False
        is_title = at + 1 < len(self._told) and self._told[at + 1].text == ":"
        if is_title and all(piece.kind != "part" for piece in self._told[:at]):
            return text not in _TITLES
        if any(piece.is_quantity for piece in passed) or before in _JOINING:
            return True
        is_begun = not before.isalnum() or before in words.ORDERING
        return is_begun and (self._is_end(at + 1) or self._is_end(at + _FEW))

    def _is_end(self, at: int) -> bool:
        """Whether a clause ends before a place."""
        return at >= len(self._told) or self._told[at].kind == "sign" or self._told[at].text in _JOINING

    def _is_led_to(self, at: int) -> bool:
        """Whether a word says who shares a part or, behind it, what it is of, or what is done to it."""
        near = self._told[at - 1].text if at else ""
        if all(piece.kind != "part" for piece in self._told[:at]):
            return near in _SHARING
        is_done = near == "for" and self._told[at].text.endswith("ing")
        return is_done or near in _BARELY | _SHARING or self._before(at, _ARTICLES) in _MAKING


def _is_describing(piece: Piece) -> bool:
    return piece.text in words.DESCRIBING
