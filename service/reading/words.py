"""Words of orders that count, label, deny or leave open. All are folded as `folding.folded` folds."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final


def words_of(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


def is_of(word: str, known: frozenset[str]) -> bool:
    """Whether a word is one of these, with or without its apostrophe."""
    return word in known or ("'" in word and word != "we're" and word.replace("'", "") in known)


def any_of(written: Iterable[str], known: frozenset[str]) -> bool:
    """Whether one of the words is one of these."""
    return any(is_of(word, known) for word in written)


def without_idle(written: Sequence[str]) -> Iterator[str]:
    """Words but those that only sound doubtful: "off" or "out" of what is sent ("get these out to us"), "same" of what
    is no part ("the same car"), what cars are called by ("a demo car")."""
    for place, word in enumerate(written):
        following = written[place + 1] if place + 1 < len(written) else ""
        is_sent = word in ("off", "out") and not _SENT.isdisjoint(written[:place])
        is_of_car = following in _CARS and is_of(word, NO_SALES | SETS)
        is_home = word == "back" and following in _BACK and _TAKING.isdisjoint(written[:place])
        is_bid = word in ("pack", "box", "bag") and written[max(place - 1, 0) : place] == ["please"]
        is_then = (
            word == "instead" and following in ORDERING and {"and", "but", "so", "please"}.issuperset(written[:place])
        )
        if not (is_sent or is_then or is_of_car or is_home or is_bid or (word == "same" and following in _SAME_OF)):
            yield word


MOST_QTY: Final = 1_000
"""What is above is asked back."""

NUMBERS: Final = {
    word: number
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
}
"""The number words that count; whoever writes others is asked."""

OTHER_NUMBERS: Final = words_of(
    "zero nil thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy "
    "eighty ninety hundred hundreds thousand thousands first once twice thrice double triple quadruple second third "
    "half halves quarter quarters couple couples few several some many various plenty lots lot bunch handful score "
    "gross pairs dozens trio ein eine einen eines einer eins zwei zwo drei vier funf fuenf sechs sieben acht neun "
    "zehn elf zwolf zwoelf dutzend paar halbes einige mehrere dreizehn vierzehn funfzehn zwanzig hundert un une deux "
    "trois quatre cinq sept huit neuf dix onze douze douzaine paire vingt quelques uno una dos tres cuatro cinco "
    "siete ocho nueve diez once doce docena veinte varios unos due tre quattro cinque sei sette otto nove dieci "
    "undici dodici dozzina paio alcuni um uma dois duas quatro sete oito dez doze een twee drie vijf zes zeven negen "
    "tien twaalf dozijn ett tva tre fyra fem sex sju atta nio tio tolv par to fire seks syv otte ni ti jeden dwa trzy "
    "cztery piec szesc osiem"
) - words_of("to second")

NONE: Final = words_of("zero nil")
"""What says of the part beside it that none is wanted."""

SETS: Final = words_of(
    "set sets kit kits pack packs packet packets box boxes bag bags carton cartons case cases roll rolls pallet "
    "pallets satz satze paket pakete packung packungen schachtel schachteln beutel kiste kisten karton kartons rolle "
    "rollen lot lots boite boites paquet paquets sachet sachets caja cajas reel reels tray trays tube tubes"
)
"""What may hold more than one piece."""

SETS_AS_WELL: Final = {
    "set": ("satz", "satze"),
    "kit": ("satz", "satze", "set"),
    "pack": ("packung", "packungen", "paket", "pakete"),
}
"""What else a set is called by."""

DENIALS: Final = words_of(
    "no not none never nothing neither nor without cancel cancels canceled cancelled cancelling canceling "
    "cancellation remove removed removing delete deleted drop dropped omit omitted except excluding exclude excluded "
    "minus less fewer instead rather return returned returning returns refund refunded credit scrap strike skip "
    "ignore forget stop hold wait postpone postponed later swap swapped exchange exchanged replace replaced replaces "
    "replacement replacing substitute substituted change changed changes wrong broken damaged faulty defective "
    "leaking leaks leak leaked leaky cracked worn bad missing lost unwanted surplus kein keine keinen keiner nicht "
    "ohne storno stornieren storniert statt pas sans annuler annule sin senza niet geen zonder nein non dont don "
    "doesnt didnt wont cant isnt arent wasnt shouldnt wouldnt havent hasnt nope nah cross undo revoke void withdraw "
    "avoid unneeded unnecessary superfluous sorry oops typo duplicate mistake mistaken mistakenly error off out "
    "scratch correction corrected amend amended amendment reduce reduced cut decrease deduct storniere stornierung "
    "abbestellen retoure retour zuruck entfallt entfallen streichen gestrichen falsch annulez retirer supprimer "
    "cancelar eliminar devolver annullare togliere annuleren verwijderen annullera "
    "annulliamo storniamo disdiciamo annulons annulliere annullieren cancelamos anulamos avbestaller annulering"
)
"""What takes a part off an order, or sends one back."""

_SENT: Final = words_of("get send sending ship post go goes going deliver dispatch mail run running ran sort finish")
_BACK: Final = words_of("on in door home together")
_TAKING: Final = words_of("come comes coming take taking send sent bring give ship return")
_CARS: Final = words_of("car cars van truck rig bike")
_SAME_OF: Final = _CARS | words_of(
    "customer client job account address delivery carrier shipment parcel project vehicle engine build terms invoice"
)

CALLED_OFF: Final = words_of(
    "cancel cancels cancelled canceled cancellation ignore forget disregard scrap void withdraw revoke storno "
    "stornieren storniere storniert annuler annulez annulla cancelar"
)
"""What calls off a whole order."""

REPORTS: Final = words_of(
    "waiting awaiting await overdue owe owed owes sent shipped received arrived delivered got gotten came ordered "
    "bought purchased fitted installed used had has have having be was were been is are am already last previous "
    "previously earlier again yesterday invoiced billed charged paid supplied did does do quoted mentioned promised "
    "confirmed backordered outstanding originally hand backorder backorders confirmation packing attached existing "
    "problem problems issue issues complaint complain bereits erhalten bekommen verbaut eingebaut vorhanden recu "
    "recus recibido warranty works worked working fits fitting fails failed"
) - words_of("fitting")
"""What tells of a part and orders none."""

CAME: Final = words_of("sent received arrived delivered got came supplied")
SPOILT: Final = words_of("broken damaged faulty defective leaking leaks leak leaked leaky cracked worn bad")
"""What is said of a part that was sent before and is no good."""

QUESTIONS: Final = words_of(
    "if whether maybe perhaps possibly probably might may either or which what who when where why how whose unsure "
    "think thinking guess believe suppose wonder wondering available availability stock stocked price prices pricing "
    "priced cost costs costing quote quotation offer estimate compare comparing versus vs compatible compatibility "
    "suitable suit similar equivalent alternative alternatively like roughly approximately approx about around circa "
    "ca nearly almost least most maximum minimum max min unless per depending depends optional option options oder "
    "und/oder vielleicht eventuell etwa ungefahr ditto same minimum should recommend recommended advise tell know "
    "explain interested considering consider check lead eta anything something someone sort kind type tbd tba tbc "
    "pending open confirm confirming manual drawing diagram told reckon reckons apparently supposedly "
    "allegedly heard somebody doubt whatever whichever"
)
"""What asks, or leaves open."""

HEADS: Final = words_of("subject betreff objet re fw fwd aw wg")
"""What a row begins with that is the head of an e-mail, which says again what its rows say."""

SUMS: Final = words_of(
    "total totals subtotal sum vat amount balance payment discount summe gesamt netto brutto mwst zwischensumme"
)
"""What makes a part on its row doubtful: a sum over it."""

STREETS: Final = "street|road|lane|avenue|square|terrace|crescent|boulevard"
"""Words that end the name of a street."""
NO_PARTS: Final = words_of(
    "total totals subtotal sum vat tax taxes shipping freight postage carriage delivery discount balance amount "
    "payment invoice iban bic swift tel telephone phone mobile mob fax email mail web www http https street road "
    "avenue lane drive court suite floor unit building strasse str platz weg allee postcode zip city ltd limited gmbh "
    "inc llc plc corp company co hill page room year exit motorway subject date attn attention cc bcc re fw fwd "
    "bestellung auftrag rechnung lieferung versand summe gesamt netto brutto mwst zwischensumme"
)
"""What stands on rows of totals, addresses and signatures."""

DESCRIBING: Final = words_of(
    "black white red blue green yellow orange purple violet pink brown grey gray silver gold golden chrome chromed "
    "bronze copper brass steel stainless aluminium aluminum titanium nylon rubber ptfe nitrile plastic anodised "
    "anodized polished painted plated coated zinc galvanised galvanized matt matte gloss clear dark light bright long "
    "longer longest short shorter shortest small smaller smallest big bigger biggest large larger largest wide wider "
    "narrow thick thin heavy heavier strong stronger left right front rear upper lower inner outer top bottom "
    "straight angled bent male female metric imperial used old older schwarz weiss rot blau grun gelb grau silber "
    "verchromt edelstahl stahl messing kupfer lang langer kurz kurzer gross grosser klein kleiner links rechts vorn "
    "hinten noir blanc rouge bleu vert negro blanco rojo azul verde nero bianco rosso"
)
"""What tells one thing from another of its kind, wherever it stands on a row."""

NO_SALES: Final = words_of(
    "back free gratis loan loaned lend borrow borrowed rent hire trial test tests evaluation approval inspection "
    "repair repairs demo sample samples comparison information info discuss discussed decide decided announced follow "
    "pick picked picking pickup collect collects collecting collected abholen abholung abgeholt holt commission "
    "consignment spec appro inspect examine measure verify review umsonst kostenlos kommission leihweise muster probe "
    "reparatur"
)
"""What tells that a part is not simply bought."""

NUMBERED_PLACES: Final = words_of(
    "van car truck lorry bus vehicle machine "
    "bank cylinder workshop bay lift ramp gate branch depot desk dock site office warehouse filiale werkstatt halle"
)
"""What a number tells apart that stands behind it."""

OF_KINDS: Final = words_of("finish finishes colour colours color colors")
"""What is said beside a word that tells a part from its like."""

OF_ANOTHER: Final = words_of("for to fit fits on with of from fur zu zum zur pour para")
"""What stands between a thing and the part that it goes with: a bracket for a hose is no hose."""

PLACES: Final = words_of(
    "left right front rear upper lower inner outer top bottom middle both bank side cylinder driver passenger links "
    "rechts vorn hinten oben unten beide seite"
)
"""Where on an engine a part goes."""

AMENDING: Final = words_of(
    "actually wait rather make plus more spare spares extra another additional if update now better"
)
"""What makes a number on a row of its own one for the part above it."""

RECORDS: Final = words_of(
    "invoice invoices receipt receipts statement history ledger docket rechnung rechnungen quittung beleg facture "
    "factura fattura"
)
"""Papers that tell of what was bought."""

OF_ADDRESSES: Final = words_of(
    "address adresse to an no nr number terms date datum anschrift please bitte me us separately"
)
"""What says of such a paper where or how it is to be sent."""

ORDERING: Final = words_of(
    "need needs want wants send require requires supply ship deliver add put book order ahead proceed brauche brauchen "
    "benotigen bestellen"
)
"""What says of a sentence that it orders, whatever is told before it."""

LABELS: Final = words_of("part parts partno sku article artikel item art code product stock artnr teil")
"""What stands before a SKU and says that it is one."""

REFERENCES: Final = words_of(
    "order orders po invoice ref reference quote offer auftrag bestellung rechnung job project"
)
"""What may stand before a number that is no part."""

PIECES: Final = (
    "pieces|piece|pces|pcs|pce|pc|off|each|ea|units|unit|stueck|stuck|stck|stk|st|nos|pz|pezzi|uds|unidades|piezas|"
    "stuks|stuk|pezzo|pieza|unidad|ud|szt"
)

QUANTITY_NAMES: Final = (
    "quantity|quantities|qty|q'ty|qnty|qnt|menge|anzahl|qte|quantite|cantidad|quantita|aantal|antal|count"
)

FILLERS: Final = words_of(
    "of the x off only pcs pieces piece units unit more stk our your my new genuine original brand"
) | frozenset(QUANTITY_NAMES.split("|"))
"""What may stand between a quantity and its part."""

CURRENCIES: Final = "eur|euros|euro|usd|gbp|chf|sek|nok|dkk|pln|czk|jpy|aud|cad|nzd|inr|dollars|pounds|pence|quid"

MONTHS: Final = (
    "january|february|march|april|june|july|august|september|october|november|december|januar|februar|marz|maerz|mai|"
    "juni|juli|oktober|dezember|jan|feb|mar|apr|may|jun|jul|aug|sept|sep|oct|okt|nov|dec|dez"
)

UNITS: Final = (
    "mm|cm|metres|metre|meters|meter|m|inches|inch|in|kpa|mpa|bar|psi|ml|litres|litre|cl|l/h|lph|l|kw|hp|bhp|ps|"
    "nm|microns|micron|cc|degrees|deg|volts|volt|v|cylinders|cylinder|cyl|an|ft|feet"
)

OF_NO_SIZE: Final = "days|day|weeks|week|months|month|hours|hour|years|kg|g"
"""Units of what is no size of a part: how long it takes, what it weighs."""

DOUBTFUL: Final = DENIALS | REPORTS | QUESTIONS | NO_SALES | OTHER_NUMBERS | SETS | SUMS
"""What makes the row of a part doubtful, each by its own question."""
