"""What the words beside a list mean for its rows, by class: what denies, reports, suspends, sets a condition, shares
out or asks. Whatever is of no class leaves the rows as they are."""

import re
from collections.abc import Callable, Sequence
from itertools import pairwise

from service.reading import courtesies, words
from service.reading.amounts import Piece
from service.reading.common import is_english
from service.reading.words import words_of

TAKE_OFF = "do these rows take something off?"
REPORTS = "do these rows tell of something and order nothing?"
BOUGHT = "are these bought?"
SHARED = "for how many are these?"
HELD = "are these rows to wait, or on a condition?"
ASKS = "are these rows an order or a question?"
HOW_MANY_EACH = "how many of each are meant?"

_WEAK = words.SPOILT | words_of(
    "instead rather lost missing sorry error mistake typo yesterday earlier last exchange replacement"
)
"""What takes nothing off, and tells of nothing, where a heading orders."""
_BEING = words_of("is are am be was do does have has attached mentioned again")
_SHARING = words_of("per each every je pro par")
_WAYS = words_of(
    "of your our the post mail email courier express carrier phone telephone fax favore favor cortesia time"
)
"""What "per" and "each" stand before that is no unit."""
_PAPERS_AND_TIMES = words_of("paper papers document page day morning week month year time delivery parcel box invoice")
_FRENCH = ("voud", "souh", "command", "pren", "veu", "cherch", "desir", "aimer", "vous", "me", "suis", "serai")
"""What follows a French "je"."""
_A_UNIT = r"(?:cars?|vans?|vehicles?|engines?|sides?|banks?|builds?|rails?|sets?|kits?|packs?|box|customers?)"
_FETCHING = words_of("pick picked picking pickup collect collects collected collecting abholen abholung abgeholt holt")
"""How what is bought comes to the buyer."""
_WORDS = (
    (
        TAKE_OFF,
        (words.DENIALS - {"sorry", "oops"})
        | words.CALLED_OFF
        | words_of(
            "struck wrongly incorrectly deleted withdrawn rejected declined refused unwanted needless leave annulled "
            "gutschrift gutschreiben "
            "revoked obsolete redundant invalid duplicates nix bother ignorieren abgelehnt zuruckgewiesen"
        ),
    ),
    (
        REPORTS,
        (words.REPORTS - _BEING)
        | words_of(
            "sold stolen used spent consumed claim claims kept taken found brought geliefert schon rucksendung "
            "inventory contents shipment shipments gave took since transit underway"
        ),
    ),
    (
        SHARED,
        words_of(
            "double doubled triple tripled twice thrice half halved halve times multiply multiplied doppelt pairs "
            "dozens hundreds thousands mal recipe"
        ),
    ),
    (
        HELD,
        words_of(
            "hold holding held wait waiting later yet postponed postpone parked paused pause deferred suspended "
            "suspend undecided open pending conditional conditionally if unless provided providing assuming supposing "
            "subject depending depends except approval perhaps someday eventually reserve backlog phase frozen shelved "
            "tentative provisional preliminary abeyance preorder warten vorlaufig abruf offen zuruckgestellt spater "
            "falls sofern wenn vorbehaltlich otherwise proviso condition whatever whichever cheaper"
        ),
    ),
    (BOUGHT, words.NO_SALES - {"decided"} - _FETCHING),
    (
        ASKS,
        words_of(
            "might may think guess case confirm know thinking considering wishlist wish enquiry inquiry contains "
            "contained competitor competitor's rid availability available price prices pricing cost quote quotation "
            "maybe possibly optional optionally optionen option options alternative alternatives alternatively either "
            "unsure vielleicht eventuell anfrage info information fyi draft example examples sample samples budget "
            "estimate offer offers asking wondering suggested suggestion suggestions recommended proposal proposed "
            "angebot comparison compare discuss template sell selling question questions idea ideas rfq proforma "
            "extract advise lead similar check tell explain recommendation recommendations preisanfrage devis clarify "
            "unavailable discussion testing klarung equivalent equivalents unverbindlich"
        ),
    ),
)
MEANT = frozenset().union(*(known for _, known in _WORDS))
"""All words of the classes."""
_FORMS = tuple(
    (says, re.compile("|".join(forms)))
    for says, forms in (
        (
            TAKE_OFF,
            (
                r"\b(?:left|cross(?:ed)?|leave)\s+(?:\w+\s+){0,2}?(?:over|out|off)\b",
                r"\bchanged?\s+(?:\w+\s+)?mind\b|\btoo\s+many\b|\bno\s+longer\b|\bany\s*more$|\bcan\s+go\b(?!\s+out\b)|\baway\s+with\b",
                r"\b(?:send|sending|take|taking|bring|bringing|give|giving)\s+(?:\w+\s+){0,2}back\b",
            ),
        ),
        (
            REPORTS,
            (
                r"\bon\s+(?:back\s*)?order\b|\bstill\s+(?:in|at|on|here|there|with)\b|^\W*was\s",
                r"^\W*from\s+(?:my|our|the|your)\s+(?!(?:following|new)\b)\w+\s+order\b|\b(?:already|on)\s+(?:here|(?:the|our|my)\s+shel\w+)",
                r"\bwhat(?:'s|\s+is|\s+was)\s+(?:still\s+)?left\b|\bcounted\b|\bcount\s+(?:at|on|of|from|as)\b|\b(?:shelf|bin|rack)\s+[a-hj-z]\b",
                r"\b(?:have|got|had)\s+(?:\w+\s+)?(?:these|those|them|this|here)\b(?!\s+\w+\s+(?:order|list))",
                r"\b(?:delivery|packing|despatch|dispatch)\s+(?:notes?|list|slip)\b(?!\s+(?:in|inside|into|with|to|must|should|please|by|needs?)\b)|\blieferschein\b",
                r"\b(?:in|on|from|our|your|current|remaining)\s+(?:\w+\s+)?stock\b|\bstock\s+(?:list|level|count)",
                r"\bparts?\s+in\s+the\b|\b(?:plenty|enough)\s+of\s+(?:these|those|them)\b|^\W*(?:on\s+the|in\s+(?:our|my|his|her|their))\b|^\W*vom\s+lager\b|\bold\s+stock\b|\bhas\s+(?:these|those|them|this|it)\b",
            ),
        ),
        (
            HELD,
            (
                r"\b(?:in\s+case|in\s+the\s+event|as\s+long\s+as|(?:that|best|worst)\s+case|with\s+luck|other\s+time|in\s+mind|next\s+(?:time|order|month|season|spring|summer|autumn|winter)|on\s+ice|not\s+(?:now|yet|before)|next\s+year|further\s+notice|or\s+else|pre-order|stand\s+by)\b",
                r"\bin\s+(?:the\s+)?(?:new\s+year|spring|summer|autumn|winter)\b|^\W*after\s|\bas\s+(?:needed|required)\b|\bwhere\s+possible\b|\bbei\s+bedarf\b",
                r"\b(?:i|we|he|she|they|customer)(?:'ll|\s+will|\s+shall)?\s+(?:then\s+)?confirm\b",
                r"\bkeep\s+(?:for|them|these|it|this)\b|\bonly\s+(?:when|with|together|for\s+the|once|after|at)\b",
                r"^\W*(?:once|should|when|until)\s|\bas\s+soon\s+as\s+(?!possible|you\b)",
                r"\b(?:ship|send|deliver)\w*\s+(?:only\s+)?(?:when|once|after|if)\b",
                r"\b(?:if|with|what|which|better|more|some|bigger|higher|get|give|any|a|for)\s+(?:\w+\s+)?discounts?\b|\bdiscounts?\b.*\?",
                r"\bto\s+be\s+(?:confirmed|decided|discussed|checked|agreed|advised|announced)",
            ),
        ),
        (
            SHARED,
            (
                r"\b(?:in|of|for)\s+(?:(?:the|a|an|one|1|each|every|our|this)\s+)(?:kit|set)\b",
                r"\b(?:kit|set|box|pack)\b[^.;:]*\bconsists?\s+of\b",
                r"\b(?:kit|set|box|pack)\s+(?:is|has|includes?|contain\w*|consists?|holds?)\b|\bboth\b.*\beach\b|^\W*each\W*$",
                rf"\b(?:quantit\w+|amounts?|numbers?)\s+(?:are\s+)?for\s+(?:one|1|a)\b|\bone\s+of\s+the\s+{_A_UNIT}\b",
                rf"\b(?:a|an|one)\s+{_A_UNIT}\s+(?:needs?|takes?|gets?|has|wants|requires)\b(?!\s+(?:his|her|their|it|me|us)\b)|\bsame\s+(?:\w+\s+)?again\b",
                rf"\bfor\s+(?:one|1|a\s+single)\s+{_A_UNIT}\b.*\b(?:we|i|but|build|are)\b",
                r"\b(?:everything|all)\W+x\s*\d|^\W*x\s*\d+\W*$|\d\s*x\s+(?:everything|all)\b|\beverything\s+(?:below|above)\b.*\d",
                r"\b(?:two|three|four|five|\d)\s+(?:of\s+(?:everything|all|it)\b|sets?\s+of)",
                rf"\b(?:both|all\s+\w+)\s+{_A_UNIT}\s+(?:gets?|needs?|takes?|has|have|want)\b|\ba\s+single\s+{_A_UNIT}\b",
                r"\bsame\s+(?:list|order|parts|things)\s+for\s+the\b|\beach\s+of\s+(?:the|you|us|them|our|these)\b|\beverybody\s+gets\b|\bapiece\b",
                rf"\b(?:all|everything)\s+for\s+(?:two|three|four|five|\d+)\s+{_A_UNIT}\b",
                r"\b(?:same|likewise|ditto|again)\s+(?:for\s+)?the\s+(?:others?|second|next|van|car|same)\b|\bagain\s+for\b",
            ),
        ),
        (
            ASKS,
            (
                r"\b(?:not\s+an|no)\s+order\b|\bwhat\s+\w+\s+(?:others?|people)\b|\bzur\s+info|\b(?:only|just)\s+ask\w*|\bdelivery\s+time\b|\bcould\s+(?:also\s+)?be\b",
            ),
        ),
    )
)
_PAPERS = r"(?:quot(?:e|ation)|offer|price\s?list|angebot|proposal)"
_ITS = r"(?:your|the|our)\s+"
_SOMEHOW = (
    r"(?:not\s+(?:by|with|at|in|on|to|from|via|before|after|later|earlier)"
    r"|nicht\s+(?:an|ans|am|zu|zum|zur|per|mit|bei))"
)
_MEANT = r"(?:these|those|them|this|it\b|spring|summer|autumn|winter|easter|christmas|approval)"
_NOT_TOLD = "".join(f"(?<!{word} )" for word in ("was", "were", "been", "you", "had", "have"))
_IDLE = tuple(
    re.compile(form)
    for form in (
        r"\b(?:ignore|disregard|forget)\s+(?:my|our|the)\s+(?:\w+\s+)?(?:e-?mail|mail|message|call|letter|order|list)\b(?=[^:]*\bthis\s+(?:is|here|one|list|order)\b)[^,:]*",
        r"\b(?:do\s+not|don't|dont|not)\s+split\b[^,.;:]*|\bno\s+(?:substitut\w+|hurry)\b|\b(?:two|three|\d)\s+(?:boxes|parcels|packets|packages)\s+please\b",
        rf"{_NOT_TOLD}\b(?:shipped|sent|delivered|posted|billed|invoiced)\s+to\s+(?:me|us|my|our|the|him|her|them|mr|mrs)\b[^,.;:]*",
        r"\b(?:do\s+not|don't|dont|never)\s+forget\s+(?:the|my|our|your)\b[^,.;:]*",
        r"\b(?:taken|noted|typed|read|written|passed)\s+(?:(?:down|out|up|on|over)\s+)?(?:by|for)\b|\b(?:notee?|prise?|passee?|dictee?|ecrite?|envoyee?)\s+par\b",
        r"\bif\s+(?:anything|something)\s+is\s+(?:unclear|missing|not\s+clear)\b|\bif\s+(?:you\s+have|there\s+are)\s+(?:any\s+)?(?:questions?|queries)\b",
        r"\badd\s+(?:\w+\s+){0,2}(?:to|for|with)\s+(?:our|my|the)\s+next\s+order\b|\b(?:(?:quote|quotation|price)\s+)?(?:request|enquiry|inquiry|quote|quotation|offer)?\s*turned\s+(?:into\s+)?(?:an?\s+)?order\b|\btop[\s-]?up\W+(?:for\s+)?(?:shelf|bin|rack)\s+\w\b",
        r"\b(?:got|have|had)\s+an?\s+(?:\w+\s+)?(?:customer|client|guy|lady|chap|fellow|bloke)\b|\brepeat\s+(?:of|from)\s+(?:the\s+)?last\s+\w+(?:\s+\w+)?",
        r"\b(?:could|can|did)\s*(?:not|n't)\s+(?:log\s*in|open|use|reach|get\s+(?:in|into|through))\b[^,.;:]*",
        r"\b(?:packing|delivery)\s+(?:list|slip|note)\s+(?:please|(?:in|inside|into|with|to)\s+(?:the|each|every)\s+\w+)|^\W*(?:nope|nah)\s+please\b",
        r"\b(?:whatever|whichever)\s+(?:one\s+)?(?:you\s+(?:have|got)|is\s+(?:there|cheaper|in\s+stock))\b(?!\s+of\b)|\bprices?\s+as\s+(?:agreed|discussed|quoted|offered)\b[^.;:]*",
        r"\b(?:rang|phoned|called)\s+(?:in|again|just|now|at|on|from)\b[^,.;:]*|\b(?:to|for|on)\s+(?:the|our|my)\s+open\s+order\b",
        r"\bleave\s+(?:these|those|them|all|the\s+(?:rest|others?))\s+as\s+(?:they|it|is)\b|\bgoe?s?\s+out\s+(?:today|tomorrow|on|by|this|next|with)\b",
        r"\breplac(?:es|ing)\s+(?:our|my|the)\s+(?:\w+\s+)?(?:order|list|e-?mail|mail|message)\b",
        r"\bwe(?:'ve|\s+have)?\s+moved\b|\bnew\s+address\b|\breason\s*:.*",
        r"\bprices?\s+(?:(?:is|are|was|were|looks?|seems?)\s+)?(?:ok|okay|fine|good|agreed|accepted|noted|fair|right)\b",
        r"\bon\s+the\s+(?:answering\s+)?(?:machine|phone|telephone|line|mailbox|voicemail)\b|\border\s+confirmation\s+(?:please|by|to|asap)\b",
        r"\bpack(?:ing|ed|aging)?\s+as\s+(?:last\s+time|usual|always|before)\b",
        r"\bprices?\s+(?:as\s+)?(?:per|from|of)\s+(?:your|the)\s+(?:\w+\s+){0,2}(?:list|catalog(?:ue)?)\b",
        rf"\b(?:from|of|per|to|under|against|by|on|with|in|for|accept\w*|tak(?:e|ing))\s+{_ITS}(?:\w+\s+)?{_PAPERS}",
        r"\b(?:as\s+)?per\s+(?:your|our|the)\s+\w+|\bas\s+per\s+\w+|\bonce\s+(?:more|again)\b(?!\s+(?:for|to))",
        r"\bto\s+be\s+(?:picked|collected|delivered|shipped|sent|dispatched|despatched|invoiced|billed|fitted)\b",
        r"\b(?:not|nicht)\b[^,.;:]*\b(?:but|sondern)\b",
        r"\b(?:without|ohne)\s+(?!these|this|those|them|it|the|following|any|our|your)[a-z]+",
        r"\breturn\s+(?:system|lines?|type|feed|flow|hoses?|pipes?|version|layout)\b|\breplacement\s+parts\b",
        r"\bwhat\b[^,.;:]*\bmissing\b|\bback\s+(?:entrance|door|gate|yard|office|room)\b|\btest\s+(?:bench|stand|rig)\b",
        r"\bas\s+(?:quoted|offered|agreed|discussed|listed|described)\b|\bstock\s+order\b",
        r"\bnot\s+(?:send|ship|deliver)\s+(?:it|them|this|these|the\s+\w+)?\s*(?:before|until|till)\s+(?:the\s+)?(?:\d|\w+day|noon|next\s+week|week)",
        r"\blast\s+order\s+(?:before|of\s+the\s+year|this\s+year)\b",
        r"^\W*(?:(?:here|this)\s+is\s+)?(?:(?:our|my|the)\s+)?next\s+order\b(?=\W*(?:$|:|for\b|,))",
        r"\bhalf\s+an?\s+(?!dozen)[a-z]+(?:\s+of\s+[a-z]+)?",
        r"\b(?:cars?|vans?|trucks?|boats?|drivers?|we|i|they)\s+leaves?\s+(?:on|at|for|by|next|to)\b[^.;]*",
        r"\bnothing\s+before\b|\bopen\s+(?:from\s+)?\d|\blast\s+time\b",
        r"\bquote\s+(?:our|the|my|this|po)\s+(?:ref|reference|number|order|no|po)\b|\bconfirm\s+receipt\b|\bbad\s+back\b",
        r"\b(?:have|get|want|need|like)\s+(?:\w+\s+){0,4}(?:sent|shipped|delivered|posted)\s+(?:to|by|on|in|with|today|tomorrow|here|out)\b",
        r"\b(?:paid|pay)\s+(?:by|with|via|in)\s+(?:card|transfer|cash|cheque|check|invoice|advance|bank|full)\b[^.;]*",
        r"\b(?:first|second|2nd|1st|other)\s+half\b",
        rf"\b{_SOMEHOW}\s+(?!{_MEANT})(?:(?:the|my|our|a|die|den|das)\s+)?[a-z]+",
        r"\bnew\s+order\b[^.;]*|\bpaid\s+on\b[^.;]*|\b(?:new|my|our|phone|mobile|tel|fax|account|house|customer|supplier|vendor|creditor|job|project|contract|tax|vat|order|ref|reference)\s+no\b",
        r"\bif\s+(?:that|it|this)\s+(?:suits|works|fits|is\s+(?:ok|okay|fine|possible|convenient))\b[^.;]*",
        r"\bquote\s+(?:it\s+|this\s+)?on\b|\bquote\s+(?:order|po|reference|ref)\b|\bas\s+(?:before|last\s+year)\b|\ba\s+replacement\b",
        r"\b(?:laut|gemass|lt\.?|zu|zum|wie\s+im)\s+(?:ihrem\s+)?angebot\b",
        r"\bex\s+works\b|\b(?:for|in|of|by)\s+may\b|\bopen\s+(?:until|till|from|at|on)\b|\b(?:with|mit|avec|con)\s+(?:the\s+)?return\b",
        r"\bdecided\s+(?:on|for)\b|\bkommission\b(?=\s*[:#]|\s+\w)|\b(?:right|left)[\s-]hand\b|\bno\.?\s*(?=\d)|\bno\.(?!\s*[.,;:]*$)",
        r"\b(?:don't|dont|do\s+not|never)\s+forget\b|(?<=\w\s)as\s+(?:the\s+)?last\s+time\b",
        rf"\b(?:your|our|the)\s+{_PAPERS}\b(?=[^?]*\b(?:accept\w*|follows)\b)",
        r"\b(?:obliged|grateful|glad|pleased|happy|kind|nice|good|great|appreciate(?:\s+it)?)\s+if\s+(?:you|we|i)\b",
        r"\botherwise\s+(?:\w+\s+){0,2}(?:nothing|all|everything|fine|well|good|ok)\b|\bdo\s*n[o']?t\s+ask\b",
        r"\bout\s+of\s+(?:order|office|town|service)\b|\bnot\s+an?\s+\w+\s+(?:day|week|month|year|time)\b",
        r"\bsee\s+you\b[^,.;:]*|\bnothing\s+(?:new|else|broken|special|wrong|bad|serious)\b",
        r"\bnot\s+by\s+\w+|\bnot\s+to\s+(?:me|us|(?:the|my|our)\s+\w+)|\bpartial\s+deliver\w+[^,.;:]*",
        r"\b(?:sorry|apologies)\s+(?:for|about)\b[^,.;:]*|\b(?:i|we)(?:\s+am|\s+are|'m|'re)\s+not\s+(?:in|at|here|there|around|back|available)\b",
        r"^\W*(?:subject|betreff|re|fwd?)\s*:|\b(?:please|kindly|pls)\s+confirm(?:\s+(?:by|via|per)\s+[\w\-]+)?\W*$|\badd\b[^.;:]*\bopen\s+order\b",
        r"[^.;:]*\b(?:payment|pay|paid|discount|skonto|terms)\b[^.;:]*\d\s*%[^.;:]*",
        r"[^.;:]*\d\s*%[^.;:]*\b(?:payment|pay|discount|skonto|terms|days)\b[^.;:]*",
        rf"\bno\s+(?:returns?|{'|'.join(sorted(words.SETS))})\b",
        r"\([^()]*\bsee\s+(?:below|above)\b[^()]*\)|\bsee\s+also\b[^.;:]*",
        r"\b(?:doesn't|does\s+not|don't|do\s+not)\s+have\s+to\s+be\b[^.;:]*|\blast\s+one\s+for\b|\bno\s+back-?orders?\b",
        r"\bsubject\s+to\s+(?:our|your|the)\s+(?:\w+\s+){0,2}(?:terms|conditions)\b[^.;:]*|\b(?:above|below|under|afore)[\s-]?mentioned\b",
        r"\b(?:got|received|have|read|saw)\s+(?:your|the)\s+(?:voice\s?mail|message|mail|e-?mail|letter|note|call|fax|text|card|catalog(?:ue)?|price\s?list|brochure|flyer|newsletter)\b",
        r"\b(?:don't|dont|do\s+not)\s+know\s+(?:any\s?)?more\b|\b(?:usual|agreed|normal)\s+discount\b|\barrange\s+(?:the\s+)?(?:shipment|dispatch|despatch)\b",
        r"\bper\s+(?:spedition|post|kurier|courier|carrier|e-?mail|mail|fax|express|truck)\b|\bconfirmed\b,?\s+will\s+be\s+done\b[^.;]*",
        r"\bwhatever\s+(?:you|he|she|they)\s+(?:answer|say|think)s?\b|\ball\s+from\s+stock\b|\bto\s+be\s+[a-z]+\s+and\s+(?:sent|shipped|delivered|posted)\b",
        r"\bworks\s+order\b|^\W*order\s+for\b[^.;:]*|^\W*in\s+(?:their|its)\s+(?:place|stead)\b",
        r"\border\s+taken\b[^.;:]*|\bopen\s+(?:daily|every\s+day|all\s+\w+|(?:mon|tue|wed|thu|fri|sat|sun)\w*|again)\b[^.;]*",
        r"\b(?:i|we)\s+(?:hereby\s+|herewith\s+|gladly\s+)?confirm\b(?!\s+(?:receipt|receiving|arrival))(?=[^.;?]*\b(?:agreed|discussed|order|following|below|phone|telephone)\b)",
        r"\b(?:i|we)\s+hope\W*$|\bwhatever\s+(?:it|that|they)(?:'s|\s+is|'re|\s+are)?\s+called\b",
        r"\b(?:typing|writing|typed|written)\s+(?:this\s+)?(?:with|on|from)\b[^.;:]*|\b(?:as\s+)?(?:i|we)\s+promised\b[^,.;:]*",
        r"\bnothing\s+lost\b|\bone\s+per\s+(?:order|parcel|address|delivery|shop|branch)\b|\b(?:since|because)\s+(?:the|our|my)\s+[^,.;:]*",
        r"^\W*(?:and\s+)?(?:to|for)\s+(?:replac|repair)\w*\s+(?:the|my|our|an?|his|her|their|all|old|worn|broken)\b[^,:]*",
    )
)
"""What sounds like one of the classes and tells of something else: a paper that an order goes by, what is done with
what was ordered, what is denied to affirm another, the return of fuel, what the parts are for."""
_RELATIVE = re.compile(
    r"\W*(?:and\s+)?(?:(?:parts|these|this|all|everything)\s+)?(?:to\s+(?:go\s+with|fit|match|suit)|for)\s+"
    r"(?:the|my|our|his|her|their|that)\s+[^,.;:\d]*?\s(?:that\s+|which\s+)?(?:i|we|you|he|she|they|came|arrived)\b[^,.;:]*"
)
"""For what the parts are, told by what was done with that."""
_NOT_RELATIVE = re.compile(
    r"\b(?:already|not|no|back|don't|return\w*|need|want|order|take|require|sets?|each|per|twice|double)\b"
)
_ASKED_FOR = words_of("wanted needed required")
_PERSONS = re.compile(r"\b(?:i|we|you|he|she|they)\b")
_ORDERS = re.compile(
    r"\b(?:my|our|your|his|the|an|last|previous|on|old|first|back)\s+orders?\b|\border\s+(?:of|from)\b|'s\s+orders?\b"
)
_SPOKEN = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_SUBJECT = re.compile(
    r"\b(?:we|i|they|he|she|customer|client|boss)\s+(?:(?:also|just|now|only|then|both|all|[a-z]+ly)\s+)*([a-z]+)\b"
)
_IN_ORDERS = (
    words.ORDERING
    | courtesies.HARMLESS
    | words_of(
        "is are am was have has had do does did will would shall should can could may might must hope thank thanks "
        "attach enclose list talked spoke said wrote writes typed "
        "compiled gave gives put drew made makes noted jotted dictated "
        "discussed agreed call write choose chose pick select ask wish "
        "prefer love accept start build run race restore rebuild service like buy trust look looking and or here in at"
    )
)
"""What who orders may be said to do."""
_PARTICIPLES = words_of(
    "needed required wanted requested shopping attached enclosed listed discussed agreed mentioned promised limited "
    "dated detailed desired combined mixed assorted named called asked decided settled opted based numbered sorted "
    "updated revised related specified selected dictated noted pasted "
    "copied forwarded exported placed created issued printed typed "
    "scanned signed authorised speed feed indeed following ordering building restocking adding regarding concerning "
    "according morning evening during racing tuning fitting servicing spring string looking going starting continuing"
)
"""What ends as participles do and tells of nothing that was done."""
_LEAST_STEM = 5
_NUMBERED = words.NUMBERED_PLACES | words_of("no nr number chassis")


def meaning(pieces: Sequence[Piece], knows: Callable[[str], bool] | None = None) -> str:
    """What the class of these words asks of the rows that they are said of, nothing where they are of none.

    `knows`: whether a word is one of the catalog; without it nothing is told by what somebody does, or was done.
    """
    plain = "".join(" " if piece.kind in ("nothing", "money", "day") else piece.text for piece in pieces)
    is_bidding = words.any_of(_SPOKEN.findall(_ORDERS.sub("", plain)), words.ORDERING | _ASKED_FOR)
    if not _NOT_RELATIVE.search(plain) and len(_PERSONS.findall(plain)) <= 1:
        plain = _RELATIVE.sub("", plain, count=1) if _RELATIVE.match(plain) else plain
    plain = without_idle_forms(plain)
    written = [*words.without_idle(_SPOKEN.findall(plain))]
    told = [
        piece.value
        for at, piece in enumerate(pieces)
        if (piece.is_quantity or piece.kind == "odd") and _before(pieces, at) not in _NUMBERED
    ]
    found = next((says for says, form in _FORMS if form.search(plain)), "")
    weak = _WEAK if is_bidding else frozenset[str]()
    found = found or next((says for says, known in _WORDS if words.any_of(written, known - weak)), "")
    if found:
        return found
    if _shares(written, told):
        return SHARED
    if knows is not None and not is_bidding and _tells(plain, written, knows):
        return REPORTS
    is_number = told not in ([], [1]) or words.any_of(written, words.OTHER_NUMBERS)
    return HOW_MANY_EACH if is_number else ""


def _before(pieces: Sequence[Piece], place: int) -> str:
    """What stands before a place, over spaces and full stops."""
    return next((piece.text for piece in pieces[:place][::-1] if not piece.text.isspace() and piece.text != "."), "")


def without_idle_forms(plain: str) -> str:
    """A text without what only sounds like one of the classes."""
    for idle in _IDLE:
        plain = idle.sub("", plain)
    return plain


def _shares(written: Sequence[str], told: Sequence[int]) -> bool:
    """Whether words tell of so many for one of several, or of several sets."""
    is_shared = any(
        one in _SHARING
        and other not in _WAYS
        and not (one == "je" and other.startswith(_FRENCH))
        and not (one in ("every", "each") and other in _PAPERS_AND_TIMES)
        for one, other in pairwise(written)
    )
    is_several = told not in ([], [1]) and words.any_of(written, words.SETS)
    is_several = is_several or ("each" in written and told != [1])
    return is_shared or is_several


def _tells(plain: str, written: Sequence[str], knows: Callable[[str], bool]) -> bool:
    """Whether words tell what somebody does who orders nothing, or what was done, by a participle."""
    does = any(found not in _IN_ORDERS and is_english(found) for found in _SUBJECT.findall(plain))
    done = [
        word
        for place, word in enumerate(written)
        if word.endswith("ed" if place else ("ed", "ing")) and "thing" not in word
    ]
    return does or any(
        len(word) > _LEAST_STEM
        and word not in _PARTICIPLES
        and word not in courtesies.USUAL
        and word not in words.DESCRIBING | words.NO_PARTS
        and not knows(word)
        for word in done
    )
