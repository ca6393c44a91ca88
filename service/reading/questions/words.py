"""The words of the trade in a question: what is asked for, where it is, what denies it, what says nothing."""

from typing import Final

from service.reading import courtesies, words


def set_of(text: str) -> frozenset[str]:
    """The words of a text."""
    return frozenset(text.split())


def phrases_of(text: str) -> tuple[str, ...]:
    """The phrases of a text, parted by commas."""
    return tuple(phrase.strip() for phrase in text.split(","))


DENIALS: Final = set_of(
    "no not without none never neither nor don't dont doesn't doesnt won't wont isn't isnt can't cant cannot "
    "aren't needn't neednt mustn't shouldn't wouldn't didn't haven't hasn't ain't ohne kein keine keinen nicht "
    "minus skip omit avoid except excluding forget nix nope unless replace replacing replaces remove removing "
    "removed delete deleting deleted ditch bypass scrap drop dropping cancel lose rid sans"
)
DENIED_BEHIND: Final = set_of(
    "no not none never isn't isnt aren't don't dont doesn't unnecessary unneeded unwanted omitted nope nein "
    "superfluous removed deleted gone sold dropped scrapped blanked"
)
"""What denies a thing that stands before it."""
NEEDED: Final = set_of(
    "thanks thank needed required wanted necessary there fitted desired available present used wished for please at"
)
DOUBTS: Final = set_of(
    "maybe perhaps possibly probably might whether unsure undecided considering wondering if otherwise "
    "alternatively optional optionally vielleicht eventuell suppose guess thinks believes reckons assumes"
)
"""What makes all of its clause doubtful."""
LIGHT: Final = set_of(
    "a an the any of to for with my our his her your their its it i we you he she they this that these those want "
    "wants wanting need needs needing needed have has having use using fit fitting put mount install like would do "
    "does did be is are was am should shall will can could get getting take require run running there in on at from "
    "more other touch touching bother kind further another sort own separate extra additional new real pressure fuel "
    "hose hoses line lines size is's plain simple single second been as so much actually really even ever ein eine "
    "einen der die das den mit just possible kit somewhere anywhere"
)
"""What may stand between a denial and what it denies."""
YES: Final = set_of("yes yep yeah sure definitely please ja absolutely certainly ok okay")
JOINS: Final = set_of("and & plus + und")
BREAKS: Final = set_of("but instead with just rather however though aber sondern only yet except then")
"""What ends the reach of a denial."""

LEFT: Final = set_of("left lefthand left-hand links linke linken lhs")
RIGHT: Final = set_of("right righthand right-hand rechts rechte rechten rhs")
CENTRE: Final = set_of("centre center middle mid central centrally mitte mittig centred centered")
TOP: Final = set_of("top oben upper topside")
SIDE: Final = set_of("side sides end ends seite ende sideways")
PLACES: Final = {
    **dict.fromkeys(LEFT, "left"),
    **dict.fromkeys(RIGHT, "right"),
    **dict.fromkeys(CENTRE, "centre"),
    **dict.fromkeys(TOP, "top"),
}
GAUGES: Final = set_of("gaugeless gauge gauges gauge's guage guages gague gagues gage manometer manometers manometre")
OTHER_GAUGES: Final = set_of(
    "boost oil water temperature temp level vacuum tyre tire rev afr lambda speed feeler no-go plug"
)
"""What makes a gauge another one than that of the rail."""
ROOM: Final = set_of("room space clearance clearances gap headroom freiraum platz room's space's")
"""What says that a length is room at a spot."""
ROOM_MAYBE: Final = set_of(
    "free tight fits fit spare left-over obstructed clear hits touches fouls proud stick sticks standout"
)
ACROSS: Final = set_of("across wide wider width diameter breit sideways around dia broad thick thicker")
AXIAL: Final = set_of("axial axially lengthwise along deep depth long longer length high height tall inline proud")
FEEDS: Final = set_of("feed feeds fed feeding supply supplies supplied inlet entry vorlauf in-feed incoming")
RETURNS: Final = set_of("return returns returning rucklauf ruecklauf returned recirculating recirculation recirculated")
HOSES: Final = set_of(
    "hose hoses line lines pipe pipes tube tubes tubing schlauch schlauche schlaeuche leitung hosing bore"
)
LENGTHS: Final = set_of("long length longer")
LINKS: Final = set_of("link links linked linking crossover cross-over jumper bridge bridged connected joined")
FACTORY: Final = set_of("factory oem original works std standard stock series serial manufacturer's car's oe serien")
BULKHEAD: Final = set_of("bulkhead bulkhead's firewall")
REGULATORS: Final = set_of("regulator regulators regulator's fpr reg reg's druckregler regler")
REMOTE: Final = set_of("tank remote away separate external elsewhere off remotely apart separately")
BOOSTS: Final = set_of("boost boosted boosting ladedruck overboost")
BLOWN: Final = set_of(
    "turbo turbos turbo's turbocharger turbochargers turbocharged turbo'd turbod turboed turbine supercharger "
    "superchargers supercharged blower blowers blown compressor kompressor charger twin-turbo biturbo twincharged"
)
"""Equipment that gives boost, by its kind."""
PETROLS: Final = set_of("petrol gasoline benzin unleaded petroleum mogas bleifrei")
FUELS_TOLD: Final = set_of("fuel pump regular grade octane ron normal plain ordinary unleaded standard")
"""What may stand in the name of a petrol beside the word for petrol."""
FUELS_ASKED: Final = set_of(
    "diesel derv lpg cng autogas kerosene paraffin avgas hydrogen biofuel biodiesel ethanol methanol alcohol "
    "bioethanol flex flex-fuel flexfuel super premium gas hvo nitro nitromethane superplus"
)
"""Fuels that are asked for where no fuel of the catalog is called so."""
STOCK: Final = set_of("stock std standard factory original oem serie series stockish unmodified untuned serienmassig")
OUTPUT: Final = set_of("power output tune engine motor hp horsepower performance leistung internals form trim state")
COLOURS: Final = set_of(
    "black white red blue green yellow orange purple pink gold golden silver grey gray brown bronze chrome "
    "chromed polished raw brushed matt matte gloss anodised anodized titanium gunmetal nickel brass copper "
    "schwarz rot blau satin graphite natural clear plain-finish carbon"
)
FINISH_OF: Final = set_of(
    "rail rails finish finished part parts fitting fittings kit set everything all anodising anodizing hardware "
    "bits surface oberflache coating coated adapters adapter plugs"
)
"""What has a finish."""
OF_CAR: Final = set_of(
    "metallic pearl car car's colour color paint painted paintwork body bodywork van truck wagon roof auto "
    "lackierung sprayed coloured colored wrapped vehicle wheels interior coat coat's lacquer"
)
BUDGETS: Final = set_of("budget budgets spend spending afford limit cap capped allowance ceiling")
PRICED: Final = set_of(
    "paid pay costs cost price priced bought saw seen offered offer quoted quote elsewhere sold sell worth "
    "deposit invoice shipping postage found cheaper asks asking charged"
)
"""What tells a price that is no budget."""
HAVE_BEHIND: Final = set_of(
    "already here there fitted lying lies lie installed mounted drawer bench shelf hand owned spare left"
)
OTHERS_MAKE: Final = set_of(
    "another someone somebody else's elses else other foreign aftermarket third-party thirdparty different rival "
    "competitor's competitors competitor non-original noname"
)
MAKERS: Final = set_of(
    "maker maker's make makes brand brand's brands manufacturer manufacturer's company supplier supplier's firm vendor"
)
RAILS: Final = set_of("rail rails rail's")
KEEPS: Final = set_of("keep keeps keeping reuse re-use reusing retain use")
KINDS: Final = {
    **dict.fromkeys(set_of("gauge gauges manometer"), "gauge"),
    **dict.fromkeys(set_of("regulator regulators fpr"), "regulator"),
    **dict.fromkeys(set_of("fitting fittings adapter adapters adaptor adaptors spigot spigots"), "fitting"),
    **dict.fromkeys(set_of("plug plugs"), "plug"),
}
"""Kinds of parts by what they are called, for parts that somebody has."""
BODIES: Final = set_of(
    "wagon van sport coupe estate pick-up pickup mid-engine saloon sedan cabrio convertible roadster hatchback "
    "truck kombi touring tourer suv limousine low-speed gt"
)
"""What tells cars of one name apart, and names none alone."""
SAYS_NOTHING: Final = (
    courtesies.HARMLESS
    | words.QUESTIONS
    | words.REPORTS
    | courtesies.GREETINGS
    | courtesies.EMPTY
    | words.AMENDING
    | DENIALS
    | DOUBTS
    | set_of(
        "finish run runs running drive drives driving wish fuel rail rails set-up setup system car's wanting looking "
        "look makes making made gets gives work love use using fit keep keeps goes come comes into onto through over "
        "it's that's there's i'd i'm we'd we'll i'll he'd here's motor power done oh um er uh right really much many "
        "let's customer's client client's guys mate folks colleague gruße freundliche tag question ask asking bill "
        "bills stuff thing things bit say says said tells talk talking nothing everything friend friend's mine hers "
        "ours theirs own self myself street road track race racing weekend but currently tuned tuning maps mapped map "
        "mapping registered registration plate km miles mileage years year old model called call phone tel mobile "
        "names dr tom happy nice great fine sure yeah yep sorry instead planning plan plans hoping hope aiming aim "
        "target some lot lots because since while whom till until before after weeks days months fuer ein eine dem im "
        "auf zu zum zur suche haben hat out t m ve re ll don won isn possible needing regarding concerning feels "
        "layout less set up i've we've you've w o suggest"
    )
) - set_of("gauge hose line return returns returned returning size left")
"""What is not told of as unread: politeness, and words that change no field."""
ABSENT: Final = (
    *(
        f"{denial} {place} {whose} {what}"
        for denial in ("not", "isn't", "never")
        for place in ("in", "on")
        for whose in ("your", "the", "our")
        for what in ("list", "catalog", "catalogue", "range")
    ),
    *phrases_of(
        "isn't listed, not listed, don't list, don't have it listed, can't find it, cannot find it, can't find my car, "
        "none of yours, none of those, not one of yours, not one of those, don't have my car, don't see my car"
    ),
)
"""What says that the catalog does not have the car."""
_TEENS = "thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
NUMBERS: Final = {
    **words.NUMBERS,
    "zero": 0,
    **{word: 13 + place for place, word in enumerate(_TEENS.split())},
    **{word: 20 + 10 * place for place, word in enumerate(_TENS.split())},
}
