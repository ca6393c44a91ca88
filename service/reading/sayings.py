"""Set phrases that make a whole order doubtful, whatever stands beside them in their line."""

import re
from typing import Final

from service.reading.meanings import ASKS, HELD, REPORTS, SHARED, TAKE_OFF

_WHO = r"(?:i|we|he|she|they|boss|chief|customer|owner|wife|husband|partner|management|office)"
_DECIDE = r"(?:agree|approve|decide|sign|confirm|think|ask|check|count|measure|release|see|say|choose)"
_SOMEBODY = r"(?:(?:the|his|her|their|my|our|my\s+\w+|our\s+\w+)\s+)?"
_A_PAPER = r"(?:enquiry|inquiry|quotation|quote)"
_SAYINGS: Final = {
    HELD: (
        r"let\s+me\s+(?:sleep|think)",
        r"waiting\s+list|heads[\s-]?up|(?:can't|cannot|can\s+not)\s+(?:yet\s+)?(?:say|tell)\s+(?:yet\s+)?(?:which|whether|if|how\s+many)",
        r"would\s+(?:buy|take|order|want|need)\s+[^.]*\bif\s+(?:you|your|the|we|it)",
        r"(?:don't|do\s+not|dont)\s+(?:send|ship|deliver|pack|dispatch|process)\s+(?:(?:anything|these|them|it|this|any\s+of\s+\w+)\s+)?(?:yet|for\s+now)",
        r"need\s+(?:\w+\s+){0,2}(?:signature|approval|permission|okay|consent)\s+(?:of|from)",
        rf"{_WHO}\s+(?:will\s+)?decides?\s+(?:on|by|next|after|tomorrow|later)",
        r"order\s+itself\s+(?:comes|follows|will\s+(?:follow|come))",
        r"(?:real|actual|proper|official|firm|final|formal|written)\s+order\s+(?:will\s+)?(?:follows?|comes?)",
        r"draft\s+(?:only|order|list)|(?:only|just|is)\s+a\s+draft",
        r"(?:i|we)\s+(?:then\s+)?(?:say|tell\s+you)\s+when",
        r"written\s+(?:po|order)",
        rf"{_WHO}\s+(?:\w+\s+)?(?:must|has\s+to|have\s+to|needs?\s+to)\s+(?:(?:first|still)\s+)?{_DECIDE}",
        r"(?:must\s+ask|still\s+have\s+to|then\s+(?:i|we)\s+(?:decide|order|write))",
        r"(?:i'll|we'll|i\s+will|we\s+will)\s+(?:then\s+)?(?:decide|let\s+you\s+know|come\s+back|get\s+back)",
        r"(?:depends?\s+on|subject\s+to(?!\s+(?:our|your|the)\s+(?:\w+\s+){0,2}(?:terms|conditions)\b)|unless|on\s+condition|only\s+(?:if|when|once))",
        r"(?:approval|consent|placeholders?|approximate\w*|from\s+memory|in\s+two\s+minds|whichever\s+is)",
        r"(?:don't|do\s+not)\s+(?:yet\s+)?know\s+(?:yet\s+)?(?:how\s+many|which|whether|if)",
        r"(?:don't|do\s+not|never)\s+(?:start|begin|process|book|enter)",
        r"(?:erst\s+(?:nach|wenn|ab)|freigabe|not\s+(?:yet\s+)?released)",
        rf"(?:wait|waiting)\s+for\s+{_SOMEBODY}(?:yes|ok|okay|go|word|consent|money|call)",
        r"(?:mine\s+follows|order\s+will\s+follow|right\s+(?:one|list)\s+(?:comes|follows))",
    ),
    TAKE_OFF: (
        r"(?:forget|cancel|scrap)\s+(?:it|everything|all)",
        r"(?:i'll\s+pass|hat\s+sich\s+erledigt|plus\s+besoin|n'en\s+(?:veux|voulons)\s+plus)",
        r"nichts\s+(?:schicken|liefern|senden)",
        r"nothing\s+(?:\w+\s+){0,4}is\s+an?\s+order",
        r"(?:finds?|found)\s+(?:it|them|this|these)\s+too\s+\w+",
        r"wrong\s+(?:list|order|sheet|page)",
    ),
    ASKS: (
        r"(?:let|tell|send|advise|confirm|give)\b[^.;]*\b(?:prices?\s+and|availability|(?:delivery|lead)\s+times?)",
        r"window\s+shopping",
        r"(?:an?\s+)?(?:price|prices|quote|quotation|offer)\s+(?:for|on)\s+(?:these|those|this|the\s+following|all\s+of)",
        r"(?:just|only)\s+(?:looking|comparing|browsing|asking|wondering)",
        rf"(?:{_A_PAPER}|prices?|information|info)\s+only",
        rf"only\s+(?:an?\s+)?{_A_PAPER}",
        r"want\s+an?\s+(?:quote|quotation|offer|estimate)",
        r"(?:un|votre)\s+devis",
        r"(?:do\s+better|beat\s+(?:it|that|this)|(?:suggest|recommend)\s+instead|would\s+you\s+buy|any\s+idea\s+when)",
    ),
    REPORTS: (
        r"so\s+(?:that\s+)?you\s+(?:know|can\s+plan)|standing\s+list|usually\s+(?:buy|order|take|need)|(?:has|have)\s+lying",
        r"where\s+(?:things|they|these|the\s+\w+)\s+(?:are|is|lie|stand|live)|weighed|in\s+(?:grams|kilos)|what\s+(?:i|we)\s+(?:see|found|find|got)",
        r"where\s+(?:are|is)\s+(?:my|our|the)|(?:mail|letter|message|confirmation|invoice|note|sheet|list|page|label|catalog(?:ue)?|website)\s+(?:(?:of|from|dated)\s+(?:\w+\s+){1,3})?(?:said|says|read)",
        r"(?:have\s+fitted|old\s+list|copy\s+of|copied\s+from|written\s+copy|came\s+with\s+the)",
        r"(?:not\s+(?:yet\s+)?arrived|was\s+all\s+delivered|all\s+delivered\s+already)",
        r"(?:this|these|that|those|all|above)\s+(?:\w+\s+)?was\s+last",
        r"(?:numbers?|figures?|quantities)\s+are\s+what\s+(?:we|i)\s+have",
    ),
    SHARED: (
        r"(?:same\s+(?:(?:list|order)\s+)?once\s+more|two\s+identical|twice\s+please)",
        r"per\s+(?:car|van|truck|boat|bike|engine|vehicle|machine)\s+(?:we|i|they|you)\s+\w+",
        r"one\s+\w+\s+(?:takes|needs|gets|requires|wants)(?=\s*:)|enough\s+for\s+(?:the|all|both|\d+|two|three|four|five|six)",
        r"(?:quantit\w+|numbers?|amounts?|figures?)\s+(?:are|is)\s+(?:per|for\s+(?:one|each|every))",
        r"ten\s+per\s?cent\s+(?:more|on\s+top|extra)",
        r"for\s+one\s+(?:car|engine|bench|van)\b.*\b(?:have|build|run|own)\s+(?:two|three|four|five|six|\d+)",
    ),
}
_COMPILED: Final = tuple((asks, re.compile(rf"\b(?:{'|'.join(forms)})\b")) for asks, forms in _SAYINGS.items())
_AS_SOON: Final = re.compile(r"^\W*as\s+soon\s+as\b(?!\s+(?:possible|you\s+can|poss))")


def saying_in(text: str) -> str:
    """What such a phrase in a folded line asks of the rows beside it; nothing where there is none."""
    if _AS_SOON.match(text):
        return HELD
    return next((asks for asks, saying in _COMPILED if saying.search(text)), "")
