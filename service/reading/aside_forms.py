"""Forms of clauses about something other than the order, by the meaning of each form."""

import re
from collections.abc import Iterable
from typing import Final

from service.reading import words
from service.reading.subjects import FINITE
from service.reading.words import words_of


def _one_of(forms: Iterable[str], *, whole: bool = False, begins: str = "") -> "re.Pattern[str]":
    """An expression for any of these forms."""
    return re.compile(f"{begins}(?:{'|'.join(forms)}){'$' if whole else ''}")


_WHO = r"(?:i|we|he|she|they|it|you|one|mine|ours|his|hers|theirs|there|nobody|somebody|someone|everybody)"
_SHORTENED = r"(?:i|we|he|she|they|it|you|there|that)'(?:s|m|d|re|ve|ll)"
_WHOSE = r"(?:the|my|our|your|his|her|their|a|an|some|both|all|one)"
_NO_MEASURE = "".join(f"(?<!{word} )" for word in ("soon", "long", "much", "many", "well", "far"))
_ADVERBS = r"(?:(?:also|now|therefore|hereby|shall|will|would|must|only|just)\s+)*"
BREAKS: Final = _one_of(
    (
        r"[,;()!?\t|]+",
        r"[.:](?=\s|$)",
        r"\s-+>?\s",
        r"\.\.+",
        r"\b(?=(?:because|cos|coz|cause|although|though|whereas)\b)",
        rf"\b(?=(?:i|we)\s+{_ADVERBS}(?:take|need|want|order|require)\b)",
        rf"{_NO_MEASURE}\b(?=(?:since|as|so|but|and|while)\s+(?:{_SHORTENED}|{_WHO}|{_WHOSE})\b)",
    )
)
"""What parts clauses."""
CAUSES: Final = words_of("because cos coz cause since as though although")
"""What a reason begins with."""
REASONS: Final = CAUSES | words_of("while so")
"""What it begins with where somebody or something follows."""
_UNIT = (
    r"(?:car|van|truck|engine|side|bank|bench|build|rail|set|kit|customer|bay|cylinder|of\s+(?:us|them|these|those))"
)
_GOT = (
    r"(?:has|have|'ve|had|got|ordered|bought|found|received|returned|returning|sent|supplied|own|owns|kept)\s+"
    r"(?:it|them|one|none|some|nothing|enough|plenty|this|that|two|three|both|all|\d+)"
)
_ASKED_FOR = r"(?:wants?|needs?|takes?|requires?|orders?|says?|said|makes?|builds?|have|run)"
_SO_MANY = (
    r"(?:\d+|two|three|four|five|six|none|nothing|fewer|less|more)\b(?!\s+(?:weeks?|days?|hours?|months?|years?))"
)
TURNS: Final = _one_of(
    (
        r"not\s+(?:yet\s+)?(?:decided|agreed|approved|signed|ordering|buying|taking)\b",
        r"already\b(?!\s+(?:paid|signed|agreed|waiting)\b)",
        r"(?:no\s+longer|maybe|perhaps|possibly|probably|not\s+sure|unsure|undecided|instead|rather|prefers?)\b",
        r"(?:these|those|cancel\w*|storn\w*|confirms?|decides?|optional\w*|whichever|depend\w*)\b",
        r"(?:think|guess|believe|suppose|reckon)\b",
        r"(?:needs?|wants?|use|sell|fit)\s+\w*\s*(?:any\s?more|any\s+longer)\b",
        r"(?:is|are|was|were|not|be)\s+(?:needed|wanted|required|ordered|sold)\b",
        r"(?:will|shall|must)\s+(?:decide|see|know|think|order|confirm|check|count|measure)\b",
        r"(?:may|might|could)\s+(?:take|want|need|order|buy|change)\b",
        r"as\s+(?:needed|required|per)\b",
        rf"{_GOT}\b",
        rf"{_ASKED_FOR}\s+{_SO_MANY}",
        rf"(?:per|each|every)\s+{_UNIT}\b",
        r"for\s+(?:each|one|both|two|three)\b",
        r"(?:apiece|twice|triple|ditto|double(?!\s+check))\b",
        r"(?:same\s+(?:again|for|list|order|parts)|again\s+for|times\s+the|half\s+(?:of|the|that))\b",
        r"back\s+(?:to\s+you|it|them)\b",
        r"(?:send|bring|give)\w*\s+(?:\w+\s+)?back\b",
        r"(?:do\s+you\s+have|how\s+(?:much|many))\b",
        r"(?:has|have|needs?|must|still)\s+to\s+(?:agree|approve|decide|sign|ask|check|pay|count|confirm|measure)\b",
    ),
    begins=r"\b",
)
"""Forms that cancel, leave open or count the order, whoever the subject is."""
THESE: Final = re.compile(r"\b(?:these|those|already|cancel\w*)\b")
"""Words for the ordered parts, or for parts that are already there, whatever the subject is."""
CONDITION: Final = _one_of(
    (
        r"if|unless|once|until|till|when|whenever|provided|assuming|should|in\s+case",
        r"as\s+(?:soon|long|far|much|many)\s+as",
    ),
    begins=r"^\W*(?:(?:but|and|or|so|please)\s+)*(?:only\s+)?\b(?=\w)",
)
"""The beginnings of a condition."""
HANDLED: Final = words_of(
    "wrap wrapped pack packed fold folded bend bent keep label labelled mark marked box boxed bag bagged charge "
    "charged invoice invoiced bill billed shipped delivered posted collect collects collected fetch fetches ring "
    "rings call "
    "verpacken verpackt einpacken leave put padded stack stacked"
)
"""Verbs of handling a parcel or its bill."""
NOT_HANDLED: Final = words_of("back already out off away aside ice of")
"""Words that turn such a verb on the contents of the parcel."""
HANDLING: Final = words_of(
    "please pls bitte gut and but to be not don't dont do just kindly best no all can could you separately well"
)
"""What may stand before that."""
OF_PARCELS: Final = words_of(
    "invoice bill box bag boxes paper plastic foam note receipt call pallet pallets packaging packing delivery "
    "signature prices teillieferung rechnung"
)
_NO_PURPOSE = (
    r"(?:be|confirm|decide|follow|return|check|test|try|compare|discuss|quote|see|wait|come(?!\s+(?:with|by|on|in))|"
    r"replace\s+(?:it|them|these|those|this|that)|go\s+back|send|hold\s+(?:until|till)|"
    r"you|us|me|him|her|the|our|my)\b"
)
_TELLING = (
    r"recommended|advised|advertised|discussed|agreed|promised|described|shown|listed|pictured|seen|usual|always|ever"
)
PURPOSE: Final = _one_of(
    (
        rf"(?:(?:in\s+order|so\s+as)\s+)?to\s+(?!{_NO_PURPOSE})[a-z]+",
        rf"as\s+(?:{_TELLING})\b",
    ),
    begins=r"^\W*",
)
"""Forms of a purpose or a manner."""
GOES_ON: Final = re.compile(
    r"^\W*(?!cancel|delet|remov|reject|not|void|struck|drop|need|order|want|return|refund|reduc|doubl|tripl|halv)"
    r"[a-z]+ed\b"
)
"""The continuation of a clause with more about the thing before it: "for the old car, registered 2009"."""
_PARCEL = r"(?:(?:separate|single|strong)\s+)?(?:bag|box|parcel|carton|packet|delivery|shipment)"
_TO = r"(?:in|on|to|into|onto|under|at)"
_IS_FOR = (
    r"(?:'s|'re|\s+is|\s+are)\s+(?:all\s+)?for\s+(?:the|my|our|his|her|their)\s+(?!price|second|other|same|moment|test)"
)
_NOBODY = r"(?!(?:other|second|last|next|price|time|moment|test|trial|same|third)\b)"
_NO_THING = r"(?!price|time|moment|test|trial|others?|same|rest|best|record|lot|return\b|now|sake|whole)"
PLACE: Final = _one_of(
    (
        rf"(?:this|that|these|those|it|all|they){_IS_FOR}[a-z]+\b(?!.*\b(?:each|per|only|if)\b).*",
        rf"(?:(?:it|they|these|this|that|and)\s+)?(?:goes|go|belongs?)\s+{_TO}\b(?!.*\bback\b).*",
        rf"(?:please\s+)?(?:all\s+)?in\s+(?:a|an|one|the\s+same)\s+{_PARCEL}\W*(?:please|pls)?\W*$",
        rf"for\s+(?:the|my|our|his|her|their|an?)\s+(?:{_NOBODY}[a-z]+\s+){{0,2}}{_NO_THING}[a-z]+(?:\s+side|\s+line)?\W*$",
    ),
    begins=r"^\W*",
)
"""Forms of a place or a use."""
LABEL: Final = re.compile(r"^[\s*\-]*(?P<told>[^\W\d]+(?:\s+[^\W\d]+){0,2})\s*:\s")
"""A label before the parts of a row, with the person or the thing they are for: "Trailer: 2 x ..."."""
NO_LABELS: Final = words.HEADS | words.LABELS | words.SETS | words.OTHER_NUMBERS | words.NO_PARTS | {"pair", "dozen"}
_OPENING = r"and|but|so|ok|okay|oh|well|please|it's|its|is|there\s+is|there's|absolutely|yes|sorry|great|perfect"
_NO_WORRY = (
    r"(?:rush|hurry|urgency|problem|worries|stress|thanks|thank\s+you|thx|need\s+(?:to|for)|idea|reply|answer|doubt|"
    r"pressure)"
)
_THAT_IS = r"that(?:'s|s|\s+is|\s+will\s+be|\s+would\s+be)"
_GLAD = r"(?:glad|grateful|happy|great|appreciate\w*|nice|lovely|super|brilliant|perfect|fine)"
COURTESY: Final = _one_of(
    (
        r"can't\s+wait\b(?!\s+(?:for|until|till)).*",
        rf"no\s+{_NO_WORRY}\b.*",
        r"(?:(?:i|we)\s+)?(?:still\s+)?have\s+no\s+idea\b.*",
        r"it\s+(?:will|won't)\s+(?:not\s+)?happen\s+again\b.*",
        r"(?:(?:it|this|that)\s+is\s+)?not\s+(?:(?:very|that|so|too)\s+)?urgent\b.*",
        rf"(?:no\W+)?{_THAT_IS}\s+(?:all|it|everything)\b(?!\s+(?:\w+ed|gone))\W*(?:\w+\W*){{0,3}}",
        r"no\W+please\b\W*(?:\w+\W*){0,2}",
        r"nothing\s+(?:else|more|further)\b.*",
        r"(?:nothing|none)\s+left\b.*",
        r"(?:until|till|bis)\s+(?:then|soon|next\s+time|later|bald|dann)\b.*",
        r"(?:all|everything)\s+(?:the\s+best|well|good|fine|ok|okay|right)\W*",
        r"thanks?\b.*\bfor\b.*",
        r"(?:i|we)\s+(?:do\s+not|don't|dont)\s+mind\b.*",
        r"(?:it|that)\s+(?:does\s+not|doesn't)\s+matter\b.*",
        r"(?:sorry|apologies)\s+(?:for|about|to|that)\b.*",
        r"see\s+you\b.*",
        r"(?:(?:i|we)\s+)?hope\b.*",
        r"(?:(?:i|we)\s+)?(?:(?:am|are)\s+)?look(?:ing)?\s+forward\b.*",
        r"(?:you(?:'ve|\s+have)?\s+)?(?:got|received|have|placed)\s+an?\s+new\s+order\b.*",
        r"as\s+per\s+(?:your|our|the)\b.*",
        r".*\b(?:un)?tick(?:ed|s)?\b.*",
        r"can\s+you\s+believe\s+(?:it|that)\W*",
        r"what\s+an?\s+(?:\w+\s+)?(?:day|week|summer|winter|mess|shame|pity|surprise|relief|time|year)\b.*",
        rf"if\s+you\s+(?:could|can|would)\b.*\b{_GLAD}\b.*",
        r"if\s+(?:possible|poss|you\s+can|you\s+could|you\s+like|you\s+please|i\s+may)\W*",
    ),
    whole=True,
    begins=rf"^\W*(?:(?:{_OPENING})\W+)*",
)
"""What is said out of politeness, whatever words it has."""
BIDDING: Final = re.compile(
    r"^\W*(?:(?:please|pls|just|and|but|so|then|also|kindly|don't|dont|do\s+not|never)\s+)*(?P<verb>[a-z]+)\s+"
    r"(?:(?:me|us|up|to|at|out|off|on|in)\s+)*(?:the|my|our|your|his|her|their|a|an|any)\s+"
    r"(?P<thing>(?:[a-z]+\s+)?[a-z]+)\b"
)
"""Bids somebody do something to a thing."""
POINTING: Final = re.compile(r"\b(?:these|those|them|everything|anything|nothing|all\s+of|both|this|that|it)\b")
AWAITED: Final = words_of("call boss customer client go word")
"""What an order waits for."""
WISHING: Final = words_of(
    "want wants need needs prefer prefers like likes love wish doubt require requires order orders"
)
AGREEING: Final = FINITE | words_of(
    "already approved agreed signed insists insisted waits waiting collects pays paid happy comes in on for it them "
    "tomorrow today monday tuesday wednesday thursday friday saturday back fitting soon here"
)
"""Acts of somebody else that leave an order as it stands."""
ORDERING: Final = re.compile(
    rf"\d|\b(?:a|an|the|dozen|pair|{'|'.join(words.NUMBERS)}|{'|'.join(sorted(words.ORDERING))})\b"
)
"""A quantity, or a word by which a row orders."""
