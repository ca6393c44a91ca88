"""What people write around an order that tells nothing of its parts: quotes, bullets, set phrases, heads of chats."""

import re

from service.reading import courtesies, words
from service.reading.amounts import ADDRESS

_ARROW = re.compile(r"^[ >]*(?:[-=]+> *)?")
_ADDRESS = re.compile(r"\S+@\S+\.\S+|(?:https?://|www\.)\S+")
_DATE = r"\d{1,4}[./-]\d\d?[./-]\d{2,4}"
_TIME = r"\d\d?:\d\d(?::\d\d)?(?:\s*[ap]m)?"
_CHAT = re.compile(
    rf"^\W*(?:(?:(?:mon|tue|wed|thu|fri|sat|sun)\w*,?\s+)?(?:{_DATE},?\s+)?{_TIME}(?:,?\s+{_DATE})?\W{{1,4}}(?:[^\W\d]+\s){{0,2}}[^\W\d]+"
    rf"|[^\W\d]+(?:\s[^\W\d]+)?,?\s+[(\[]?{_TIME}[)\]]?):\s"
)
"""Who said something in a chat, and when."""
_TO_ONE = re.compile(r"^\s*@[^\W\d]\w*\W*\s")
_ASIDE = re.compile(
    r"^\W*(?:(?:p\.\s?s\.|n\.\s?b\.)\s*[:,\-]?|(?:ps|nb)\s*:)\s*"
    r"|^\W*(?:first|second|third|final)(?:ly)?(?:\s+(?:up|off|of\s+all))?\s*[,:]\s*"
    r"|^\W*(?:first\s+of\s+all|(?:just\s+)?(?:a\s+)?quick\s+one)\b"
    r"|^\W*(?:right|well|okay?|yes|now|oh|great|super|perfect|good|cool|fine|ah|hmm|hm|k)(?:\s+(?:then|so))?\s*[,.!]+\s*(?=\S)"
    r"|^\W*(?:just\s+|only\s+)?(?:one|two|three)\s+(?:more\s+|other\s+|last\s+)?things?\b[^:,.]{0,30}[:,.]\s*(?:first(?:ly)?\s*[:,]\s*)?(?=\S)"
    r"|^\W*oh\s+and\s+|^\W*but\s+(?=(?:please\s+)?(?:add|send|put|i\s+need|we\s+need|\d+\s?x)\b)|^\W*anyway\s*,\s*"
)
"""What a postscript and an afterthought begin with."""
_TICKED = re.compile(
    r"^\s*(?:[-*\u2022]\s*)?(?:[\[(]\s*(?:x|\u2713|\u2714|v)\s*[\])]|[\u2611\u2713\u2714\u2705])\s*(?=\S)"
)
"""A box that is ticked: the row is wanted."""
_PAID = re.compile(r"\(\s*(?:already\s+)?paid\s*\)")
_SMILE = re.compile(r"(?<!\w)[:;]'?-?[)(dp](?!\w)")
_ASAP = re.compile(r"\ba\.s\.a\.p\b\.?")
_LETTERED = re.compile(r"^\s*\(?[a-z]\)\s+")
_AGREED = (
    r"(?:discussed|agreed|arranged|talked|spoken|said|told|explained|described|besprochen|abgesprochen|vereinbart)"
)
_WEEKDAYS = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_TELEPHONE = r"(?:phone|telephone|telefon)"
_WHO_WAITS = r"(?:customer|client|car|van|truck|vehicle)"
_WHERE = r"(?:waits|waiting|here|in|on\s+the\s+(?:lift|ramp|hoist))"
_SENDING = r"(?:send|ship|post|order|get|have|add|supply|put|deliver|dispatch)"
_HASTE = r"(?:rush|hurry|panic|stress)"
_THESE = r"(?:these|this|them|it|those|that|the(?:\s+[^\W\d]+){1,2})"
_ENDED = r"(?=\W*(?:$|[,.;:!)]|please|thanks))"
_NOWADAYS = r"(?:this\s+(?:time|week|month)|today|for\s+(?:now|today)|at\s+the\s+moment)"
_ONE_ASKS = (
    rf"(?:i|we)\s+(?:was|were|am|are)\s+(?:just\s+)?(?:wondering|hoping)\s+(?:if|whether|that)?\s*(?:you|i|we)\s+(?:could|can|might)(?=\s+(?:please\s+)?{_SENDING}\b)",
    r"(?:would|should|(?:i|we|he|she|they)'d|'d|d)\s+(?:also\s+)?(?:like|love)(?:\s+to\s+(?:have|get)(?:\s+hold\s+of)?)?",
    r"(?:can|could|may|let|please)\s+(?:i|we|me|us)\s+(?:please\s+)?have|(?:i|we)\s+do\s+(?:want|need)",
    r"(?:(?:i|we|he|she|they)'ll|will)\s+have",
    r"(?:i'd|we'd|would)\s+be\s+(?:very\s+)?(?:glad|happy|pleased|grateful)(?:\s+to\s+(?:receive|have|get))?",
    r"(?:can|could|may)\s+(?:i|we)\s+(?:please\s+)?(?:order|get|ask\s+for|request|trouble\s+you\s+for)",
    rf"(?:(?:can|could|would|will)\s+you\s+)?(?:please\s+)?be\s+an?\s+(?:star|dear|darling|love|angel|hero|sport)\s+and(?=\s+{_SENDING}\b)",
    r"(?:can|could|would|please)\s+(?:you\s+)?(?:please\s+)?pack(?=\s+\d)",
    r"gimme",
    r"make\s+up\s+(?:a|the|one)\s+(?:parcel|box|order)\s+(?:with|of)",
    r"put\s+(?:me|us)\s+down|(?:can|could)\s+you\s+help\s+(?:me|us)\s+(?:out\s+)?with",
    r"(?:i'm|we're|i\s+am|we\s+are)\s+(?:running\s+)?(?:out|short|low)\s+(?:of|on)",
    r"(?:accept|find|take|see)\s+(?:below\s+|attached\s+)?(?:my|our|this|the)\s+(?:following\s+)?order",
    r"(?:i|we)\s+(?:hereby\s+|herewith\s+|now\s+)?confirm\s+(?:(?:the|my|our|this)\s+)?order(?:\s+(?:for|of))?",
    r"(?:he|she|they|customer|client)\s+(?:has\s+|have\s+)?(?:also\s+)?ask(?:s|ed)?\s+(?:me\s+|us\s+)?for",
    r"(?:he|she|they)(?:'d|\s+would)\s+be\s+(?:very\s+)?(?:glad|happy|pleased|grateful)\s+(?:of|about|to\s+(?:have|get))",
    rf"(?:the\s+|my\s+|our\s+)?(?:he|she|they|boss|chief|mechanic|customer|wife|husband)\s+(?:says?|said|told\s+me)(?:\s+(?:i|we))?(?:\s+(?:shall|should|must|need\s+to|have\s+to|to))?(?=\s+(?:{_SENDING}\b|\d{{1,3}}\s?x\s))",
    rf"(?:it|that)(?:\s+would|'d)\s+be\s+(?:kind|nice|great|good|lovely|helpful)\s+(?:of\s+you\s+)?to(?=\s+{_SENDING}\b)",
    r"what\s+(?:i'm|we're)\s+(?:now\s+)?after(?:\s+now)?\s+is",
    r"what\s+(?:i|we|he|she|they)\s+(?:say\s+(?:they|we|he|she)\s+)?(?:still\s+|also\s+|now\s+|really\s+)?(?:need|want|require)s?\s+(?:is|are)",
    r"(?:the\s+|my\s+|our\s+|his\s+)?(?:he|she|boss|chief|mechanic|customer|wife|husband|client)\s+(?:now\s+|also\s+)?(?:insists\s+on|would\s+like|asks\s+for)",
    r"(?:hereby|herewith)\s+ordered|(?:ich|wir)\s+nehmen?|nous\s+(?:commandons|prenons|voudrions)|je\s+(?:commande|prends|voudrais|souhaite)",
    rf"(?:i|we)\s+(?:kindly\s+|hereby\s+|herewith\s+|further\s+|also\s+)?(?:ask|request)\s+(?:you\s+)?(?:kindly\s+)?(?:for|to(?=\s+{_SENDING}\b))",
    r"(?:i|we)(?:'m|'re|\s+am|\s+are)\s+(?:also\s+)?(?:needing|wanting|requiring|ordering|requesting|taking)",
    r"(?:he|she|they|customer|client|i|we)(?:'s|'re|'m|\s+is|\s+are|\s+am)\s+(?:after|in\s+(?:\w+\s+)?need\s+of)",
    r"(?:i|we)(?:'ve|\s+have|'ll|'m|'re|\s+will|\s+am|\s+are)?\s+(?:now\s+)?(?:(?:decided|settled)(?:\s+on|\s+for)?(?!\s+(?:against|not|to|on|for))|opted\s+for|go(?:ing)?\s+(?:for|with))",
    r"(?:be\s+)?(?:grateful|great|good|nice|lovely|brilliant|helpful|appreciate\s+it|appreciated)\s+if\s+(?:you|i|we)(?:'d|\s+would|\s+could|\s+can)?(?=\s+(?:please\s+|just\s+)?\w)",
    r"if\s+you\s+(?:please|would)(?=\W*(?:$|ta\b|thanks|thx\b|cheers|please))",
    r"(?:can|could)\s+u(?=\s+(?:please|pls|send|ship|add|post)\b)",
    r"(?:could\s+use|(?:can|could)\s+do\s+with)(?=\s+(?:some\s+|another\s+|an?\s+)?(?:more\s+)?\S)",
    r"(?:make|be)\s+sure\s+(?:you|to)(?:\s+(?:pack|include|send|put\s+in|add))?(?!\s+(?:check|ask|not|don't))",
    r"(?:i|we)(?:'d|\s+would|\s+do)?\s+wish\s+to(?=\s+(?:order|buy|purchase|have|place)\b)",
    r"(?:if\s+you(?:'d|\s+would|\s+will)\s+)?be\s+so\s+(?:kind|good)(?:\s+as)?(?:\s+to)?",
    r"if\s+poss(?:ible)?",
    r"(?:just\s+)?to\s+be\s+(?:on\s+the\s+safe\s+side|safe|sure)|while\s+you(?:'re|\s+are)\s+(?:at\s+it|there)",
    r"(?:don't|do\s+not|dont)\s+(?:ask|worry)",
    r"^from\s+(?:us|me)\s+(?:also|too|as\s+well)",
    r"per\s+(?:favore|cortesia|piacere)",
    r"s'il\s+(?:vous|te)\s+plait",
)
_PACKS = "box|parcel|bag|packet|pack|carton|crate|pallet|delivery|shipment|lot"
_WHERE_IT_GOES = (
    r"(?:on|with|for)\s+(?:the|your)\s+next\s+(?:run|delivery|drop|round|trip|van)",
    r"(?:drop|dropping|dropped)\s+(?:(?:it|them|'?em|these|this|everything|the\s+lot|the\s+order)\s+)?(?:round|over|by|in|at|off\s+(?:at|here|with))",
    r"(?:for\s+)?(?:the\s+)?(?:van|shop|workshop|shelf|general|trade)\s+stock(?=\W*$|:)",
    r"to\s+be\s+(?:delivered|shipped|sent|collected)(?!\s+(?:\w+\s+){0,2}from\b)(?!\s+back\b)",
    r"for\s+(?:our\s+|the\s+)?(?:own\s+)?stock",
    rf"(?:in|into|on|onto|with|for)\s+(?:the|that|this|your|our|one)\s+(?:same\s+|next\s+)?(?:{_PACKS})(?!\s+of\b)",
    r"(?:must|has\s+to|have\s+to|needs?\s+to|should|to)\s+(?:be\s+(?:here|there|with\s+us|on\s+site)|arrive|reach\s+us|go\s+out|go\s+off)(?!\s+(?:\w+\s+){0,2}from\b)",
    r"(?:these|this|they|it|that|those|all)(?:'s|'re|\s+is|\s+are)\s+(?:all\s+)?for(?=\s+(?:the|our|my|an?|customer|stock|his|her|their|mr|mrs)\b)",
    r"(?:it|this|that|these|they|those)(?:'s|'re|\s+is|\s+are)\s+(?:very\s+|quite\s+|really\s+|rather\s+|(?:the\s+)?most\s+)?(?:urgent|important|pressing|essential|vital|in\s+a\s+hurry)",
    r"(?:is|are)\s+(?:also\s+|now\s+|urgently\s+)?(?:needed|required|wanted)(?!\s+(?:back|no)\b)",
    r"(?:straight|right)\s+away|for\s+pick[\s-]?up",
    r"(?:have\s+(?:it|them|these)\s+|be\s+|it's\s+)?ready\s+for\s+(?:collection|pick-?up|the\s+driver|us|tomorrow|monday|tuesday|wednesday|thursday|friday|saturday)",
    r"(?:kunde|fahrer|wir|ich)\s+hol(?:t|en|e)\s+(?:es\s+|sie\s+|alles\s+)?ab",
    r"(?:(?:i|we|he|she|they)'ll|will|to|we|i|customer|client|driver)\s+(?:collects?|pick\s+(?:it\s+|them\s+|these\s+)?up)(?!\s+(?:\w+\s+){0,2}from\b)",
    rf"{_WHO_WAITS}\s+(?:is\s+)?(?:already\s+)?{_WHERE}(?:\s+for\s+(?:it|them|this|these))?(?!\s+for\b)",
)
_WHEN_AND_HOW = (
    rf"(?:as|wie)\s+(?:we\s+|just\s+|telefonisch\s+)*{_AGREED}(?:\s+(?:yesterday|earlier|this\s+morning|last\s+(?:week|month)|on\s+{_WEEKDAYS}))?(?:\s+(?:by|on|over|am)\s+(?:the\s+)?{_TELEPHONE})?(?:\s+(?:with|mit)\s+(?:(?:mr|mrs|ms|herrn|frau)\.?\s+)?[^\W\d]+(?=\W*$))?",
    r"first\s+thing|as\s+(?:every|each)\s+(?:spring|summer|autumn|winter|year|season|month|week)",
    rf"(?:do\s+not|don't|dont|not)\s+(?:deliver|come|ship|send)\s+(?:it\s+|them\s+|anything\s+)?(?:before|after|between)\s+(?:the\s+)?(?:\d+\w*|{_WEEKDAYS}|noon|eight|nine|ten)",
    rf"nothing\s+(?:before|until|till)\s+(?:the\s+)?(?:\d+\w*|{_WEEKDAYS}|noon)",
    rf"(?:not|no)\s+(?:later\s+than|before|earlier\s+than)(?=\s+(?:the\s+)?(?:\d|noon|next|this|end|{words.MONTHS}|{_WEEKDAYS}))",
    r"as\s+quoted(?=\s*:\s*$)",
    r"same[\s-]day",
    r"by\s+return(?:\s+of\s+post|\s+mail|\s+e-?mail)?(?=\s*(?:$|[.,;!)]|please|thanks))",
    rf"(?:there's\s+|there\s+is\s+)?(?:no|not\s+in\s+an?y?|in\s+no|without\s+any)\s+(?:great\s+|big\s+|particular\s+)?{_HASTE}(?:\s+(?:on|for|with|about)\s+{_THESE})?(?=\W*(?:$|[,.;:!)]|but\b|and\b|please\b|thanks?\b))",
    r"(?:it's\s+|it\s+is\s+)?(?:not\s+(?:so\s+|too\s+|very\s+)?|nothing\s+)urgent",
    r"(?:kein(?:e|en)?\s+(?:eile|stress|hektik)|ohne\s+eile|eilt\s+nicht|nicht\s+(?:so\s+)?(?:eilig|dringend))",
    r"at\s+(?:(?:the|your|our)\s+)?(?:usual|normal|agreed|list|current|standard|old)\s+(?:prices?(?:\s+of)?|terms|rates?|discount)",
    r"(?:as\s+per|according\s+to|at|from|out\s+of)\s+(?:(?:your|the|our)\s+)?(?:(?:latest|new|current)\s+)?(?:price[\s-]?list|list\s+price|catalog(?:ue)?|brochure|web\s?site|web\s?shop)",
    r"prices?\s+(?:as|like)\s+(?:(?:on|in|per|of)\s+(?:your|the)\s+\w+|agreed|discussed|quoted|usual|before|listed|always)",
    r"(?:less\s+|minus\s+)?\d+(?:[.,]\d+)?\s*%\s+(?:off|discount|rabatt|remise)(?=\W*$)",
    r"(?:at|for)\s+the\s+(?:prices?|rate)\s+(?:agreed|quoted|listed)|at\s+the\s+(?:agreed|quoted|listed)\s+prices?",
    r"(?:plus|excl|excluding|ex|incl|including|zzgl|inkl)\.?\s+(?:vat|tax|mwst|ust)",
)
_IDIOMS = (
    r"(?:that\s+)?(?:will|'ll|should|would)\s+(?:do|be\s+(?:fine|ok|okay|enough|plenty|perfect|great|nice|lovely|good|super|handy|useful|helpful|welcome|grand|all))(?:\s+(?:nicely|fine|it|me|us|for\s+now|the\s+job|the\s+trick))?(?=\W*(?:$|please|too\b|also\b|as\s+well\b|thanks?\b))",
    r"on\s+top\s+of\s+(?:that|this|those|these)",
    r"to\s+(?:hold|bolt|screw|fix|fasten|mount|secure|attach|hang|join|connect|seal|clamp|tighten|plug|block|close)\s+(?:it|them|everything)(?:\s+(?:down|up|together|in\s+place|properly))?(?=\W*(?:$|[,.;!]|please|thanks))",
    r"(?:that(?:'s|\s+is)\s+it\s+)?over\s+and\s+out(?=\W*$)|but\s+for\s+sure",
    r"this\s+time(?:\s+a?round)?",
    r"confirmed\W+(?:please\s+|so\s+)?go\s+ahead(?!\s+(?:if|when|once))",
    r"on\s+(?:invoice|account)(?=\W*$)",
    r"(?:i|we)\s+(?:hereby\s+|(?:would\s+like|want)\s+to\s+)?confirm(?=\s*:\s*$)",
    r"per\s+(?:(?:il|la|lo|le|gli|i)\s+\w+(?:\s+(?:di|da)\s+\w+|\s+officina)?|officina|cliente)",
    r"(?:get|send|ship|want)\s+(?:these|those|them|this|it|that)\s+(?:out|off)(?!\s+of\b)",
    r"quote\s+(?:(?:me|us|the)\s+)*(?:shipping|postage|carriage|freight)(?:\s+(?:costs?|to\s+\w+))*",
    r"(?:taken|copied|picked|chosen|found)\s+(?:from|on|in|off|out\s+of)\s+(?:your|the)\s+(?:(?:web|home|price|shop)[\s-]?)?(?:page|site|shop|list|catalog(?:ue)?|brochure|leaflet)",
    r"any\s+chance\s+(?:you|i|we)\s+could",
    r"(?:as|wie)\s+(?:promised|requested|announced|versprochen)",
    r"(?:sorry|apologies)\s+(?:that\s+)?(?:it's|it\s+is|this\s+is)\s+(?:a\s+bit\s+|so\s+|rather\s+|very\s+)?(?:last\s+minute|late|short\s+notice|rushed)",
    r"(?:i\s+)?(?:almost|nearly)\s+forgot|before\s+(?:i|we)\s+forget|^(?:(?:sorry|oh)\W+)?(?:i\s+)?(?:just\s+|also\s+)?forgot(?:\s+to\s+(?:add|order|write))?(?=\s+(?:an?\s|the\s|\d))",
    r"^(?:the\s+)?(?:next|last|final)\s+(?:one|item|position|part|thing|point)\s+is|^as\s+(?:the|a|my|our)\s+(?:next|last|final)\s+(?:item|position|point)",
    r"while\s+(?:(?:you|we)(?:'re|\s+are)|i(?:'m|\s+am))\s+at\s+it|independently\s+of\s+(?:that|this)|(?:anyway|though)(?=\W*$)",
    r"(?:all\s+)?confirmed(?:\s+as\s+above)?(?=\s*,?\s+(?:and|please|plus)\b)|is\s+what\s+(?:we|i|he|she|they)(?:'re|'m|'s|\s+are|\s+am|\s+is)\s+after",
    r"on\s+behalf\s+of|with\s+(?:great\s+|much\s+|all\s+)?(?:pleasure|care|love|haste|joy|compliments)",
    r"on\s+top(?=\W*$)|completes?\s+(?:the|my|our)\s+(?:list|picture|order|set)(?=\W*$)",
    r"as\s+(?:a\s+)?replacements?(?:\s+for\s+(?:the|my|our)\s+\w+)?",
    r"as\s+ever|here\s+goes|(?:it's\s+)?(?:only\s+|just\s+)?me\s+again",
    r"drop\s+(?:me|us)\s+a\s+(?:line|note|mail|message|call|text)",
    r"(?:i'm\s+|we're\s+|i\s+am\s+|we\s+are\s+)?not\s+(?:fussed|bothered|fussy|worried)(?:\s+(?:about\s+)?when(?:\s+(?:they|it)\s+comes?)?)?",
    r"(?:first|1st|second|2nd)[\s-]class(?:\s+(?:post|mail))?",
    rf"{_WEEKDAYS}\s+(?:am|pm)",
    r"rush\s+(?:job|order|delivery)",
    r"stock\s+order|(?:top\s+up|replenish|refill|restock)\s+(?:our\s+|the\s+|my\s+)?(?:own\s+)?stock",
    r"(?:plus|incl|including|excl|excluding)\.?\s+(?:postage|carriage|shipping|delivery|p\s?&\s?p)",
    r"(?:will\s+|'ll\s+)?call\s+(?:in|round|by)\s+for\s+(?:it|them|these)",
    r"top\s+(?:urgent|priority)",
    r"\d{1,2}\s?%\s+discount(?:\s+as\s+agreed)?",
    r"trade\s+counter|(?:by|over\s+the|on\s+the|via)\s+(?:tele)?phone",
    r"(?:send|e-?mail|post|mail|forward|let)\s+(?:(?:me|us)\s+)?(?:have\s+)?(?:the|an|your|a)\s+(?:invoice|bill|receipt|tracking(?:\s+(?:number|details))?)(?:\s+to\s+(?:me|us|our\s+office|the\s+office|accounts))?(?!\s+(?:for|of|on|about|with)\b)",
    r"(?:please\s+)?invoice\s+(?:me|us|as\s+(?:usual|always)|and\s+(?:dispatch|send|ship|deliver))",
    r"to\s+(?:begin|start)\s+with",
    r"last\s+but\s+not\s+least",
    r"without\s+further\s+ado",
    r"see\s+you(?:\s+(?:soon|later|then|on|at))?|have\s+an?\s+[^\W\d]+\s+(?:day|evening|weekend|week|one)",
    r"for\s+a\s+change|in\s+(?:any|that|this)\s+case|just\s+in\s+case(?=\W*$)|in\s+case\s+(?:it|they|that)\b[^,.;:?!\d]{0,40}(?=:\s*$)",
    r"in\s+addition(?:\s+to\s+(?:this|that|these|the\s+above))?",
    r"further\s+to\s+(?:(?:our|your|my|the|this)\s+)?(?:(?:phone|telephone|recent)\s+)?(?:call|conversation|discussion|chat|talk|e-?mail|meeting|visit)",
    r"if\s+(?:it's|it\s+is|that's|that\s+is)\s+(?:not\s+)?(?:too\s+much\s+(?:trouble|bother|to\s+ask)|ok(?:ay)?|all\s+right|convenient)",
    r"if\s+you\s+(?:don't|do\s+not|wouldn't)\s+mind",
    r"(?:i'm\s+|we're\s+)?(?:sorry|apologies)\s+(?:for|about|to)\s+(?:the\s+|be\s+|being\s+)?(?:(?:late|last[\s-]minute|small|short|rushed|long)\s+)?(?:order|notice|delay|hassle|rush|list|bother|bothering|trouble|troubling|chase|late)(?:\s+you)?(?:\s+again)?",
    r"(?:i'm\s+|so\s+)?sorry\W+(?:i\s+|we\s+)?(?:just\s+|completely\s+)?forgot(?:\s+to\s+(?:add|order|include|put|write|ask\s+for)(?=\W))?",
    rf"(?:not\s+(?:much|a\s+lot)|nothing\s+(?:special|much|fancy|big|unusual|exciting|major))(?:\s+{_NOWADAYS})?{_ENDED}",
    rf"nothing\s+(?:else|more)(?:\s+(?:but|than)\s+(?:this|these))?(?:\s+{_NOWADAYS})?{_ENDED}",
    r"(?:you\s+may|feel\s+free\s+to)(?=\s+(?:send|ship|add|post)\b)",
    r"if\s+i\s+may(?=\W*$)",
    rf"that(?:'s|'ll\s+be|\s+is|\s+would\s+be|\s+will\s+be)\s+(?:all|it|everything|the\s+lot)(?:\s+{_NOWADAYS})?",
    r"(?:i\s+|we\s+)?look(?:ing)?\s+forward\s+to",
    r"no\s+(?:problem|worries|need\s+to\s+(?:call|ring|phone|reply|confirm)(?:\s+back|\s+us|\s+me)?)",
)
_ASKED = re.compile(rf"(?<![\w])(?:{'|'.join(_ONE_ASKS)})\b")
_POLITE = re.compile(rf"(?<![\w])(?:{'|'.join((*_WHERE_IT_GOES, *_WHEN_AND_HOW, *_IDIOMS))})\b")
"""What sounds like a question or a report and is none."""
_THANKS = re.compile(
    r"\b(?:many\s+thanks|thanks(?:\s+(?:a\s+(?:lot|mill(?:ion)?|bunch)|very\s+much|so\s+much|in\s+advance|again))?|thank\s+you(?:\s+(?:very|so)\s+much)?(?:\s+in\s+advance)?"
    r"|(?:much|greatly)\s+appreciated|vielen\s+(?:lieben\s+)?dank|besten\s+dank|danke\s+schon|merci\s+d'avance)\b(?!\s+(?:\w+\s+){0,3}for\b)"
)
_REGARDS = re.compile(
    r"\b(?:with\s+)?(?:kind|kindest|best|warm|many)\s+(?:regards|wishes)\b|\b(?:mit\s+)?(?:freundlichen|besten|vielen|viele|liebe)\s+gruss(?:en?)?\b"
)
_BUTTON = re.compile(
    r"\s*\[\s*(?:remove|delete|edit|change|update|entfernen|supprimer)\s*\]"
    r"|(?<=[\d\u20ac$\u00a3rpdf])(?:\s{2,}|\t)\s*(?:remove|delete|edit|entfernen|supprimer)\s*$"
)
"""What shops show beside each row of a cart."""
_NUMBER_OF = re.compile(
    r"\b(?:(?:artikel|teile|bestell|material|sach)-?(?:nummer|nr)|(?:part|art(?:icle|ikel)?|item|sku|stock|cat(?:alog(?:ue)?)?|product|model|code)s?[.\-]*\s*(?:no|nr|num|number|#)|p\s*/\s*n)(?![a-z])"
    r"[.:#]*"
)
"""What stands before a SKU: no denial."""
_WAYS = re.compile(
    r"\b(?:web|online|internet|(?:tele)?phone|tel|counter|e-?mail|fax|postal|verbal|written)\.?\s+(?:order|sale)\b"
)
"""How an order came in."""
_WHO = re.compile(
    r"^\W*(?:(?:this\s+is|it's|it\s+is)\s+(?P<one>[^\W\d]+(?:\s+[^\W\d]+)?)(?:\s+here)?|(?P<two>[^\W\d]+(?:\s+[^\W\d]+)?)\s+here)"
    r"(?P<of>\s+(?:from|at|of)\s+[^\W\d]+(?:'s)?(?:\s+[^\W\d]+){0,2})?\s*[,.:;\-]\s*"
)
"""Who says of himself that he is calling or writing."""
_ORDER_NUMBER = re.compile(r"\border\s*(?:no|nr|num|number|#)(?![a-z])(?![.:#]*\s*\d)[.:#]*")
_TWICE = re.compile(rf"\b(\d{{1,2}}|{'|'.join(words.NUMBERS)})\s*[(\[]\s*(\d{{1,2}}|{'|'.join(words.NUMBERS)})\s*[)\]]")
"""A quantity in figures and in a word, one of them in brackets."""
_SIGNS = (
    (re.compile(r"\bw/c\s+"), "week of "),
    (re.compile(r"^\W*material\s*:\s*(?=\S)"), "part "),
    (re.compile(r"\bgive\s+(?:me|us)\s+a\s+(?:bell|ring|buzz|shout|call)\b(?:\s+on\b)?"), "call"),
    (re.compile(r"\bw/o\s*"), "without "),
    (re.compile(r"\bc/w\b"), "with"),
    (re.compile(r"\bw/\s*(?=\S)"), "with "),
)
_MARKED = rf"(?:\b\d+\s*(?:x\b|(?:{words.PIECES})\b)|\bx\s*\d|\b(?:{words.QUANTITY_NAMES})\W*\d)"
_FOR_ONE = r"(?:(?:is|are|goes|go)\s+)?for\s+(?:the|my|our|his|her)\s+\w+|(?:(?:is|as)\s+)?(?:an?\s+)?spares?"
_SHARED_OUT = re.compile(
    rf"(^[^,(]*{_MARKED}[^,(]*)[,(]\s*(?:(?:one|two|three)\s+(?:{_FOR_ONE})|for\s+(?:two|three)\s+cars"
    r"|(?:both|all)\s+\w+|one\s+(?:per|each|for\s+(?:each|every))\s+(?:\w+\s+)?\w+"
    rf"|for\s+(?:the|my|our)\s+\w+\s+and\s+(?:one|two)\s+for\s+(?:the|my|our)\s+\w+)\s*\)?\s*$"
)
"""Where the pieces of a marked quantity go, each."""
_AND = re.compile(r"(?:^|(?<=\s))n'?\s+(?=\d|an?\s)(?<!x n )")
"""How "and" is typed on a telephone."""
_HOPES = re.compile(
    r"^\W*(?:i\s+|we\s+)?(?:hope|trust)\s+(?:you|all|this|everything|things|the|that)\b[^,.;:!?\d\t]{0,60}(?:[,.;:!]+|\s-\s)\s*(?=\S)"
)
_GREETING = re.compile(
    rf"^\W*(?:{'|'.join(sorted(courtesies.GREETINGS))})\b[^,;:!.\d\t]{{0,40}}(?:[,!:.]+|\s-\s)\s*(?=.*\d|.*\b(?:{'|'.join(words.NUMBERS)})\b)"
)
_QUOTED = re.compile(r'^\s*"[^"]*"\s*[,;|\t]|[,;|\t]\s*"[^"]*"\s*(?:[,;|\t]|$)')
_BETWEEN_CELLS = re.compile(r'"\s*,\s*"')
_QUOTES = re.compile(r'(?:^|(?<=[,;|\t]))\s*"|"\s*(?=[,;|\t]|$)')
_NO_NAMES = (words.DOUBTFUL | words.DESCRIBING | words.ORDERING | {"a", "an", "the", "for", "with", "what"}) - {
    "is",
    "of",
}
_BULLETS = "-*\u2022\u00b7\u25cf\u25e6\u2023\u2043+"


def without_phrases(plain: str) -> str:
    """A folded row without quotes around cells, bullets, arrows, addresses on the net, who says it in a chat; set
    phrases as single words."""
    if '"' in plain and _QUOTED.search(plain):
        plain = _QUOTES.sub("", _BETWEEN_CELLS.sub('";"', plain))
    plain = _SMILE.sub("", _PAID.sub("", _BUTTON.sub("", plain)))
    plain = _ASAP.sub("asap", _ASIDE.sub("", _TICKED.sub("", plain)))
    plain = _HOPES.sub("", _GREETING.sub("", _TO_ONE.sub("", _ASIDE.sub("", _CHAT.sub("", plain)))))
    plain = _REGARDS.sub(
        "regards",
        _THANKS.sub("thanks", _POLITE.sub("please", _ASKED.sub("please want", _ADDRESS.sub(f" {ADDRESS} ", plain)))),
    )
    for sign, words_for in _SIGNS:
        plain = sign.sub(words_for, plain)
    plain = _AND.sub("and ", plain)
    plain = _SHARED_OUT.sub(r"\1", _TWICE.sub(_once, plain))
    plain = _WAYS.sub("order", _WHO.sub(_without_who, plain))
    plain = _ORDER_NUMBER.sub("order ", plain)
    bare = _ARROW.sub("", _NUMBER_OF.sub("part ", plain).rstrip(" "))
    bullet = bare[:1]
    bare = bare[1:].strip() if bullet and bullet in _BULLETS and bare[1:2].isspace() else bare
    return _LETTERED.sub("", bare)


def _once(found: "re.Match[str]") -> str:
    """A quantity that is written twice once, where one of the two is a word and both say the same."""
    values = [int(one) if one.isdigit() else words.NUMBERS[one] for one in found.groups()]
    is_in_both = sum(one.isdigit() for one in found.groups()) == 1
    return f"{values[0]} " if is_in_both and values[0] == values[1] else found[0]


def _without_who(found: "re.Match[str]") -> str:
    """Nothing, where what stands there may be who is calling."""
    spoken = re.findall(r"[^\W\d]+", found["one"] or found["two"])
    is_name = _NO_NAMES.isdisjoint(spoken) and (bool(found["of"]) or not courtesies.FIRST_NAMES.isdisjoint(spoken))
    return "" if is_name else found[0]
