"""Common words that make the part on their row doubtful, in groups by their meaning."""

from collections.abc import Iterator
from typing import Final

from service.reading import words
from service.reading.meanings import MEANT
from service.reading.words import words_of

OPEN: Final = words_of(
    # leaves open
    "attempt autumn chance decision eventually fancy flirt future hope hopeful hopefully imagine intend intent "
    "intention interest lean likely luck lucky mind nod ought pencil plan possibility probability season sign someday "
    "sometime spring summer temporarily theory toy try unlikely wish "
    # conditions
    "after agree agreement allow although assume blessing but condition demand depend dependent deposit despite else "
    "event guarantee however lets moment otherwise permission permit presumably promise providing signal subject "
    "though upon warrant whenever whereas wherever while whilst word yet "
)
"""What leaves open whether or when an order comes."""

CASTING: Final = OPEN | words_of(
    # denies, cancels or suspends
    "abandon abort accident accidentally anymore axe ban barely basket besides bin blame block cease chuck confiscate "
    "dead decline delay dismiss ditch drawer dump eliminate enough erase false fault foolish forgive freeze halt "
    "hardly hesitate history ice joke keep kidding kill lose mess nobody oppose pardon park recall reflection refusal "
    "refuse regret reject reluctant removal reverse save scarcely scrub shame spare stall stay stupid suspension till "
    "unfit until useless waste wipe withdrawal "
    # gives back
    "absorb away bounce bring compensate gift grief lease money redeem repay swallow "
    # reports what was, or what there is
    "ago appear arrival arrive ate attic became become began begun belong bend blew born broke built burn burnt burst "
    "carry caught chose commonly competition contain crack customary damage dealt display done drank dream drip drive "
    "driven drove enemy exercise exist existence fail failure fair fall fallen feel fell felt fit fix flew forgot "
    "former formerly frequently froze generally given glow gone grew habit happen hear heat hid hit hot hung hurt "
    "image includes initially install instructions jam knew known laid lately lay led lent lie lists lit live look "
    "loose made makes mean meant melt mention met mount news noise noisy normal normally notice occasionally own page "
    "past photo picture possess ran rarely rattle receive recent recently regularly remain remember remind reminder "
    "rival rode rose rub run rust rusty said sale saw say script see seem seen seize seldom shook shot show shown "
    "shut sit sleep slept smell smelly smoke snap sound speak split spoke spoken spread stand steal stick sticky "
    "stink stole stood story swam swears swore talk taste taught thought threw thrown tore twist typically understood "
    "use using usually video watch wear website weep went woke won wore written wrote "
    # asks
    "advice afford answer ask cheap clue curious describe detail difference examination expensive explanation hear "
    "inform opinion photograph reply reveal sense teach understand weigh weight worth "
    # hedges a quantity
    "among ample between beyond bit close considerable considerably counting extra fairly figure heap kinda load "
    "mainly mass mere merely minimal mostly near nearby north odd over overly partial partially partly pile "
    "practically region rest rough safe scores shy slightly somewhat somewhere sorta stack start sufficient "
    "sufficiently tens ton tops under up virtually "
    # shares out
    "alike annual any corner daily divide end equally every everybody everyone everything everywhere head individual "
    "monthly regular separate share side weekly "
    # compares, or leaves a choice
    "alpha backup better brother choice choose class clone closely closest copy cousin darker deeper different "
    "differently duty edition equal even finer form grade harder higher hole hollow identical including junior lesser "
    "lighter match material mirror model nearer nearest opposite other pattern pinch prefer preferably quality "
    "relative replicate second shade shape sister size soft stuff style such temporary than thicker thread tone twin "
    "typical unlike upside variety version weaker whoever worse worst "
)
"""Each in its plain form; no word of `words.DOUBTFUL`, which ask a question of their own."""

_KNOWN: Final = CASTING | MEANT | words.CALLED_OFF | (words.DOUBTFUL - words.SETS - words.OTHER_NUMBERS - words.SUMS)
_LONGEST_IN_ED: Final = 4
_SHORTEST_IN_ING: Final = 6


def casts(word: str) -> bool:
    """Whether a word casts doubt, as a past in "ed" does, whatever was done."""
    return (word.endswith("ed") and len(word) > _LONGEST_IN_ED) or is_form_of(word, _KNOWN)


def is_form_of(word: str, known: frozenset[str]) -> bool:
    """Whether a word is one of these, or stands in "s" or "ing" where one of these is plain."""
    return any(words.is_of(form, known) for form in _plain_forms(word))


def _plain_forms(word: str) -> Iterator[str]:
    yield word
    if word.endswith("s"):
        yield from (word[:-1], word.removesuffix("es"), f"{word.removesuffix('ies')}y")
    if word.endswith("ing") and len(word) >= _SHORTEST_IN_ING:
        stem = word.removesuffix("ing")
        yield from (stem, f"{stem}e", *((stem[:-1],) if stem[-1] == stem[-2] else ()))
