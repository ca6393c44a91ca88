"""Common words that cast doubt on a part wherever they stand on its row, by what they do to it."""

from typing import Final

from service.reading.words import words_of

OPEN: Final = words_of(
    # leaves open
    "attempt autumn chance chances decides deciding decision eventually fancy flirt future hope hopeful hopefully "
    "hopes hoping imagine intend intends intention lean likely luck lucky mind minds nod ought pencil plan planning "
    "plans season sign signs someday sometime sometimes spring summer temporarily theory toy tries try trying "
    "unlikely waits wish wishes "
    # conditions
    "after agree agrees allow allows although assume assuming blessing but condition conditions demand depend "
    "dependent deposit despite else event events guarantee however lets moment otherwise permission permit presumably "
    "promise promises providing signal subject supposing though upon whenever whereas wherever while word yet "
)
"""What leaves open whether or when an order comes."""

CASTING: Final = OPEN | words_of(
    # denies, cancels or suspends
    "abandon abort accident accidentally anymore axe ban barely basket besides bin blame block cease chuck dead "
    "decline delay dismiss ditch drawer dump enough erase false fault foolish forgive freeze halt hardly hesitate "
    "history holding ice joke joking keep keeps kidding kill leave lose mess needless nobody oppose pardon park pause "
    "recall reflection refuse regret regrets reject reluctant reverse rid save scarcely scrub shame spare stall stay "
    "stays stupid suspend till unfit until useless wipe "
    # gives back
    "bring brings absorb away bounce compensate gift grief hands money redeem swallow "
    # reports what was, or what there is
    "ago appear appears ate attic became become began begun belong belongs bend blew born broke brought built burn "
    "burns burst carries carry caught chose claim claims commonly competition contain contains crack cracks customary "
    "dealt display done draft drank dream dreams drip drive drives drove enemy example exercise exist exists fail "
    "fair fall falls feel feels fell felt fit fix flew forgot former formerly frequently froze gave generally given "
    "glow gone grew habit happen happens heat held hid hit holds hot hung hurt image includes initially install "
    "instructions jam kept knew known laid lately lay led lent lie lies lists lit live lives look looking looks loose "
    "made makes mean means melt melts met mount news noise noisy normally notice occasionally own owns page past "
    "photo photos picture pictures possess ran rarely rattle recently recipe regularly remain remains remember remind "
    "reminder rival rivals rode rose rub run running runs rust said sale saw say says script see seem seems seen sees "
    "seize seldom sell selling sells shook shot show showing shown shows shut since sit sits sleep slept smell smells "
    "smoke smokes snap snaps sold sound sounds speak spent split spoke spoken spread stand stands stick sticks stink "
    "stinks stocks stole stood story struck swam swears swore taken talk talks taste tastes taught thought threw "
    "thrown took tore twist typically understood use uses using usually video watch wear wears website weep went woke "
    "won wore written wrote "
    # asks
    "advice afford answer answers ask asking asks budget cheap cheaper checks clarify clue curious describe detail "
    "details difference expensive figures hear idea ideas knowing knows opinion photograph question questions reply "
    "reveal sense teach thoughts understand weigh weight worth "
    # hedges a quantity
    "among ample between beyond bit bits close counting extra figure heap load loads mainly mass masses mere merely "
    "mostly near nearby north odd over partly pile piles practically region rest rough safe scores shy slightly "
    "somewhat stack start sufficient tens ton tons tops under up virtually "
    # shares out
    "alike any corner corners daily divide end ends equally every everywhere head individual monthly share shares "
    "sharing side sides times weekly "
    # compares, or leaves a choice
    "alpha backup better brother choice choose class clone closest copies copy cousin darker deeper different duty "
    "edition equal equals even failing finer form forms grade grades harder higher hole holes hollow identical "
    "including junior kinds lighter match matches matching material mirror model models nearest opposite other others "
    "pattern pinch prefer preferably prefers quality relative second shade shape shapes sister size soft sorts stuff "
    "style such temporary than thicker thread tone twin types upside variety version versions weaker whoever worse "
    "worst "
)
"""No word of `words.DOUBTFUL`, which ask a question of their own; no past that ends in "ed", which is known by that."""
