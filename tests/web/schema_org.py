"""What schema.org says of the terms that an item is told in: which types may have a property, and what it may be.

Source: the published vocabulary, https://schema.org/docs/developers.html, with the pending terms `gtin` and
`countryOfOrigin`: `domainIncludes` and `rangeIncludes`, the types above a type, the members of ItemAvailability. Only
what is used is kept.
"""

ABOVE = {
    "Product": "Thing",
    "Vehicle": "Product",
    "Offer": "Intangible",
    "Organization": "Thing",
    "Country": "AdministrativeArea",
    "AdministrativeArea": "Place",
    "Place": "Thing",
    "QuantitativeValue": "StructuredValue",
    "UnitPriceSpecification": "PriceSpecification",
    "PriceSpecification": "StructuredValue",
    "StructuredValue": "Intangible",
    "Intangible": "Thing",
}
PROPERTIES: dict[str, tuple[set[str], set[str]]] = {
    "name": ({"Thing"}, {"Text"}),
    "url": ({"Thing"}, {"URL"}),
    "image": ({"Thing"}, {"ImageObject", "URL"}),
    "identifier": ({"Thing"}, {"PropertyValue", "Text", "URL"}),
    "sku": ({"Demand", "Offer", "Product"}, {"Text"}),
    "gtin": ({"Demand", "Offer", "Product"}, {"Text", "URL"}),
    "mpn": ({"Demand", "Offer", "Product"}, {"Text"}),
    "category": ({"Invoice", "Offer", "Product", "Service"}, {"Text", "Thing", "URL"}),
    "countryOfOrigin": ({"CreativeWork", "Product"}, {"Country"}),
    "inProductGroupWithID": ({"Product"}, {"Text"}),
    "isAccessoryOrSparePartFor": ({"Product"}, {"Product"}),
    "weight": ({"OfferShippingDetails", "Person", "Product"}, {"Mass", "QuantitativeValue"}),
    "offers": ({"CreativeWork", "Event", "Product", "Service", "Trip"}, {"Demand", "Offer"}),
    "price": ({"DonateAction", "Offer", "PriceSpecification", "TradeAction"}, {"Number", "Text"}),
    "priceCurrency": ({"DonateAction", "Offer", "PriceSpecification", "TradeAction"}, {"Text"}),
    "priceSpecification": ({"Demand", "DonateAction", "Offer", "TradeAction"}, {"PriceSpecification"}),
    "availability": ({"Demand", "Offer"}, {"ItemAvailability"}),
    "inventoryLevel": ({"Demand", "Offer", "SomeProducts"}, {"QuantitativeValue"}),
    "seller": ({"BuyAction", "Demand", "Flight", "Offer", "Order"}, {"Organization", "Person"}),
    "valueAddedTaxIncluded": ({"PriceSpecification"}, {"Boolean"}),
    "value": (
        {"MonetaryAmount", "PropertyValue", "QuantitativeValue"},
        {"Boolean", "Number", "StructuredValue", "Text"},
    ),
    "unitCode": ({"PropertyValue", "QuantitativeValue", "UnitPriceSpecification"}, {"Text", "URL"}),
}
"""By property: the types that may have it, and the types of its values."""
AVAILABILITY = {"https://schema.org/InStock", "https://schema.org/BackOrder", "https://schema.org/Discontinued"}
