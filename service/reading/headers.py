"""What heads the columns of a table."""

from typing import Final

from service.reading.words import DENIALS, QUANTITY_NAMES, words_of

DENIED_HEADERS: Final = DENIALS - words_of("no off")
"""What makes a column of parts or of quantities one of what is not ordered."""

NOTE_HEADERS: Final = words_of(
    "note notes remark remarks comment comments bemerkung bemerkungen hinweis anmerkung info job for"
)
"""What heads a column in which anything may be said."""

QUANTITY_HEADERS: Final = frozenset(QUANTITY_NAMES.split("|")) | words_of(
    "pcs pieces stk stuck stueck units pc ea anz cant need needed wanted required "
    "requested reorder reordered ordered nachbestellt nachbestellung bedarf "
    "bestellt bestellmenge"
)

PART_HEADERS: Final = words_of(
    "sku part parts partno partnumber article artikel item items code product teil material pn p name description "
    "bezeichnung desc designation benennung artikelnummer artikelnr artnr reference ref bestellnr bestellnummer "
    "teilenr artno itemno stockno catno materialno "
    "teilenummer sachnummer codigo codice articulo articolo artikelbezeichnung beschreibung libelle "
    "descripcion descrizione omschrijving text"
)

OTHER_HEADERS: Final = words_of(
    "pos position line row nr no price total amount value sum preis netto date stock weight colour color finish "
    "note notes remark remarks comment customer currency eur usd gbp discount lead delivery each cost type variant "
    "version size surface grade"
)

POSITION_HEADERS: Final = words_of("pos position line row nr no lfd")
"""What heads a column that counts the rows."""

DELIVERY_HEADERS: Final = words_of(
    "shipped sent delivered done picked packed still come coming remaining received "
    "confirmed acknowledged open outstanding backordered backorder rest geliefert offen"
)
"""What heads a column that tells how far an order has come: such a table orders nothing for certain."""

NO_QUANTITY_HEADERS: Final = words_of(
    "price preis prix total amount value cost sum stock discount weight betrag shipped delivered min minimum max "
    "maximum hand shelf bin bestand lager lagerbestand available back free sent received per open point level"
)
"""What makes a column of numbers another thing than what is ordered."""

STOCK_HEADERS: Final = words_of("stock hand min minimum max maximum shelf bestand level lager lagerbestand")
"""What heads a column of what there is, or ought to be."""

PRICE_HEADERS: Final = words_of("price prices preis prix cost value amount total sum betrag weight stock")
"""What makes a column of packs one of something else, as of the price of one."""

KIND_HEADERS: Final = words_of("colour color finish type variant version size surface grade material farbe")
"""What heads a column of what tells parts from their like."""

DATE_HEADERS: Final = words_of("by date when due till until eta arrival datum termin")
"""What heads a column of the days by which something is needed."""

NUMBER_HEADERS: Final = words_of("no nr number num code ref")
OF_YOURS: Final = words_of("your yours supplier suppliers vendor maker manufacturer ihre lieferant hersteller")
"""What heads, with a word for numbers, a column of SKUs; "our" numbers are the customer's own."""

UNIT_PRICES: Final = words_of("each price preis prix")
"""What heads a column of prices of one, beside which an amount is a number of pieces."""

PACK_HEADERS: Final = words_of("pack packs packing package packsize packaging vpe ve gebinde inhalt contents box")
"""What heads a column that tells of how many pieces one is."""

UNIT_HEADERS: Final = words_of("unit uom um me einheit unite")
"""What heads such a column too, if it does not stand beside a word for quantities."""

PACK_UNITS: Final = words_of("dz doz dozen dutzend pr pair pairs paar c m hundred thousand")
"""Units of several pieces."""
