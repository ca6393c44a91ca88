"""Words that orders are written in, besides those of the catalog. All are folded as `folding.folded` folds."""

from typing import Final


def _set(text: str) -> frozenset[str]:
    return frozenset(text.split())


MOST_QTY: Final = 1_000
"""What is above is asked back."""

NUMBERS: Final = {
    word: number
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
}
"""The number words that count; whoever writes others is asked."""

OTHER_NUMBERS: Final = _set(
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
) - _set("to second")

SETS: Final = _set(
    "set sets kit kits pack packs packet packets box boxes bag bags carton cartons case cases roll rolls pallet "
    "pallets satz satze paket pakete packung packungen schachtel schachteln beutel kiste kisten karton kartons rolle "
    "rollen lot lots boite boites paquet paquets sachet sachets caja cajas reel reels tray trays tube tubes"
)
"""What may hold more than one piece."""

DENIALS: Final = _set(
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
    "cancelar eliminar devolver annullare togliere annuleren verwijderen annullera"
)
"""What takes a part off an order, or sends one back."""

CALLED_OFF: Final = _set(
    "cancel cancels cancelled canceled cancellation ignore forget disregard scrap void withdraw revoke storno "
    "stornieren storniere storniert annuler annulez annulla cancelar"
)
"""What calls off a whole order."""

REPORTS: Final = _set(
    "sent shipped received arrived delivered got gotten came ordered bought purchased fitted installed used had has "
    "have having be was were been is are am already last previous previously earlier again yesterday invoiced billed "
    "charged paid supplied did does do quoted mentioned promised confirmed backordered outstanding originally hand "
    "backorder backorders confirmation packing attached existing problem problems issue issues complaint complain "
    "bereits erhalten bekommen verbaut eingebaut vorhanden recu recus recibido "
    "warranty works worked working fits fitting fails failed"
) - _set("fitting")
"""What tells of a part and orders none."""

QUESTIONS: Final = _set(
    "if whether maybe perhaps possibly probably might may either or which what who when where why how whose unsure "
    "think thinking guess believe suppose wonder wondering available availability stock stocked price prices pricing "
    "priced cost costs costing quote quotation offer estimate compare comparing versus vs compatible compatibility "
    "suitable suit similar equivalent alternative alternatively like roughly approximately approx about around circa "
    "ca nearly almost least most maximum minimum max min unless per depending depends optional option options oder "
    "und/oder vielleicht eventuell etwa ungefahr ditto same minimum should recommend recommended advise tell know "
    "explain interested considering consider check lead eta anything something someone sort kind type tbd tba tbc "
    "pending open"
)
"""What asks, or leaves open."""

LEAVING_OPEN: Final = _set(
    "available availability stock price prices cost quote quotation maybe perhaps possibly optional optionally option "
    "options alternative alternatives alternatively either unsure depending vielleicht eventuell optionen"
)
"""What a heading asks or leaves open with of all rows below it."""

HEADS: Final = _set("subject betreff objet re fw fwd aw wg")
"""What a row begins with that is the head of an e-mail, which says again what its rows say."""

SUMS: Final = _set(
    "total totals subtotal sum vat amount balance payment discount summe gesamt netto brutto mwst zwischensumme"
)
"""What makes a part on its row doubtful: a sum over it."""

GREETINGS: Final = _set(
    "hi hello hey dear hallo morning afternoon evening greetings moin servus bonjour hola ciao sehr thanks thank "
    "cheers regards best kind kindest sincerely yours faithfully grusse gruesse gruss mfg cordially warm wishes sent "
    "from danke merci bye gracias saludos salut hej hoi hiya howdy yo g'day good guten gruezi goedemorgen "
    "goedemiddag buongiorno bonsoir buenas buenos grazie saluti cordialement cordiali bedankt groeten"
)
"""What a row begins with that greets or takes leave."""

NO_PARTS: Final = _set(
    "total totals subtotal sum vat tax taxes shipping freight postage carriage delivery discount balance amount "
    "payment invoice iban bic swift tel telephone phone mobile mob fax email mail web www http https street road "
    "avenue lane drive court suite floor unit building strasse str platz weg allee postcode zip city ltd limited gmbh "
    "inc llc plc corp company co hill page room year exit motorway subject date attn attention cc bcc re fw fwd "
    "bestellung auftrag rechnung lieferung versand summe gesamt netto brutto mwst zwischensumme"
)
"""What stands on rows of totals, addresses and signatures."""

HARMLESS: Final = _set(
    "a an the this that these those of for to in on at by with and plus also as well please pls plz kindly need needs "
    "needed want wants wanted order orders ordering send require requires required would d like'd get give us me i we "
    "you my our your his her their it its they them he she let will shall can could take add another more one's x pcs "
    "pc pce pces pieces piece off ea each units unit nos qty quantity part parts item items sku article art code "
    "number ref pos position asap urgent urgently today tomorrow soon now quick quickly new brand genuine original "
    "too then next so just only exactly total thanks thank regards cheers best hi hello hey dear from here there "
    "following below above list ok okay yes ja ye und et y e bitte bestellen brauche brauchen benotige benotigen wir "
    "ich je stk stuck stueck stck st menge anzahl fur mit von der die das den s veuillez svp pour de la le les por "
    "favor para per del customer car truck van workshop shop team monday tuesday wednesday thursday friday saturday "
    "sunday week month mr mrs ms sir madam all both name description product teil artikel nr lfd bullet place put go "
    "going make buy purchase deliver delivery dispatch ship supply provide include forward reserve book enter process "
    "arrange organise organize kindly immediately promptly directly soonest earliest express overnight courier "
    "collection garage project job vehicle build engine good day morning afternoon evening herewith hereby purchase "
    "very yours simply"
)
"""What may stand on the row of a part and changes nothing of it."""

COURTESIES: Final = _set(
    "oh thx ta tia ty grateful gladly obliged account office workshops garages depot branch warehouse reception "
    "dringend eilig eilt schnell schnellstmoglich baldmoglichst moglichst umgehend sofort gern gerne hiermit mochte "
    "mochten hatte hatten ihnen uns mir mich bei zum zur sowie ausserdem zusatzlich liefern senden schicken zusenden "
    "werkstatt lager kunde kunden merci beaucoup urgence vous nous envoyer livrer commander aussi avec atelier "
    "gracias enviar pedir tambien taller grazie inviare anche officina graag sturen leveren ook werkplaats klant "
    "alstublieft aub customers client clients boss mechanic mechanics technician fitter driver colleague mate mates "
    "guys folks friend lift ramp site desk phone telephone mail tonight noon weekend shortly convenience parcel post "
    "shipping net usual tks cool great perfect lovely brilliant appreciate appreciated possible always much am im auf "
    "an als aus dem nachste nachster nachsten nachstes naechste naechsten lieferung sendung express spedition heute "
    "morgen ubermorgen woche noch kollege meister fahrer wird werden rechnung filiale before montag dienstag mittwoch "
    "donnerstag freitag samstag sonntag brauchte konnten konnte wurde wurden sie bis lg vg lieferschein terrific fine "
    "super sending au aux du des sur dans chez il faut faudrait voudrais voudrions aimerais avons besoin livraison "
    "demain rapidement tot con al el los las necesito necesitamos quiero queremos manana hoy urgente entrega cliente "
    "lo gli di da vorrei vorremmo ordinare domani oggi consegna favore het op bij aan te wij willen zo snel mogelijk "
    "vandaag levering"
)
"""What else is said out of politeness, of haste, or of where the order goes; it changes nothing of a part."""

LEAVING: Final = _set("lg vg mfg thanks thank thx cheers regards gruss grusse danke merci")
"""What a name follows that signs."""

INTRODUCING: Final = _set("for to by via attn attention until ref reference fur pour para per")
"""What leads on to whom, where or when: a word behind it that is of no part says nothing of the part."""

DESCRIBING: Final = _set(
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

VEHICLES: Final = _set("car cars van vans truck trucks lorry bike wagon vehicle coupe estate auto wagen")
"""What a word may describe that says nothing of a part: whom the part is for."""

NO_SALES: Final = _set(
    "back free gratis loan loaned lend borrow borrowed rent hire trial test tests evaluation approval inspection "
    "repair repairs demo sample samples comparison information info discuss discussed decide decided announced follow "
    "pick picked picking pickup collect collects collecting collected abholen abholung abgeholt holt commission "
    "consignment umsonst kostenlos kommission leihweise muster probe reparatur"
)
"""What tells that a part is not simply bought."""

FIRST_NAMES: Final = _set(
    "adam adrian agnes albert alex alexander alice amy ana andrea andreas andrew andy angela anita anja anke anna "
    "anne anthony antonio arthur barbara beate ben benjamin bernd bert bob brian carl carla carlos carmen caroline "
    "catherine charles charlotte chris christa christian christine claire claudia colin daniel daniela dave david "
    "deborah dennis derek diana diego dieter dirk donald dora doris edward elena eliza elizabeth ellen emil emily "
    "emma eric erik erika ernst esther eva fatima felix fiona florian francesca francesco fred frieda fritz gabi "
    "gareth gary geoff george gerald gerd gisela giulia greg guenter gunter hannah hans harald harry heidi heike "
    "helen helga henry herbert holger howard hugo ian ines ingrid irene isabel ivan james jan jane janet jason javier "
    "jean jenny jens jessica jim joachim joan joanna joe johann johanna john jonas jonathan jorge jose joseph josh "
    "juan judith julia julian julie karen karin karl kate katharina kathy katja keith ken kenneth kerstin kevin klara "
    "klaus kurt lars laura leon linda lisa lorenzo louis louise luca lucas lucy luis lukas manfred manuel marco "
    "margaret maria marie mario markus marta martin martina mary matthew matthias megan melanie michael michaela "
    "michel miguel mike monika nadia natalie neil nicole nigel nina nora norbert oliver olivia otto pablo paolo "
    "patricia patrick paul paula pedro peter petra phil philip philippe pierre rachel rainer ralf ralph rebecca "
    "renate rita robert roberto roger roland ruth sabine sally sam samuel sandra sara sarah sean sebastian silvia "
    "simon simone sofia sonja sophie stefan stefanie stefano stephen steve steven stuart susan susanne sven sylvia "
    "tanja ted teresa thomas thorsten tim tina tobias tom tommy tony ulrich ulrike ursula uwe valentina vera victor "
    "victoria vincent walter wendy werner wolfgang yvonne"
)
"""Names of people, who order or for whom a part is; none that is a word for a thing besides."""

COMING_FROM: Final = _set("from with like as by than von mit wie de di")
"""What stands before the name of one who gives a part, or has one."""

NUMBERED_PLACES: Final = _set(
    "bank cylinder workshop bay lift ramp gate branch depot desk dock site office warehouse filiale werkstatt halle"
)
"""What a number tells apart that stands behind it."""

OF_KINDS: Final = _set("finish finishes colour colours color colors")
"""What is said beside a word that tells a part from its like."""

OF_ANOTHER: Final = _set("for to fit fits on with of from fur zu zum zur pour para")
"""What stands between a thing and the part that it goes with: a bracket for a hose is no hose."""

CONTACTING: Final = _set("call ring phone contact know tell email mail message advise anrufen melden bescheid")
"""What asks to be told of something: nothing is taken off an order by that."""

PLACES: Final = _set(
    "left right front rear upper lower inner outer top bottom middle both bank side cylinder driver passenger links "
    "rechts vorn hinten oben unten beide seite"
)
"""Where on an engine a part goes."""

AMENDING: Final = _set(
    "actually wait rather make plus more spare spares extra another additional if or update now better"
)
"""What makes a number on a row of its own one for the part above it."""

EMPTY: Final = _set("a an the of for to in on at by with and x")
"""Words without meaning of their own, which names share without being alike."""

ORDERING: Final = _set(
    "need needs want send require supply ship deliver add put book order ahead proceed brauche brauchen benotigen "
    "bestellen"
)
"""What says of a sentence that it orders, whatever is told before it."""

OF_SENTENCES: Final = _set("please we i you the and need want send order thanks")
"""Words of sentences, which name no column."""

LABELS: Final = _set("part parts partno sku article artikel item art code product stock artnr teil")
"""What stands before a SKU and says that it is one."""

REFERENCES: Final = _set("order orders po invoice ref reference quote offer auftrag bestellung rechnung job project")
"""What may stand before a number that is no part."""

PIECES: Final = (
    "pieces|piece|pces|pcs|pce|pc|off|each|ea|units|unit|stueck|stuck|stck|stk|st|nos|pz|pezzi|uds|unidades|piezas|"
    "stuks|szt"
)
QUANTITY_NAMES: Final = (
    "quantity|quantities|qty|q'ty|qnty|qnt|menge|anzahl|qte|quantite|cantidad|quantita|aantal|antal|count"
)
FILLERS: Final = _set(
    "of the x off pcs pieces piece units unit more stk our your my new genuine original brand"
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

DENIED_HEADERS: Final = DENIALS - _set("no off")
"""What makes a column of parts or of quantities one of what is not ordered."""

NOTE_HEADERS: Final = _set("note notes remark remarks comment comments bemerkung bemerkungen hinweis anmerkung")
"""What heads a column in which anything may be said."""

QUANTITY_HEADERS: Final = frozenset(QUANTITY_NAMES.split("|")) | _set(
    "pcs pieces stk stuck stueck units pc ea anz cant needed required ordered bestellt"
)
FOREIGN_HEADERS: Final = _set(
    "bezeichnung artikelbezeichnung benennung beschreibung designation libelle descripcion descrizione omschrijving"
)
"""What heads a column of descriptions that are not in English."""

PART_HEADERS: Final = FOREIGN_HEADERS | _set(
    "sku part parts partno partnumber article artikel item items code product teil material pn p name description "
    "bezeichnung desc designation benennung artikelnummer artikelnr artnr reference ref bestellnr bestellnummer "
    "teilenr teilenummer sachnummer codigo codice articulo articolo"
)
OTHER_HEADERS: Final = _set(
    "pos position line row nr no price unit total amount value sum preis netto date stock weight colour color finish "
    "note notes remark remarks comment customer currency eur usd gbp discount lead delivery each cost"
)

DELIVERY_HEADERS: Final = _set("shipped delivered received open outstanding backordered rest geliefert offen")
"""What heads a column that tells how far an order has come: such a table orders nothing for certain."""

NO_QUANTITY_HEADERS: Final = _set(
    "price preis prix total amount value cost sum stock discount weight betrag shipped delivered min minimum max "
    "maximum pack available back free sent received per open"
)
"""What makes a column of numbers another thing than what is ordered."""

EVERYDAY: Final = HARMLESS | COURTESIES | OTHER_NUMBERS | DENIALS | REPORTS | QUESTIONS | NO_SALES | CALLED_OFF
"""What is said in any letter: nothing that is called so is meant for certain."""
