"""What is said around an order and changes nothing of its parts: courtesies, haste, people, where it goes."""

from typing import Final

from service.reading import words
from service.reading.words import words_of

GREETINGS: Final = words_of(
    "hi hello hey dear hallo morning afternoon evening greetings moin servus bonjour hola ciao sehr thanks thank "
    "cheers regards best kind kindest sincerely yours faithfully grusse gruesse gruss mfg cordially warm wishes sent "
    "from danke merci bye gracias saludos salut hej hoi hiya howdy yo g'day good guten gruezi goedemorgen "
    "goedemiddag ta thx buongiorno bonsoir buenas buenos grazie saluti cordialement cordiali bedankt groeten liebe "
    "alright hei lieber caro cara cher chere beste geachte salve"
)
"""What a row begins with that greets or takes leave."""

HARMLESS: Final = words_of(
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
    "going make prepare buy purchase deliver delivery dispatch ship supply provide include forward reserve book enter "
    "process arrange organise organize kindly immediately promptly directly soonest earliest express overnight courier "
    "collection garage project job vehicle build engine good day morning afternoon evening herewith hereby purchase "
    "very yours simply"
)
"""What may stand on the row of a part and changes nothing of it."""

COURTESIES: Final = words_of(
    "aside further "
    "oh thx ta tia ty grateful gladly obliged account office workshops garages depot branch warehouse reception "
    "dringend eilig eilt schnell schnellstmoglich baldmoglichst moglichst umgehend sofort gern gerne hiermit mochte "
    "mochten hatte hatten ihnen uns mir mich bei zum zur sowie ausserdem zusatzlich liefern senden schicken zusenden "
    "werkstatt lager kunde kunden merci beaucoup urgence vous nous envoyer livrer aussi avec atelier gracias enviar "
    "pedir tambien grazie inviare anche officina graag sturen leveren ook werkplaats klant alstublieft aub client "
    "boss technician fitter mate mates guys folks friend site desk phone telephone mail tonight noon weekend shortly "
    "parcel post shipping net usual tks appreciate appreciated possible always much am im auf an als aus dem nachste "
    "nachster nachsten nachstes naechste naechsten lieferung sendung express spedition heute morgen ubermorgen woche "
    "noch nog voor normal een het dann schreib schreiben notiere notier kollege meister fahrer wird werden "
    "rechnung filiale before montag dienstag mittwoch donnerstag freitag "
    "samstag sonntag brauchte konnten konnte wurde wurden sie bis lg vg lieferschein sending aux des sur dans chez il "
    "tmrw tmr tomoz bestelling faut faudrait voudrais voudrions aimerais "
    "avons besoin livraison demain rapidement tot el los las necesito "
    "necesitamos quiero queremos manana hoy urgente entrega cliente gli da vorrei vorremmo ordinare domani oggi "
    "consegna favore het op bij aan wij willen zo snel mogelijk vandaag levering single firstly called phoned rang "
    "texted emailed allocate tue tues weds thu thur thurs fri additional vor carrier ah aha hm hmm postage reqd req "
    "req'd herr herrn frau hr fr firma fa messrs despatch against jeweils apiece abend absolutely abteilung "
    "additionally address ahead artikeln aufnehmen auftrag auftragsnummer azubi beilegen beipacken benotigt bestell "
    "bestelle bestellung bloss bookkeeper cash certainly chap chaps chefin chief cod dazu dealership definitely "
    "departments dept direkt duly ebenfalls ebenso einkauf erbitte erbitten ersatzteil ersatzteile fahrzeug fahrzeuge "
    "fast faster fastest favour ferner finally folgende folgenden folgender folgendes forthwith fortnight furthermore "
    "genau gent glad gleich grussen guy haste hence herzlich herzliche herzlichen him hinzufugen home hour hours hq "
    "ihr ihre ihrem ihren ihrer immediate kostenstelle kundenauftrag kundennummer lad lads lastly lediglich "
    "lehrling lieferadresse liefertermin likewise lunchtime mein meine meinem meinen meiner midday midnight minute "
    "mitarbeiter mitschicken mitsenden mittag moreover must nachmittag nacht neighbour ordern ourselves pop "
    "presently projekt pronto purchasing raus rausschicken rechnungsadresse reg rennen replenish replenishing request "
    "requesting requirement requirements restock restocking restoration sharpish stat stockroom straightaway surname "
    "teile teilen telephoned termin thereafter therefore today's tomorrow's tuner umbau unser unsere "
    "unserem unseren unserer urgency vorab voraus vormittag weiter weitere weiterhin werkstattauftrag because cos erm "
    "um note reason needing wanting within wunsch wunsche wunschen zudem zusammen "
)
"""What else is said out of politeness, of haste, or of where the order goes; it changes nothing of a part."""

LEAVING: Final = words_of("rgds brgds lg vg mfg thanks thank thx cheers regards gruss grusse danke merci")
"""What a name follows that signs."""

INTRODUCING: Final = words_of(
    "for to by via attn attention until ref reference fur pour para per delivery shipping note reason remark"
)
"""What leads on to whom, where or when: a word behind it that is of no part says nothing of the part."""

VEHICLES: Final = words_of("car cars van vans truck trucks lorry bike wagon vehicle coupe estate auto wagen")
"""What a word may describe that says nothing of a part: whom the part is for."""

FIRST_NAMES: Final = words_of(
    "ida ina ute hedda greta klaas piet joost maarten pieter willem sjoerd femke anneke lotte mieke adam adrian agnes "
    "agnieszka ahmed aisha albert alex alexander alfie alice amit amy ana anders andrea andreas andrew andy angela "
    "angus anil anita anja anke anna anne annika anthony antje anton antonio aoife archie arjun arthur astrid barbara "
    "barry beate becky ben benjamin bernd bert bethan bjorn bob boris brian britta bronwen callum carl carla carlos "
    "carmen caroline carys catherine charles charlie charlotte chloe chris christa christian christine claire claudia "
    "clive colin craig dagmar daniel daniela darren dave david debbie deborah deepak dennis derek detlef diana diego "
    "dieter dirk dmitri donald dora doris dylan edward egon elena eliza elizabeth elke ellen ellis emil emily emma "
    "eric erik erika ernst esther eva ewan fatima felix fergus fiona florian francesca francesco fred freya frieda "
    "fritz gabi gareth gary gavin gemma geoff george gerald gerd gisela giulia graham greg gudrun guenter gunter "
    "gunther hamish hannah hans harald harry hartmut hassan hauke heidi heike heiner heinz helen helga henrik henry "
    "herbert hildegard hiroshi holger howard hugo iain ian igor ilse ines ingrid irene irmgard isabel ivan james jan "
    "jana jane janet jason javier jean jenny jens jessica jim joachim joan joanna jochen joe johann johanna john "
    "jonas jonathan jorge jose joseph josh juan judith julia julian julie jurgen jutta kai karen karin karl kasia "
    "kate katharina kathy katja katrin keiran keith kelly ken kenji kenneth kerstin kevin kieran klara klaus kurt "
    "lars laura lena leon leonie liam linda lisa lorenzo lorraine louis louise luca lucas lucy luis lukas magnus maik "
    "malte mandy manfred manuel marco mareike marek margaret maria marie mario marion markus marta martin martina "
    "mary matthew matthias megan melanie michael michaela michel miguel mikael mike mohammed monika nadia natalie "
    "natasha neil niamh nicole nigel nils nina noah nora norbert ole olga oliver olivia ollie omar oscar otto owen "
    "pablo paolo patricia patrick paul paula pavel pawel pedro peter petr petra phil philip philippe pierre piotr "
    "priya rachel rahul rainer ralf ralph ravi rebecca renate rhys rita robert roberto roger roland ronny rory "
    "roswitha rudi ruth sabine sally sam samuel sandra sanjay sara sarah sean sebastian sharon shaun sigrid silke "
    "silvia simon simone siobhan sofia sonja sophie stefan stefanie stefano steffen stephen steve steven stuart "
    "suresh susan susanne sven svenja svetlana sylvia tanja ted teresa terry thomas thorsten tim tina tobias tom "
    "tomasz tommy tony tracy traudel trevor ulrich ulrike una ursula uwe valentina vera victor victoria vijay vincent "
    "walter wendy werner wolfgang yusuf yvonne"
)
"""Names of people, who order or for whom a part is; none that is a word for a thing besides."""

TITLES: Final = words_of("mr mrs ms miss dr hr fr herr herrn frau fa firma messrs attn monsieur madame senor signor")
"""What a name stands behind."""

OF_NAMES: Final = words_of("customer client kunde kundin kunden project projekt job account auftrag")
"""What a name may stand behind, and much else."""

JOBS: Final = words_of("job project account garage motors racing engineering motorsport projekt auftrag gmbh ltd")
"""What a name of or of a job stands before."""

COMING_FROM: Final = words_of("from with like as by than von mit wie de di")
"""What stands before the name of one who gives a part, or has one."""

EMPTY: Final = words_of("a an the of for to in on at by with and x")
"""Words without meaning of their own, which names share without being alike."""

OF_SENTENCES: Final = words_of("please we i you the and need want send order thanks")
"""Words of sentences, which name no column."""

EVERYDAY: Final = (
    HARMLESS
    | COURTESIES
    | words.OTHER_NUMBERS
    | words.DENIALS
    | words.REPORTS
    | words.QUESTIONS
    | words.NO_SALES
    | words.CALLED_OFF
)
"""What is said in any letter: nothing that is called so is meant for certain."""

AND: Final = words_of("and plus und et en y")
"""What joins the parts of a row."""

USUAL: Final = HARMLESS | COURTESIES | LEAVING | words.NUMBERS.keys() | AND | {"dozen", "pair"}
"""What may stand beside any part."""
